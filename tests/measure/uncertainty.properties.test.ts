/**
 * The propagation's closed forms against differences of the capacity itself: with one input uncertain,
 * u of a part is the size of that part's sensitivity. With `PERFECT_AIR`: for real air the small change
 * of the compressibility with temperature is left out of the volume's derivative (0.3 % of it).
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { capacity, type Flow, type Mode } from '../../server/measure/capacity.ts';
import { humidityRatio, PERFECT_AIR, statePartials } from '../../server/measure/moist-air.ts';
import {
  type CapacityUncertainty,
  capacityUncertainty,
  meanCovariance,
  type PointCovariance,
} from '../../server/measure/uncertainty.ts';

interface Inputs {
  t1: number;
  rh1: number;
  t2: number;
  rh2: number;
  flowM3s: number;
}
interface Case {
  mode: Mode;
  at: Inputs;
  basis: Flow['basis'];
  plane: Flow['plane'];
  pPa: number;
}

const real = (min: number, max: number): fc.Arbitrary<number> =>
  fc.double({ min, max, noNaN: true });
const cases: fc.Arbitrary<Case> = fc.record({
  mode: fc.constantFrom<Mode>('cooling', 'heating'),
  at: fc.record({
    t1: real(1, 40),
    rh1: real(5, 95),
    t2: real(1, 55),
    rh2: real(5, 95),
    flowM3s: real(0.05, 0.5),
  }),
  basis: fc.constantFrom('actual', 'standard'),
  plane: fc.constantFrom('supply', 'return'),
  pPa: real(60_000, 110_000),
});
const PARTS = ['totalW', 'sensibleW', 'latentW'] as const;
const STEP: Inputs = { t1: 1e-3, rh1: 1e-2, t2: 1e-3, rh2: 1e-2, flowM3s: 1e-4 };

function point(
  tC: number,
  rhPct: number,
  pPa: number,
): { temperatureC: number; humidityRatio: number } {
  return { temperatureC: tC, humidityRatio: humidityRatio(tC, rhPct, pPa, PERFECT_AIR) };
}

function resultOf({ mode, at, basis, plane, pPa }: Case): ReturnType<typeof capacity> {
  const flow: Flow = { flowM3s: at.flowM3s, basis, plane };
  const ret = point(at.t1, at.rh1, pPa);
  return capacity(mode, ret, point(at.t2, at.rh2, pPa), flow, pPa, PERFECT_AIR);
}

function covariance(
  tC: number,
  rhPct: number,
  pPa: number,
  uT: number,
  uRh: number,
): PointCovariance {
  const { humidityRatio: W, wPerK, wPerPct } = statePartials(tC, rhPct, pPa, PERFECT_AIR);
  const share = { temperatureC: tC, humidityRatio: W, wPerK, wPerHumidity: wPerPct };
  return meanCovariance([{ ...share, uTemperature: uT, uHumidity: uRh }]);
}

function uncertaintyOf(c: Case, u: Inputs): CapacityUncertainty {
  const { mode, at, basis, plane, pPa } = c;
  return capacityUncertainty(
    resultOf(c),
    {
      mode,
      ret: point(at.t1, at.rh1, pPa),
      supply: point(at.t2, at.rh2, pPa),
      flow: { flowM3s: at.flowM3s, basis, plane },
      pPa,
      retCovariance: covariance(at.t1, at.rh1, pPa, u.t1, u.rh1),
      supplyCovariance: covariance(at.t2, at.rh2, pPa, u.t2, u.rh2),
      uFlowRelative: u.flowM3s / at.flowM3s,
      uPressurePa: 0,
    },
    PERFECT_AIR,
  );
}

const NONE: Inputs = { t1: 0, rh1: 0, t2: 0, rh2: 0, flowM3s: 0 };

describe('sensitivities in closed form', () => {
  it.each(Object.keys(STEP) as (keyof Inputs)[])('to %s are those of differences', (name) => {
    fc.assert(
      fc.property(cases, (c) => {
        const step = STEP[name];
        const moved = (by: number): ReturnType<typeof capacity> =>
          resultOf({ ...c, at: { ...c.at, [name]: c.at[name] + by } });
        const up = moved(step);
        const down = moved(-step);
        const alone = uncertaintyOf(c, { ...NONE, [name]: step });
        for (const part of PARTS) {
          const byDifference = Math.abs(up[part] - down[part]) / 2;
          // Related to what the step does to this much air, where a sensitivity passes through 0.
          const off = Math.abs(alone[part] - byDifference);
          expect(off, part).toBeLessThanOrEqual(1e-5 * Math.max(byDifference, up.dryAirKgs));
        }
      }),
    );
  });

  it('independent inputs add in squares', () => {
    fc.assert(
      fc.property(cases, (c) => {
        const u: Inputs = { t1: 0.3, rh1: 1.5, t2: 0.2, rh2: 2, flowM3s: 0.03 * c.at.flowM3s };
        const together = uncertaintyOf(c, u);
        for (const part of PARTS) {
          let squares = 0;
          for (const name of Object.keys(u) as (keyof Inputs)[]) {
            squares += uncertaintyOf(c, { ...NONE, [name]: u[name] })[part] ** 2;
          }
          expect(together[part] ** 2).toBeCloseTo(squares, 3);
        }
      }),
    );
  });
});
