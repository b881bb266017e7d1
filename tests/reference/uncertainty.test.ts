/**
 * The first-order uncertainty of a capacity (JCGM 100:2008) against a worked budget and published
 * figures. "Computed" is the printed equations worked out apart from this project, by `PERFECT_AIR`.
 */
import { describe, expect, it } from 'vitest';
import { capacity, type Flow } from '../../server/measure/capacity.ts';
import { ErrorList } from '../../server/measure/error-list.ts';
import { NORMAL, RECTANGULAR, type Uncertain } from '../../server/measure/gum.ts';
import { humidityRatio, PERFECT_AIR } from '../../server/measure/moist-air.ts';
import {
  type BudgetItem,
  type BudgetKind,
  capacityBudget,
  type CapacityUncertainty,
  combine,
  type PlaceProbe,
} from '../../server/measure/uncertainty.ts';
import { placeProbe } from '../measure/place-probe.ts';
import { expectNear, expectWithin } from './near.ts';

const P = 101_325;

/** The example of capacity.test.ts: return 26.7 °C, 51 %; supply 12.0 °C, 94 %; 0.200 m³/s there. */
const EXAMPLE = { t1: 26.7, rh1: 51, t2: 12, rh2: 94, flowM3s: 0.2 };
type Inputs = typeof EXAMPLE;
const flow: Flow = { flowM3s: EXAMPLE.flowM3s, basis: 'actual', plane: 'supply' };

function point(tC: number, rhPct: number): { temperatureC: number; humidityRatio: number } {
  return { temperatureC: tC, humidityRatio: humidityRatio(tC, rhPct, P, PERFECT_AIR) };
}
const RESULT = capacity(
  'cooling',
  point(EXAMPLE.t1, EXAMPLE.rh1),
  point(EXAMPLE.t2, EXAMPLE.rh2),
  flow,
  P,
  PERFECT_AIR,
);

const returnProbe = (uT = 0, uRh = 0, shared = -1): PlaceProbe =>
  placeProbe({ tC: EXAMPLE.t1, rhPct: EXAMPLE.rh1, pPa: P, uT, uRh, shared }, PERFECT_AIR);
const supplyProbe = (uT = 0, uRh = 0, shared = -1): PlaceProbe =>
  placeProbe({ tC: EXAMPLE.t2, rhPct: EXAMPLE.rh2, pPa: P, uT, uRh, shared }, PERFECT_AIR);
const normal = (u: number): Uncertain => ({ u, shape: NORMAL });

interface Doubtful {
  ret?: readonly PlaceProbe[];
  supply?: readonly PlaceProbe[];
  uFlow?: number;
  uPa?: number;
  shared?: { temperature: Uncertain; humidity: Uncertain }[];
}

function budgetOf({ ret, supply, uFlow = 0, uPa = 0, shared = [] }: Doubtful): BudgetItem[] {
  return capacityBudget(
    RESULT,
    {
      mode: 'cooling',
      ret: point(EXAMPLE.t1, EXAMPLE.rh1),
      supply: point(EXAMPLE.t2, EXAMPLE.rh2),
      flow,
      pPa: P,
      retProbes: ret ?? [returnProbe()],
      supplyProbes: supply ?? [supplyProbe()],
      flowRelative: normal(uFlow / EXAMPLE.flowM3s),
      pressurePa: normal(uPa),
      shared: shared.map((errors) => ({ ...errors, of: 'check' })),
    },
    PERFECT_AIR,
  );
}

/** Standard uncertainties of the example, from those of its inputs. */
function uncertaintyOf(u: Inputs & { pPa?: number }): CapacityUncertainty {
  const doubtful: Doubtful = {
    ret: [returnProbe(u.t1, u.rh1)],
    supply: [supplyProbe(u.t2, u.rh2)],
    uFlow: u.flowM3s,
    uPa: u.pPa ?? 0,
  };
  return combine(budgetOf(doubtful), RESULT);
}

const NONE: Inputs = { t1: 0, rh1: 0, t2: 0, rh2: 0, flowM3s: 0 };

describe('the budget of the worked example', () => {
  it('0.2 K and 1.5 % of each probe, 5 % of the flow: 0.3991, 0.1998, 0.2608 kW', () => {
    // Computed by first order; a Monte Carlo of 1e6 draws gave 0.3992, 0.1999, 0.2609.
    const u = uncertaintyOf({ t1: 0.2, rh1: 1.5, t2: 0.2, rh2: 1.5, flowM3s: 0.01 });
    expectNear(u.uTotalW, 399.1, 0.06, 'total');
    expectNear(u.uSensibleW, 199.8, 0.06, 'sensible');
    expectNear(u.uLatentW, 260.8, 0.06, 'latent');
    // Of normal inputs: 1.96 u.
    expectWithin(u.totalU95W, 1.96 * u.uTotalW, 1e-12);
  });

  it('the probes’ errors fully common to both: 0.304, 0.185, 0.154 kW', () => {
    // Computed with r = 1 between the two temperatures, and between the two humidities; drawing
    // (normal, 2e6) gives 303.6, 185.2, 153.7 W, first order with the sensitivities below 303.4 W: √((0.2·56.45)² + (1.5·83.68)² + (0.01·27 597)²).
    const budget = budgetOf({
      ret: [returnProbe(0, 0, 0)],
      supply: [supplyProbe(0, 0, 0)],
      uFlow: 0.01,
      shared: [{ temperature: normal(0.2), humidity: normal(1.5) }],
    });
    const u = combine(budget, RESULT);
    expectNear(u.uTotalW, 304, 0.7, 'total');
    expectNear(u.uTotalW, 303.38, 0.05, 'total');
    expectNear(u.uSensibleW, 185, 0.5, 'sensible');
    expectNear(u.uLatentW, 154, 0.7, 'latent');
  });

  /** Computed sensitivities of the total, W per unit of the input (RH in %). */
  const SENSITIVITIES: readonly [keyof Inputs, perUnit: number, margin: number, step: number][] = [
    ['t1', 667.96, 0.01, 1e-3],
    ['rh1', 138.95, 0.006, 1e-2],
    ['t2', -611.51, 0.01, 1e-3],
    ['rh2', -55.27, 0.006, 1e-2],
    ['flowM3s', 27_597, 0.6, 1e-4],
  ];
  const ITEMS: Record<keyof Inputs, [kind: BudgetKind, of: string | null]> = {
    t1: ['temperature', 'r'],
    rh1: ['humidity', 'r'],
    t2: ['temperature', 's'],
    rh2: ['humidity', 's'],
    flowM3s: ['airflow', null],
  };

  it.each(SENSITIVITIES)('sensitivity to %s: %d', (name, perUnit, margin, step) => {
    const totalW = (by: number): number => {
      const at = { ...EXAMPLE, [name]: EXAMPLE[name] + by };
      const q = { ...flow, flowM3s: at.flowM3s };
      return capacity('cooling', point(at.t1, at.rh1), point(at.t2, at.rh2), q, P, PERFECT_AIR)
        .totalW;
    };
    expectNear((totalW(step) - totalW(-step)) / (2 * step), perUnit, margin, 'by differences');
    // With one input uncertain, u of the total is the size of its sensitivity.
    const alone = uncertaintyOf({ ...NONE, [name]: step });
    expectNear(alone.uTotalW / step, Math.abs(perUnit), margin, 'by propagation');
    // An item of the budget keeps the sign.
    const budget = budgetOf({
      ret: [{ ...returnProbe(step, step), id: 'r' }],
      supply: [{ ...supplyProbe(step, step), id: 's' }],
      uFlow: step,
    });
    const [kind, of] = ITEMS[name];
    const item = budget.find((each) => each.kind === kind && each.of === of);
    expectNear((item?.totalW ?? NaN) / step, perUnit, margin, 'item');
  });

  it('nothing uncertain, nothing doubted; all doubled, twice as much', () => {
    expect(uncertaintyOf(NONE)).toEqual({
      uTotalW: 0,
      uSensibleW: 0,
      uLatentW: 0,
      totalU95W: 0,
      sensibleU95W: 0,
      latentU95W: 0,
      sensibleHeatRatioU95: 0,
      uReturnSpreadW: 0,
      uSupplySpreadW: 0,
      total: { square: 0, fourth: 0, list: expect.any(ErrorList) },
    });
    const once = uncertaintyOf({ t1: 0.1, rh1: 1, t2: 0.3, rh2: 2, flowM3s: 0.01, pPa: 100 });
    const twice = uncertaintyOf({ t1: 0.2, rh1: 2, t2: 0.6, rh2: 4, flowM3s: 0.02, pPa: 200 });
    expectWithin(twice.uTotalW, 2 * once.uTotalW, 1e-12);
    expectWithin(twice.uLatentW, 2 * once.uLatentW, 1e-12);
    expectWithin(twice.totalU95W, 2 * once.totalU95W, 1e-12);
  });

  it('the sensible heat ratio: the flow, which total and sensible share, is no part of it', () => {
    const byFlow = uncertaintyOf({ ...NONE, flowM3s: 0.01 });
    expect(byFlow.totalU95W).toBeGreaterThan(500);
    expect(byFlow.sensibleHeatRatioU95).toBeLessThan(1e-12);
    // One input alone: U of S/T is 1.96 |dS/T − S dT/T²|, by differences.
    const ratio = (by: number): number => {
      const ret = point(EXAMPLE.t1, EXAMPLE.rh1 + by);
      const c = capacity('cooling', ret, point(EXAMPLE.t2, EXAMPLE.rh2), flow, P, PERFECT_AIR);
      return c.sensibleW / c.totalW;
    };
    const alone = uncertaintyOf({ ...NONE, rh1: 1.5 }).sensibleHeatRatioU95;
    expectWithin(alone ?? NaN, (1.96 * 1.5 * Math.abs(ratio(0.01) - ratio(-0.01))) / 0.02, 1e-5);
  });

  it('says nothing of a ratio to a total that is not known to a third', () => {
    expect(uncertaintyOf({ ...NONE, t1: 1.3 }).sensibleHeatRatioU95).not.toBeNull();
    expect(uncertaintyOf({ ...NONE, t1: 1.5 }).sensibleHeatRatioU95).toBeNull();
  });

  it('one rectangular part that outweighs all others: 1.65 u, not 1.96 u', () => {
    // JCGM 100, G.1.3 (from memory): 95 % of a rectangular distribution is 1.65 u.
    const temperature = { u: 0.2, shape: RECTANGULAR };
    const u = combine(budgetOf({ ret: [{ ...returnProbe(), temperature }] }), RESULT);
    expectNear(u.totalU95W / u.uTotalW, 1.65, 0.005);
  });
});

describe('several probes at a place', () => {
  const alike = (n: number, uT = 0, uRh = 0): PlaceProbe[] =>
    Array.from({ length: n }, (_, i) => ({ ...returnProbe(uT, uRh), id: `r${i}` }));

  it('alike in the same air: the limits fall with √n', () => {
    const one = combine(budgetOf({ ret: alike(1, 0.2, 1.5) }), RESULT);
    const four = combine(budgetOf({ ret: alike(4, 0.2, 1.5) }), RESULT);
    expectWithin(four.uTotalW, one.uTotalW / 2, 1e-12);
    expectWithin(four.uSensibleW, one.uSensibleW / 2, 1e-12);
    expectWithin(four.uLatentW, one.uLatentW / 2, 1e-12);
  });

  it('with a shared error: that does not fall', () => {
    const shared = [{ temperature: normal(0.2), humidity: normal(1.5) }];
    const of = (n: number): CapacityUncertainty => {
      const ret = alike(n).map((probe) => ({ ...probe, shared: 0 }));
      return combine(budgetOf({ ret, shared }), RESULT);
    };
    expectWithin(of(4).uTotalW, of(1).uTotalW, 1e-12);
    expectWithin(of(4).uLatentW, of(1).uLatentW, 1e-12);
  });

  it('one whose humidity was not checked has no part in that shared error', () => {
    const shared = [{ temperature: normal(0.2), humidity: normal(1.5) }];
    const of = (sharesHumidity: boolean): number =>
      budgetOf({ ret: [{ ...returnProbe(0, 0, 0), sharesHumidity }], shared }).find(
        (item) => item.kind === 'common-humidity',
      )?.totalW ?? NaN;
    expectNear(of(true), 1.5 * 138.95, 0.01);
    expect(of(false)).toBe(0);
  });

  it('their spread is a type A of the mean: the voltages of JCGM 100, H.2, as if they were °C', () => {
    // u of the mean 0.0032, as published, widened by t_95(4)/1.96 = 2.776/1.96 (table G.2); a sensitivity of 667.96 W/K (above) less its W's part.
    const volts = [5.007, 4.994, 5.005, 4.99, 4.999];
    const ret = alike(5).map((probe, i) => ({ ...probe, temperatureC: volts[i] ?? NaN }));
    const perK = RESULT.dryAirKgs * (1006 + 1860 * (ret[0]?.humidityRatio ?? NaN));
    const spread = budgetOf({ ret }).find((item) => item.kind === 'spread');
    expect(spread?.of).toBe('return');
    const wider = 2.776 / 1.96;
    expectNear((spread?.totalW ?? NaN) / perK, 0.0032 * wider, 5e-5);
    expectNear((spread?.sensibleW ?? NaN) / perK, 0.0032 * wider, 5e-5);
    expect(spread?.latentW).toBe(0);
  });

  it('and no more than what their own errors leave unexplained', () => {
    const apart = (uT: number): CapacityUncertainty & { spread: boolean } => {
      const ret = alike(2, uT).map((p, i) => ({ ...p, temperatureC: EXAMPLE.t1 + i - 0.5 }));
      const budget = budgetOf({ ret });
      return { ...combine(budget, RESULT), spread: budget.some((i) => i.kind === 'spread') };
    };
    expect(apart(0.2).spread).toBe(true);
    expect(apart(1).spread).toBe(false);
    // The errors of limits and the rest of the spread make up the spread that was seen; Student's t of
    // one degree of freedom, 12.706 (JCGM 100, table G.2), widens the rest alone.
    const wider = 12.706 / 1.96;
    const own = apart(1).uTotalW / 5;
    expectWithin(
      apart(0.2).uTotalW ** 2,
      apart(0).uTotalW ** 2 - (wider ** 2 - 1) * own ** 2,
      1e-4,
    );
  });

  it('one that tells no humidity counts for the temperature alone', () => {
    const blind = { ...returnProbe(0.2), id: 'blind', humidityRatio: null };
    const budget = budgetOf({ ret: [{ ...returnProbe(0.2, 1.5), id: 'both' }, blind] });
    const of = (kind: BudgetKind, id: string): BudgetItem | undefined =>
      budget.find((item) => item.kind === kind && item.of === id);
    const alone = budgetOf({ ret: [{ ...returnProbe(0.2, 1.5), id: 'both' }] });
    const humidity = alone.find((item) => item.kind === 'humidity' && item.of === 'both');
    expect(of('humidity', 'both')?.totalW).toBeCloseTo(humidity?.totalW ?? NaN, 9);
    expect(of('humidity', 'blind')).toBeUndefined();
    // Half of ∂h/∂t at constant W.
    const perK =
      (RESULT.dryAirKgs * (1006 + 1860 * point(EXAMPLE.t1, EXAMPLE.rh1).humidityRatio)) / 2;
    expectWithin(of('temperature', 'blind')?.totalW ?? NaN, 0.2 * perK, 1e-12);
  });
});
