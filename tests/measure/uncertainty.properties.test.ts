/**
 * The propagation's closed forms against differences of the capacity itself: with one input uncertain,
 * u of a part is the size of that part's sensitivity. With `PERFECT_AIR`: for real air the small change
 * of the compressibility with temperature is left out of the volume's derivative (0.3 % of it).
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { capacity, type Flow, type Mode } from '../../server/measure/capacity.ts';
import { NORMAL } from '../../server/measure/gum.ts';
import { humidityRatio, PERFECT_AIR } from '../../server/measure/moist-air.ts';
import {
  type BudgetItem,
  capacityBudget,
  type CapacityUncertainty,
  combine,
} from '../../server/measure/uncertainty.ts';
import { placeProbe } from './place-probe.ts';

interface Inputs {
  t1: number;
  rh1: number;
  t2: number;
  rh2: number;
  flowM3s: number;
  pPa: number;
}
interface Case {
  mode: Mode;
  at: Inputs;
  basis: Flow['basis'];
  plane: Flow['plane'];
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
    pPa: real(60_000, 110_000),
  }),
  basis: fc.constantFrom('actual', 'standard'),
  plane: fc.constantFrom('supply', 'return'),
});
const PARTS = [
  ['totalW', 'uTotalW'],
  ['sensibleW', 'uSensibleW'],
  ['latentW', 'uLatentW'],
] as const;
const STEP: Inputs = { t1: 1e-3, rh1: 1e-2, t2: 1e-3, rh2: 1e-2, flowM3s: 1e-4, pPa: 10 };
const NAMES = Object.keys(STEP) as (keyof Inputs)[];

function point(
  tC: number,
  rhPct: number,
  pPa: number,
): { temperatureC: number; humidityRatio: number } {
  return { temperatureC: tC, humidityRatio: humidityRatio(tC, rhPct, pPa, PERFECT_AIR) };
}

function resultOf({ mode, at, basis, plane }: Case): ReturnType<typeof capacity> {
  const flow: Flow = { flowM3s: at.flowM3s, basis, plane };
  const ret = point(at.t1, at.rh1, at.pPa);
  return capacity(mode, ret, point(at.t2, at.rh2, at.pPa), flow, at.pPa, PERFECT_AIR);
}

/** @param common whether both probes' errors are the same one; then t2 and rh2 of `u` do not count */
function budgetOf(c: Case, u: Inputs, common = false): BudgetItem[] {
  const { mode, at, basis, plane } = c;
  const own = common ? 0 : 1;
  const shared = common ? 0 : -1;
  const { pPa } = at;
  return capacityBudget(
    resultOf(c),
    {
      mode,
      ret: point(at.t1, at.rh1, pPa),
      supply: point(at.t2, at.rh2, pPa),
      flow: { flowM3s: at.flowM3s, basis, plane },
      pPa,
      retProbes: [
        placeProbe(
          { tC: at.t1, rhPct: at.rh1, pPa, uT: own * u.t1, uRh: own * u.rh1, shared },
          PERFECT_AIR,
        ),
      ],
      supplyProbes: [
        placeProbe(
          { tC: at.t2, rhPct: at.rh2, pPa, uT: own * u.t2, uRh: own * u.rh2, shared },
          PERFECT_AIR,
        ),
      ],
      flowRelative: { u: u.flowM3s / at.flowM3s, shape: NORMAL },
      pressurePa: { u: u.pPa, shape: NORMAL },
      shared: common
        ? [
            {
              temperature: { u: u.t1, shape: NORMAL },
              humidity: { u: u.rh1, shape: NORMAL },
              of: 'check',
            },
          ]
        : [],
    },
    PERFECT_AIR,
  );
}
const uncertaintyOf = (c: Case, u: Inputs): CapacityUncertainty =>
  combine(budgetOf(c, u), resultOf(c));

const NONE: Inputs = { t1: 0, rh1: 0, t2: 0, rh2: 0, flowM3s: 0, pPa: 0 };

describe('sensitivities in closed form', () => {
  it.each(NAMES)('to %s are those of differences', (name) => {
    fc.assert(
      fc.property(cases, (c) => {
        const step = STEP[name];
        const moved = (by: number): ReturnType<typeof capacity> =>
          resultOf({ ...c, at: { ...c.at, [name]: c.at[name] + by } });
        const up = moved(step);
        const down = moved(-step);
        const alone = uncertaintyOf(c, { ...NONE, [name]: step });
        for (const [part, u] of PARTS) {
          const byDifference = Math.abs(up[part] - down[part]) / 2;
          // Related to what the step does to this much air, where a sensitivity passes through 0.
          const off = Math.abs(alone[u] - byDifference);
          expect(off, part).toBeLessThanOrEqual(1e-5 * Math.max(byDifference, up.dryAirKgs));
        }
      }),
    );
  });

  it('to an error that both probes share are those of moving both', () => {
    fc.assert(
      fc.property(cases, (c) => {
        const both = (by: number): ReturnType<typeof capacity> =>
          resultOf({ ...c, at: { ...c.at, t1: c.at.t1 + by, t2: c.at.t2 + by } });
        const up = both(STEP.t1);
        const down = both(-STEP.t1);
        const alone = combine(budgetOf(c, { ...NONE, t1: STEP.t1 }, true), resultOf(c));
        for (const [part, u] of PARTS) {
          const off = Math.abs(alone[u] - Math.abs(up[part] - down[part]) / 2);
          expect(off, part).toBeLessThanOrEqual(1e-5 * Math.max(alone[u], up.dryAirKgs));
        }
      }),
    );
  });

  it('independent inputs add in squares', () => {
    fc.assert(
      fc.property(cases, (c) => {
        const u: Inputs = {
          t1: 0.3,
          rh1: 1.5,
          t2: 0.2,
          rh2: 2,
          flowM3s: 0.03 * c.at.flowM3s,
          pPa: 300,
        };
        const together = uncertaintyOf(c, u);
        for (const [, part] of PARTS) {
          let squares = 0;
          for (const name of NAMES)
            squares += uncertaintyOf(c, { ...NONE, [name]: u[name] })[part] ** 2;
          expect(together[part] ** 2).toBeCloseTo(squares, 3);
        }
      }),
    );
  });
});
