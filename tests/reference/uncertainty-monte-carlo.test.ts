/**
 * The first-order uncertainty against Monte Carlo (JCGM 101:2008): every input drawn from its own
 * rectangular limits, W worked out from the drawn temperature, humidity and pressure, the capacity
 * anew from each draw, the scatter compared. A million seeded draws give a standard deviation within
 * about 0.1 %, and the share of draws inside an interval within 0.02 %.
 */
import { describe, expect, it } from 'vitest';
import { type Capacity, capacity, type Flow, type Mode } from '../../server/measure/capacity.ts';
import { RECTANGULAR, statement } from '../../server/measure/gum.ts';
import { humidityRatio } from '../../server/measure/moist-air.ts';
import {
  capacityBudget,
  type CapacityUncertainty,
  combine,
} from '../../server/measure/uncertainty.ts';
import { type Random, randomStream } from '../../simulator/random.ts';
import { placeProbe } from '../measure/place-probe.ts';
import { expectWithin } from './near.ts';

const DRAWS = 1_000_000;

interface Reading {
  tC: number;
  rhPct: number;
}
interface Limits {
  tC: number;
  rhPct: number;
  flow: number;
  pPa: number;
}
/** Half-widths of good probes, a good traverse and a barometer. */
const GOOD: Limits = { tC: 0.5, rhPct: 2.5, flow: 0.06, pPa: 200 };

interface Condition {
  name: string;
  mode: Mode;
  ret: Reading;
  supply: Reading;
}
const WET: Condition = {
  name: 'cooling, wet coil',
  mode: 'cooling',
  ret: { tC: 26.7, rhPct: 51 },
  supply: { tC: 12, rhPct: 94 },
};
const DRY: Condition = {
  name: 'cooling, dry coil',
  mode: 'cooling',
  ret: { tC: 27, rhPct: 35 },
  supply: { tC: 15, rhPct: 73 },
};
const LATENT: Condition = {
  name: 'cooling, mostly latent',
  mode: 'cooling',
  ret: { tC: 24, rhPct: 78 },
  supply: { tC: 15, rhPct: 96 },
};
const HEATING: Condition = {
  name: 'heating',
  mode: 'heating',
  ret: { tC: 20, rhPct: 42 },
  supply: { tC: 45, rhPct: 11 },
};

interface Case extends Condition {
  plane: Flow['plane'];
  basis: Flow['basis'];
  pPa: number;
  limits: Limits;
}
const SEA = 101_325;
/** 1,500 m: Handbook, ch. 1, Table 1. */
const HIGH = 84_556;
const SWEEP: Case[] = [
  ...[WET, DRY, LATENT, HEATING].flatMap((condition): Case[] => [
    { ...condition, plane: 'supply', basis: 'actual', pPa: SEA, limits: GOOD },
    { ...condition, plane: 'return', basis: 'actual', pPa: HIGH, limits: GOOD },
    { ...condition, plane: 'supply', basis: 'standard', pPa: HIGH, limits: GOOD },
  ]),
  // One input that outweighs the others: the pressure of an unknown height, an airflow that is guessed.
  { ...WET, plane: 'supply', basis: 'actual', pPa: SEA, limits: { ...GOOD, pPa: 10_000 } },
  { ...HEATING, plane: 'return', basis: 'actual', pPa: SEA, limits: { ...GOOD, flow: 0.2 } },
];

function capacityOf(mode: Mode, ret: Reading, sup: Reading, flow: Flow, pPa: number): Capacity {
  const point = ({ tC, rhPct }: Reading): { temperatureC: number; humidityRatio: number } => ({
    temperatureC: tC,
    humidityRatio: humidityRatio(tC, rhPct, pPa),
  });
  return capacity(mode, point(ret), point(sup), flow, pPa);
}

/** By propagation, as the product does it. */
function firstOrder(condition: Case, flow: Flow): CapacityUncertainty {
  const { mode, ret, supply, pPa, limits } = condition;
  const probe = ({ tC, rhPct }: Reading): ReturnType<typeof placeProbe> =>
    placeProbe({
      tC,
      rhPct,
      pPa,
      uT: statement(limits.tC).u,
      uRh: statement(limits.rhPct).u,
      shape: RECTANGULAR,
    });
  const point = ({ tC, rhPct }: Reading): { temperatureC: number; humidityRatio: number } => ({
    temperatureC: tC,
    humidityRatio: humidityRatio(tC, rhPct, pPa),
  });
  const result = capacityOf(mode, ret, supply, flow, pPa);
  const budget = capacityBudget(result, {
    mode,
    ret: point(ret),
    supply: point(supply),
    flow,
    pPa,
    retProbes: [probe(ret)],
    supplyProbes: [probe(supply)],
    flowRelative: statement(limits.flow),
    pressurePa: statement(limits.pPa),
    shared: [],
  });
  return combine(budget, result);
}

/** By drawing: how far each draw is off, in total, sensible, latent and sensible heat ratio. */
interface Drawn {
  totalW: Float64Array;
  sensibleW: Float64Array;
  latentW: Float64Array;
  ratio: Float64Array;
}
const drawn: Drawn = {
  totalW: new Float64Array(DRAWS),
  sensibleW: new Float64Array(DRAWS),
  latentW: new Float64Array(DRAWS),
  ratio: new Float64Array(DRAWS),
};

function drawAll(condition: Case, flow: Flow): void {
  const { mode, name, pPa, limits, ret, supply } = condition;
  const random = randomStream(101, [name, flow.plane, flow.basis, pPa].join(' '));
  const within = (limit: number): number => random.between(-limit, limit);
  const centre = capacityOf(mode, ret, supply, flow, pPa);
  for (let i = 0; i < DRAWS; i++) {
    const got = capacityOf(
      mode,
      draw(ret, limits, random),
      draw(supply, limits, random),
      { ...flow, flowM3s: flow.flowM3s * (1 + within(limits.flow)) },
      pPa + within(limits.pPa),
    );
    drawn.totalW[i] = got.totalW - centre.totalW;
    drawn.sensibleW[i] = got.sensibleW - centre.sensibleW;
    drawn.latentW[i] = got.latentW - centre.latentW;
    drawn.ratio[i] = got.sensibleW / got.totalW - centre.sensibleW / centre.totalW;
  }
}

function draw({ tC, rhPct }: Reading, limits: Limits, random: Random): Reading {
  return {
    tC: tC + random.between(-limits.tC, limits.tC),
    rhPct: rhPct + random.between(-limits.rhPct, limits.rhPct),
  };
}

function deviation(offs: Float64Array): number {
  let sum = 0;
  let square = 0;
  for (const off of offs) {
    sum += off;
    square += off * off;
  }
  return Math.sqrt(square / DRAWS - (sum / DRAWS) ** 2);
}

/** The share of draws no further off than `half`. */
function within(offs: Float64Array, half: number): number {
  let n = 0;
  for (const off of offs) if (Math.abs(off) <= half) n++;
  return n / DRAWS;
}

describe(`first order against ${DRAWS} draws, within 2 %`, () => {
  it.each(SWEEP)(
    '$name, $basis flow at the $plane, $pPa Pa, flow ± $limits.flow, pressure ± $limits.pPa Pa',
    (condition) => {
      const { plane, basis, mode } = condition;
      const flow: Flow = { flowM3s: 0.2, basis, plane };
      const u = firstOrder(condition, flow);
      drawAll(condition, flow);
      expectWithin(u.uTotalW, deviation(drawn.totalW), 0.02, 'total');
      expectWithin(u.uSensibleW, deviation(drawn.sensibleW), 0.02, 'sensible');
      // In heating there is no latent part, by definition.
      if (mode === 'cooling') expectWithin(u.uLatentW, deviation(drawn.latentW), 0.02, 'latent');
      holds(drawn.totalW, u.totalU95W, 0.945);
      holds(drawn.sensibleW, u.sensibleU95W, 0.945);
      if (mode === 'heating') return;
      holds(drawn.latentW, u.latentU95W, 0.945);
      // First order in 1/total: 93.8 % where the total's own interval is a quarter of it.
      holds(drawn.ratio, u.sensibleHeatRatioU95 ?? NaN, 0.935);
    },
  );
});

/** The interval holds 95 % of the draws, or `least`. */
function holds(offs: Float64Array, half: number, least: number): void {
  const share = within(offs, half);
  expect(share).toBeGreaterThan(least);
  expect(share).toBeLessThan(0.96);
}
