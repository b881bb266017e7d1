/**
 * A step that nobody has told: is it the fan, or the compressor? What is known of each is stated as a
 * distribution, and the ratio of the two likelihoods of what was seen is what is believed.
 *
 * - *How sudden.* A fan has another speed in seconds; what is seen of it is the coil and the probe coming
 *   after. A compressor takes a minute or several.
 * - *The room.* With another output of the compressor the return moves on at another pace; with another
 *   fan speed the output is what it was, and the return goes on as before.
 * - *The coil* (cooling, wet): less air is dried further. At a constant flow the part of the air that the
 *   coil brings to its own state (the contact factor) is constant, so supply temperature and moisture go
 *   together; its transfer units are as flow^−0.4, since heat transfer is as flow^0.6 (the law of
 *   turbulent flow across tubes and fins, from textbooks, from memory).
 */
import { saturationHumidityRatio } from '../../measure/moist-air.ts';
import type { FanStep, Level, Slope } from './fan-step.ts';

/** Common practice, no source, as all that follows: a fifth to four fifths of the change, s, and ln of its scatter. */
const FAN_TAKES = { s: 35, scatter: 0.5 };
const COMPRESSOR_TAKES = { s: 120, scatter: 0.8 };
/** So many compressors are as quick as a fan. */
const QUICK = 0.35;
/** How much the pace of a return wanders by itself, K/s. */
const WANDERS = 0.03 / 60;
/** Heat capacity of the air and what stands in a room that one head serves, J/K, and ln of its scatter. */
const ROOM = { jk: 500_000, scatter: 0.7 };
/** Seven equal parts of a normal distribution, by their middles. */
const SEVENTHS = [-1.465, -0.792, -0.366, 0, 0.366, 0.792, 1.465];
/** How far the supply's relative humidity is off what a coil does, as a part of saturation. */
const HUMIDITY_OFF = 0.015;
/** A coil is wet that takes out so much, kg/kg. */
const WET = 0.0005;
/** Nearer to saturation than this a probe's humidity tells nothing. */
const NEAR_SATURATION = 0.98;
const TRANSFER = 0.4;
/** No single clue is worth more than this: each rests on assumptions. */
const MOST = 3;

/**
 * ln of how much better a fan explains a step than a compressor.
 * @param sensibleW by how much the sensible figure has changed, W: what the room would get
 * @param since how fast the return has moved since the step
 */
export function fanRatherThanCompressor(
  step: FanStep,
  sensibleW: number,
  since: Slope,
  heating: boolean,
  pressurePa: number,
): number {
  const returnSlope = since.kS - step.slope.kS;
  const u = Math.hypot(WANDERS, since.u, step.slope.u);
  const clues = [
    sudden(step.tookS),
    room(returnSlope, u, heating ? sensibleW : -sensibleW),
    heating ? 0 : coil(step.before, step.after, pressurePa),
  ];
  return clues.reduce((sum, clue) => sum + Math.min(Math.max(clue, -MOST), MOST), 0);
}

function sudden(tookS: number): number {
  const like = ({ s, scatter }: typeof FAN_TAKES): number =>
    Math.exp(-((Math.log(tookS / s) / scatter) ** 2) / 2) / scatter;
  const fan = like(FAN_TAKES);
  return Math.log(fan / (QUICK * fan + (1 - QUICK) * like(COMPRESSOR_TAKES)));
}

/** A return that goes on as before, against one that goes on as `heatW` more into its room make it. */
function room(slope: number, u: number, heatW: number): number {
  let likely = 0;
  for (const z of SEVENTHS) {
    const expected = heatW / (ROOM.jk * Math.exp(ROOM.scatter * z));
    likely += Math.exp(-(((slope - expected) / u) ** 2) / 2) / SEVENTHS.length;
  }
  return -((slope / u) ** 2) / 2 - Math.log(Math.max(likely, 1e-9));
}

/** Supply moisture as a coil in less (more) air leaves it, against that of a colder (warmer) coil. */
function coil(before: Level, after: Level, pressurePa: number): number {
  const saturated = saturationHumidityRatio(after.supplyC, pressurePa);
  const wet = before.returnW - before.supplyW > WET && after.returnW - after.supplyW > WET;
  if (!wet || !(after.supplyW < NEAR_SATURATION * saturated)) return 0;
  const factor = contactFactor(before, pressurePa);
  if (factor === null) return 0;
  const flow = before.heatJkg / after.heatJkg;
  const otherFactor = 1 - (1 - factor) ** (flow ** -TRANSFER);
  const off = (contact: number): number =>
    (after.supplyW - moistureAfter(after, contact, pressurePa)) / (HUMIDITY_OFF * saturated);
  return (off(factor) ** 2 - off(otherFactor) ** 2) / 2;
}

/** The line from return through supply meets saturation where the coil is; null where it does not. */
function contactFactor({ returnC, returnW, supplyC, supplyW }: Level, pPa: number): number | null {
  const above = (s: number): number =>
    returnW +
    s * (supplyW - returnW) -
    saturationHumidityRatio(returnC + s * (supplyC - returnC), pPa);
  let low = 1;
  let high = 1;
  while (above(high) < 0) {
    low = high;
    high += 0.1;
    if (high > 2) return null;
  }
  for (let i = 0; i < 12; i++) {
    const middle = (low + high) / 2;
    if (above(middle) < 0) low = middle;
    else high = middle;
  }
  return 1 / high;
}

/** Humidity ratio of the supply with which the air of that temperature leaves such a coil. */
function moistureAfter({ returnC, returnW, supplyC }: Level, contact: number, pPa: number): number {
  const coilC = returnC - (returnC - supplyC) / contact;
  return returnW - contact * Math.max(returnW - saturationHumidityRatio(coilC, pPa), 0);
}
