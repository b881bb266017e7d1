/**
 * What is doubtful about moisture: readings at the ends of the scale, probes that are wet, and moisture
 * that a heating coil cannot have made.
 */
import { REAL_AIR } from '../measure/air-model.ts';
import type { Capacity } from '../measure/capacity.ts';
import type { CapacityUncertainty } from '../measure/uncertainty.ts';
import type { Doubt } from '../protocol.ts';
import { type Correction, HUMIDITY_RANGE, sameCheck } from './correction.ts';
import { doubt, of, span } from './doubt.ts';
import type { LiveProbe, PlaceAir } from './place.ts';
import { zeroOf } from './placed-zero.ts';
import type { ProbeRecord } from './probe.ts';
import { moistureWords } from './situations/scene.ts';
import { sent } from '../words/sent.ts';

/**
 * A difference is real beyond this many standard uncertainties: that holds 99 % of two equal
 * rectangular errors (√6 (1 − √0.01)), and 97 % of a normal one.
 */
export const REAL_K = 2.2;
/** A wider ± near the ends of the scale is told where it widens the interval by this part of it. */
const WORTH_TELLING = 0.07;
/** A probe is called wet when it has read so for this long, ms: longer than probes lag. */
const WET_MS = 120_000;

const outOfRange = (probe: LiveProbe, cost: number): Doubt =>
  of(
    probe,
    doubt(
      'humidity-range',
      sent`${probe.name} reads humidity outside ${HUMIDITY_RANGE.low} to ${HUMIDITY_RANGE.high} %, the range that most data sheets cover.`,
      sent`Its ± counts ${probe.widened.toFixed(1)} times, which widens the interval by ${Math.round(100 * cost)} % of the figure.`,
      sent`The interval covers that. A side-by-side check in air like this narrows it.`,
    ),
  );

const disagrees = (gapW: number, limitW: number): Doubt =>
  doubt(
    'humidity-disagrees',
    sent`Supply and return differ by ${moistureWords(Math.abs(gapW))} of moisture: more than the ${moistureWords(limitW)} that their ± explain, and a heating coil cannot cause it.`,
    sent`Humidity does not count as heat here, so the figure hardly changes.`,
    sent`Nothing to do for this figure. Before you measure cooling, check the probes side by side.`,
  );

const wetReturn = (probe: ProbeRecord, ms: number): Doubt =>
  of(
    probe,
    doubt(
      'probe-wet',
      sent`${probe.name} has read 100 %, or within its ± of that, for ${span(ms)}. Room air is hardly ever that humid: the probe is probably wet.`,
      sent`It reads too humid, and too cold while it dries: the figure is off by that much.`,
      sent`Dry it and hang it where no water drips on it.`,
    ),
  );

const wetSupply = (probe: ProbeRecord, ms: number): Doubt =>
  of(
    probe,
    doubt(
      'probe-wet',
      sent`${probe.name} has read 100 %, or within its ± of that, for ${span(ms)}, and more moisture than goes in while the unit cools: it is probably wet.`,
      sent`The latent part comes out too small, and the total with it.`,
      sent`Dry it and hang it where no water drips on it.`,
    ),
  );

/**
 * Moisture of the supply less that of the return, and its standard uncertainty, kg/kg: the probes' own
 * errors of temperature and humidity, and what the errors that they share leave of each other. Null
 * where one of the two tells none. The pressure moves both alike, and is left out.
 */
export function moistureGap(
  ret: readonly LiveProbe[],
  sup: readonly LiveProbe[],
): { gapW: number; uW: number } | null {
  const shares: Shared[] = [];
  const back = meanOf(ret, -1, shares);
  const out = meanOf(sup, 1, shares);
  if (back === null || out === null) return null;
  let square = back.square + out.square;
  for (const { check, perK, perPct } of shares) {
    square += (perK * check.shared.temperature.u) ** 2 + (perPct * check.shared.humidity.u) ** 2;
  }
  const zero = zeroOf({ probes: ret }, { probes: sup });
  if (zero !== null) {
    const { found, common } = zero.shared;
    square += ((out.zeroW - back.zeroW) * found.u) ** 2;
    square += ((out.zeroedW - back.zeroedW) * common.u) ** 2;
  }
  return { gapW: out.W - back.W, uW: Math.sqrt(square) };
}

/** What the error that the probes of a check share does to the difference. */
interface Shared {
  check: Correction;
  perK: number;
  perPct: number;
}

/**
 * The mean of those that tell humidity, and Σu² of their own errors; what 1 K more in what a zero has
 * found does to it, and 1 K in all that hold the zero.
 */
function meanOf(
  probes: readonly LiveProbe[],
  sign: 1 | -1,
  shares: Shared[],
): { W: number; square: number; zeroW: number; zeroedW: number } | null {
  let n = 0;
  for (const { humidityRatio } of probes) if (humidityRatio !== null) n++;
  if (n === 0) return null;
  let W = 0;
  let square = 0;
  let zeroW = 0;
  let zeroedW = 0;
  for (const probe of probes) {
    if (probe.humidityRatio === null) continue;
    const { wPerK, wPerHumidity, temperature, humidity, correction, zeroPerK } = probe;
    if (zeroPerK !== undefined) {
      zeroW += (wPerK * zeroPerK) / n;
      zeroedW += wPerK / n;
    }
    W += probe.humidityRatio / n;
    square += ((wPerK * temperature.u) / n) ** 2 + ((wPerHumidity * humidity.u) / n) ** 2;
    if (correction === null) continue;
    let share = shares.find(({ check }) => sameCheck(check, correction));
    if (share === undefined) shares.push((share = { check: correction, perK: 0, perPct: 0 }));
    if (correction.temperature !== null) share.perK += (sign * wPerK) / n;
    if (correction.humidity !== null) share.perPct += (sign * wPerHumidity) / n;
  }
  return { W, square, zeroW, zeroedW };
}

/** A heating coil neither wets nor dries the air: beyond the probes' errors, one of them is wrong. */
export function heatingMoisture(ret: PlaceAir, sup: PlaceAir, found: Doubt[]): void {
  if (!ret.limitsKnown || !sup.limitsKnown) return;
  const gap = moistureGap(ret.probes, sup.probes);
  if (gap === null) return;
  const limitW = REAL_K * gap.uW;
  if (Math.abs(gap.gapW) > limitW) found.push(disagrees(gap.gapW, limitW));
}

/** Says of each probe whose ± is wider near the ends of the scale what that costs, where it is much. */
export function rangeDoubts(
  c: Capacity,
  u: CapacityUncertainty,
  { probes }: PlaceAir,
  found: Doubt[],
): void {
  // Of a figure that cannot be told from nothing no part can be said.
  if (c.totalW <= u.totalU95W) return;
  for (const probe of probes) {
    if (probe.widened === 1) continue;
    const n = probes.filter(({ humidityRatio }) => humidityRatio !== null).length;
    // What the moisture carries of the total: h_v0 + c_v t a kilogram.
    const perW = c.dryAirKgs * (REAL_AIR.vapourEnthalpy + REAL_AIR.vapourHeat * probe.temperatureC);
    const part = (perW * probe.wPerHumidity * probe.humidity.u) / n / u.uTotalW;
    const without = 1 - part * part * (1 - 1 / probe.widened ** 2);
    const cost = 1 - Math.sqrt(Math.max(0, without));
    if (cost > WORTH_TELLING) found.push(outOfRange(probe, (cost * u.totalU95W) / c.totalW));
  }
}

/**
 * Tells wet probes from saturated air, which both read 100 %. The air behind a wet coil is nearly
 * saturated, so a supply probe that reads so says nothing by itself, and is hardly wrong if it is wet.
 * But a coil that cools adds no moisture: a supply that stays at 100 % and holds more than the return
 * does, while heat is delivered, is a wet probe. (While the fan alone dries the coil the air takes
 * moisture along too, but then next to nothing is delivered.) And a return probe that cannot be told
 * from 100 % hangs in room air, which is hardly ever saturated.
 */
export class WetProbes {
  /** Since when each looks wet, ms; by its id. */
  readonly #since = new Map<string, number>();

  /**
   * Takes one second.
   * @param air of both places; null where it could not be worked out
   * @param cools the unit delivers cooling that can be told from nothing
   */
  second(
    t: number,
    probes: { readonly return: readonly ProbeRecord[]; readonly supply: readonly ProbeRecord[] },
    air: { ret: PlaceAir; sup: PlaceAir } | null,
    cools: boolean,
    found: Doubt[],
  ): void {
    for (const probe of probes.return) {
      const ms = this.#looksWetMs(probe, readsSaturated(probe), t);
      if (ms >= WET_MS) found.push(wetReturn(probe, ms));
    }
    for (const probe of probes.supply) {
      const wet = cools && air !== null && readsSaturated(probe) && holdsMore(air, probe);
      const ms = this.#looksWetMs(probe, wet, t);
      if (ms >= WET_MS) found.push(wetSupply(probe, ms));
    }
  }

  #looksWetMs({ id }: ProbeRecord, looks: boolean, t: number): number {
    if (!looks) {
      if (this.#since.size > 0) this.#since.delete(id);
      return 0;
    }
    const since = this.#since.get(id) ?? t;
    this.#since.set(id, since);
    return t - since;
  }
}

/** Whether it reads 100 %, as far as the ± of its data sheet can tell. */
function readsSaturated({ now, limits }: ProbeRecord): boolean {
  return now.humidityPct >= 100 - (limits.humidityPct ?? 0);
}

/** Whether a supply probe alone tells more moisture than the return, beyond their errors. */
function holdsMore({ ret, sup }: { ret: PlaceAir; sup: PlaceAir }, { id }: ProbeRecord): boolean {
  const gap = moistureGap(
    ret.probes,
    sup.probes.filter((probe) => probe.id === id),
  );
  return gap !== null && gap.gapW > REAL_K * gap.uW;
}
