/**
 * The first-order uncertainty against Monte Carlo (JCGM 101:2008): every input drawn from its own
 * rectangular limits, the capacity worked out anew from each draw, the scatter compared. 200,000
 * seeded draws give a standard deviation within about 0.2 %.
 */
import { describe, it } from 'vitest';
import { type Capacity, capacity, type Flow, type Mode } from '../../server/measure/capacity.ts';
import { humidityRatio, statePartials } from '../../server/measure/moist-air.ts';
import {
  type CapacityUncertainty,
  capacityUncertainty,
  meanCovariance,
  type PointCovariance,
  rectangular,
} from '../../server/measure/uncertainty.ts';
import { type Random, randomStream } from '../../simulator/random.ts';
import { expectWithin } from './near.ts';

const DRAWS = 200_000;
const PARTS = ['totalW', 'sensibleW', 'latentW'] as const;

interface Reading {
  tC: number;
  rhPct: number;
}
/** Half-widths of good probes, a good traverse and a barometer. */
const LIMITS = { tC: 0.5, rhPct: 2.5, flow: 0.06, pPa: 200 };

interface Condition {
  name: string;
  mode: Mode;
  ret: Reading;
  supply: Reading;
}
const CONDITIONS: readonly Condition[] = [
  {
    name: 'cooling, wet coil',
    mode: 'cooling',
    ret: { tC: 26.7, rhPct: 51 },
    supply: { tC: 12, rhPct: 94 },
  },
  {
    name: 'cooling, dry coil',
    mode: 'cooling',
    ret: { tC: 27, rhPct: 35 },
    supply: { tC: 15, rhPct: 73 },
  },
  {
    name: 'heating',
    mode: 'heating',
    ret: { tC: 20, rhPct: 42 },
    supply: { tC: 45, rhPct: 11 },
  },
];
const SWEEP = CONDITIONS.flatMap((condition) =>
  (['supply', 'return'] as const).flatMap((plane) =>
    [101_325, 84_556].map((pPa) => ({ ...condition, plane, pPa })),
  ),
);

function capacityOf(mode: Mode, ret: Reading, sup: Reading, flow: Flow, pPa: number): Capacity {
  const point = ({ tC, rhPct }: Reading): { temperatureC: number; humidityRatio: number } => ({
    temperatureC: tC,
    humidityRatio: humidityRatio(tC, rhPct, pPa),
  });
  return capacity(mode, point(ret), point(sup), flow, pPa);
}

function covarianceOf({ tC, rhPct }: Reading, pPa: number): PointCovariance {
  const { humidityRatio: W, wPerK, wPerPct } = statePartials(tC, rhPct, pPa);
  return meanCovariance([
    {
      temperatureC: tC,
      humidityRatio: W,
      uTemperature: rectangular(LIMITS.tC),
      uHumidity: rectangular(LIMITS.rhPct),
      wPerK,
      wPerHumidity: wPerPct,
    },
  ]);
}

/** By propagation, as the product does it. */
function firstOrder(condition: Condition, flow: Flow, pPa: number): CapacityUncertainty {
  const { mode, ret, supply } = condition;
  const point = ({ tC, rhPct }: Reading): { temperatureC: number; humidityRatio: number } => ({
    temperatureC: tC,
    humidityRatio: humidityRatio(tC, rhPct, pPa),
  });
  return capacityUncertainty(capacityOf(mode, ret, supply, flow, pPa), {
    mode,
    ret: point(ret),
    supply: point(supply),
    flow,
    pPa,
    retCovariance: covarianceOf(ret, pPa),
    supplyCovariance: covarianceOf(supply, pPa),
    uFlowRelative: rectangular(LIMITS.flow),
    uPressurePa: rectangular(LIMITS.pPa),
  });
}

/** By drawing. */
function drawn(condition: Condition, flow: Flow, pPa: number): CapacityUncertainty {
  const random = randomStream(101, [condition.name, flow.plane, flow.basis, pPa].join(' '));
  const within = (limit: number): number => random.between(-limit, limit);
  const sums = { totalW: 0, sensibleW: 0, latentW: 0 };
  const squares = { totalW: 0, sensibleW: 0, latentW: 0 };
  const centre = capacityOf(condition.mode, condition.ret, condition.supply, flow, pPa);
  for (let i = 0; i < DRAWS; i++) {
    const got = capacityOf(
      condition.mode,
      draw(condition.ret, random),
      draw(condition.supply, random),
      { ...flow, flowM3s: flow.flowM3s * (1 + within(LIMITS.flow)) },
      pPa + within(LIMITS.pPa),
    );
    for (const part of PARTS) {
      const off = got[part] - centre[part];
      sums[part] += off;
      squares[part] += off * off;
    }
  }
  const deviation = (part: (typeof PARTS)[number]): number =>
    Math.sqrt(squares[part] / DRAWS - (sums[part] / DRAWS) ** 2);
  return {
    totalW: deviation('totalW'),
    sensibleW: deviation('sensibleW'),
    latentW: deviation('latentW'),
  };
}

function draw({ tC, rhPct }: Reading, random: Random): Reading {
  return {
    tC: tC + random.between(-LIMITS.tC, LIMITS.tC),
    rhPct: rhPct + random.between(-LIMITS.rhPct, LIMITS.rhPct),
  };
}

describe(`first order against ${DRAWS} draws, within 2 %`, () => {
  it.each(SWEEP)('$name, flow at the $plane, $pPa Pa', ({ plane, pPa, ...condition }) => {
    const flow: Flow = { flowM3s: 0.2, basis: 'actual', plane };
    const u = firstOrder(condition, flow, pPa);
    const scatter = drawn(condition, flow, pPa);
    for (const part of PARTS) {
      if (condition.mode === 'heating' && part === 'latentW') continue; // none, by definition
      expectWithin(u[part], scatter[part], 0.02, part);
    }
  });

  it.each(CONDITIONS)('$name, a standard flow', (condition) => {
    const flow: Flow = { flowM3s: 0.2, basis: 'standard', plane: 'supply' };
    const u = firstOrder(condition, flow, 101_325);
    const scatter = drawn(condition, flow, 101_325);
    expectWithin(u.totalW, scatter.totalW, 0.02, 'total');
    expectWithin(u.sensibleW, scatter.sensibleW, 0.02, 'sensible');
  });
});
