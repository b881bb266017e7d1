/**
 * Airflow against published positions, integrals worked out here by another way, and worked figures.
 * Sources stand beside each check.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { densityFactor, readingError } from '../../server/measure/airflow/anemometer.ts';
import { combineFlows, compareFlows } from '../../server/measure/airflow/compare.ts';
import { condensateFlow } from '../../server/measure/airflow/condensate.ts';
import { endRule, endsExcess } from '../../server/measure/airflow/ends.ts';
import { flowU95, type MeasuredFlow } from '../../server/measure/airflow/flow-error.ts';
import { fitFactor } from '../../server/measure/airflow/free-area.ts';
import { gridFlow } from '../../server/measure/airflow/grid.ts';
import { knownHeatFlow } from '../../server/measure/airflow/known-heat.ts';
import { gridPoints, pointsOn, positions } from '../../server/measure/airflow/positions.ts';
import { sweptFlow } from '../../server/measure/airflow/sweep.ts';
import { zeroInPlace } from '../../server/measure/airflow/zero.ts';
import {
  moistHeat,
  stateFromRelativeHumidity,
  volumeM3kg,
} from '../../server/measure/moist-air.ts';

const VANE = { id: 'v', kind: 'vane', headM: null } as const;
const slot = (widthM: number, lengthM: number, freeArea = 1) => ({
  plane: 'supply' as const,
  sections: [{ widthM, lengthM }],
  freeArea,
});
const even = (meanMs: number) => [{ meanMs, variation: 0 }];

/** A 1/7 power profile between two walls; its mean is 7/8. */
const power = (x: number): number => (2 * Math.min(x, 1 - x)) ** (1 / 7);

describe('points of a traverse', () => {
  it('log-Tchebycheff from the axis, as ISO 3966 gives it (from memory; REFERENCES 3.1)', () => {
    const FROM_AXIS: [number, number[]][] = [
      [5, [0, 0.212, 0.426]],
      [6, [0.063, 0.265, 0.439]],
      [7, [0, 0.134, 0.297, 0.447]],
    ];
    for (const [n, axis] of FROM_AXIS) {
      const both = [...axis.map((a) => 0.5 - a), ...axis.map((a) => 0.5 + a)];
      const wanted = [...new Set(both.map((x) => x.toFixed(3)))].sort();
      expect(positions('log-tchebycheff', n).map((x) => x.toFixed(3))).toEqual(wanted);
    }
    expect(() => positions('log-tchebycheff', 4)).toThrow('5, 6 or 7');
  });

  it('the number of log-Tchebycheff points by the length of a side (ASHRAE 111; REFERENCES 3.1)', () => {
    expect([0.759, 0.76, 0.915, 0.916].map((m) => pointsOn('log-tchebycheff', m, true))).toEqual([
      5, 6, 6, 7,
    ]);
  });

  it('equal areas: centers of equal parts, at most 150 mm apart (Handbook tradition, from memory)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.02, max: 2.3, noNaN: true }),
        fc.double({ min: 0.02, max: 2.3, noNaN: true }),
        (widthM, lengthM) => {
          const points = gridPoints('equal-area', [{ widthM, lengthM }]);
          const columns = new Set(points.map((p) => p.column)).size;
          const rows = new Set(points.map((p) => p.row)).size;
          expect(points).toHaveLength(columns * rows);
          expect(lengthM / columns).toBeLessThanOrEqual(0.15 + 1e-9);
          expect(widthM / rows).toBeLessThanOrEqual(0.15 + 1e-9);
          // By symmetry the mean of the positions is the middle.
          const mean = points.reduce((s, p) => s + p.alongM, 0) / points.length;
          expect(mean).toBeCloseTo(lengthM / 2, 9);
        },
      ),
    );
  });

  const ruleMean = (rule: 'equal-area' | 'log-tchebycheff', n: number): number =>
    positions(rule, n).reduce((s, x) => s + power(x), 0) / n;

  it('on a 1/7 power profile log-Tchebycheff is within 0.4 %, equal area 1.5 to 3.5 % high', () => {
    for (const n of [5, 6, 7]) {
      expect(Math.abs(ruleMean('log-tchebycheff', n) / (7 / 8) - 1)).toBeLessThan(0.004);
      const high = ruleMean('equal-area', n) / (7 / 8) - 1;
      expect(high).toBeGreaterThan(0.01);
      expect(high).toBeLessThan(0.035);
    }
  });
});

describe('the ends of a slot', () => {
  /** By brute force: the head's mean over a line of its diameter, from end to end. */
  function bruteForce(r: number, profile = power, trueMean = 7 / 8): number {
    const steps = 400;
    let sum = 0;
    for (let i = 0; i < steps; i++) {
      const center = r / 2 + ((i + 0.5) / steps) * (1 - r);
      let head = 0;
      for (let j = 0; j < steps; j++) {
        const x = center - r / 2 + ((j + 0.5) / steps) * r;
        head += profile(x) / steps;
      }
      sum += head / steps;
    }
    return sum / trueMean - 1;
  }

  it('a 100 mm head in a slot of 800 mm reads 3.3 % high on a 1/7 power profile', () => {
    expect(endsExcess(0.1, 0.8)).toBeCloseTo(0.0335, 3);
  });

  it('is the integral, whatever the head and the slot', () => {
    for (const r of [0.02, 0.05, 0.125, 0.25, 0.4]) {
      expect(endsExcess(r, 1)).toBeCloseTo(bruteForce(r), 3);
    }
    expect(endsExcess(0, 1)).toBe(0);
  });

  it('even ends (no excess) and dead ends of 26.5 mm (+6 %) are within what it may be off', () => {
    const { factor, error } = endRule(0.1, 0.8);
    const half = error.u * Math.sqrt(3);
    // Even to the ends: nothing is to be taken off.
    expect(Math.abs(1 / factor - 1)).toBeLessThanOrEqual(half / factor + 1e-9);
    // Nothing moves in the outer 26.5 mm of 800 at either end, and between them all is even.
    const dead = 26.5 / 800;
    const between = (x: number): number => (x < dead || x > 1 - dead ? 0 : 1);
    const excess = bruteForce(0.1 / 0.8, between, 1 - 2 * dead);
    expect(excess).toBeCloseTo(0.06, 3);
    expect(Math.abs((1 + excess) * factor - 1)).toBeLessThanOrEqual(half);
  });
});

describe('a sweep', () => {
  it('771 ft/min × 2.5 in × 24 in × 0.95 = 305 ft³/min (worked line common in practice, no source)', () => {
    const outlet = slot(2.5 * 0.0254, 24 * 0.0254, 0.95);
    const { flowM3s } = sweptFlow(outlet, 'o', [even(771 * 0.00508)], VANE, 1.2);
    expect(flowM3s * 2118.88).toBeCloseTo(305.2, 1);
  });

  it('sections count by their area; over supports the head has been', () => {
    const outlet = {
      plane: 'supply' as const,
      sections: [
        { widthM: 0.1, lengthM: 0.4 },
        { widthM: 0.1, lengthM: 0.2, blockedM2: 0.002 },
      ],
      freeArea: 1,
    };
    const sweep = [...even(4), ...even(2)];
    expect(sweptFlow(outlet, 'o', [sweep], VANE, 1.2).flowM3s).toBeCloseTo(0.04 * 4 + 0.02 * 2, 12);
  });

  it('repeats narrow the interval, unless they disagree', () => {
    const outlet = slot(0.15, 0.8);
    const sweep = (meanMs: number) => [{ meanMs, variation: 0.15 }];
    const u = (...means: number[]): number => {
      const flow = sweptFlow(outlet, 'o', means.map(sweep), { ...VANE, headM: 0.07 }, 1.2);
      return flowU95(flow) / flow.flowM3s;
    };
    expect(u(3, 3.03)).toBeLessThan(u(3));
    expect(u(3, 3.03, 2.98)).toBeLessThan(u(3, 3.03));
    expect(u(2.5, 3.5)).toBeGreaterThan(u(3));
    const far = sweptFlow(outlet, 'o', [sweep(2.5), sweep(3.5)], VANE, 1.2);
    expect(far.disagree).toBe(true);
    expect(sweptFlow(outlet, 'o', [sweep(3), sweep(3.03)], VANE, 1.2).disagree).toBe(false);
  });
});

describe('a grid', () => {
  const outlet = slot(0.1, 0.6);
  it('all equal: the velocity times the area, with no variation', () => {
    const points = gridPoints('equal-area', outlet.sections).map((p) => ({
      ...p,
      meanMs: 3,
      uMs: 0.02,
    }));
    const flow = gridFlow(outlet, 'o', points, VANE, 1.2, 'equal-area');
    expect(flow.flowM3s).toBeCloseTo(3 * 0.06, 12);
    expect(flow.variation).toBeCloseTo(0, 12);
  });

  it('one point tells a flow, and that it is hardly known', () => {
    const point = { section: 0, row: 0, column: 0, meanMs: 3, uMs: 0.02 };
    const flow = gridFlow(outlet, 'o', [point], VANE, 1.2, 'equal-area');
    expect(flow.flowM3s).toBeCloseTo(0.18, 12);
    expect(flowU95(flow) / flow.flowM3s).toBeGreaterThan(0.2);
    expect(() => gridFlow(outlet, 'o', [], VANE, 1.2, 'equal-area')).toThrow('at least one point');
  });
});

describe('instruments', () => {
  it('a thermal anemometer is referred to standard density: 0.977 and 1.099', () => {
    // 1.204/ρ at sea level, ρ = (1 + W)/v: 12 °C at 94 %, and 48 °C with 5.8 g/kg.
    const cold = stateFromRelativeHumidity(12, 94, 101_325);
    const coldDensity = (1 + cold.humidityRatio) / cold.volumeM3kg;
    expect(densityFactor('thermal', coldDensity).factor).toBeCloseTo(0.977, 3);
    const warmDensity = 1.0058 / volumeM3kg(48, 0.0058, 101_325);
    expect(densityFactor('thermal', warmDensity).factor).toBeCloseTo(1.099, 3);
    expect(densityFactor('vane', warmDensity).factor).toBe(1);
    expect(densityFactor('vane', warmDensity).error.u).toBeGreaterThan(0.01);
  });

  it('both terms of a data sheet count, and what nobody has said is assumed', () => {
    // ± (3 % of 4 m/s + 0.1 m/s) = 0.22 m/s = 5.5 %; rectangular (JCGM 100, 4.3.7).
    const { u } = readingError({ ...VANE, limitPct: 3, limitMs: 0.1 }, 4);
    expect(u).toBeCloseTo(0.055 / Math.sqrt(3), 9);
    expect(readingError(VANE, 4).u).toBeCloseTo(u, 9);
  });
});

describe('water, heat and zero', () => {
  it('1.5 kW into 0.15 kg/s of dry air warm it by 9.8 K, and give that flow back', () => {
    const humidityRatio = 0.008;
    const riseK = 1500 / (0.15 * moistHeat(humidityRatio));
    expect(riseK).toBeCloseTo(9.8, 1);
    const flow = knownHeatFlow({
      ...{ powerW: 1500, escape: 0, escapeLimit: 0.02, riseK, riseU: 0.03, humidityRatio },
      supplyVolumeM3kg: 0.86,
    });
    expect(flow?.dryAirKgs).toBeCloseTo(0.15, 9);
    // About 2.5 %: 1 % of the meter, 2 % that may escape, 0.03 K of 9.8.
    expect((flow === null ? NaN : flowU95(flow)) / (flow?.flowM3s ?? NaN)).toBeCloseTo(0.023, 2);
    expect(
      knownHeatFlow({
        powerW: 1500,
        riseK: 0.05,
        riseU: 0.03,
        humidityRatio,
        supplyVolumeM3kg: 0.86,
      }),
    ).toBeNull();
  });

  it('the water gives the latent heat, and with the moisture the flow', () => {
    // 0.9 kg in half an hour are 0.5 g/s; by 2.5 g/kg they left 0.2 kg/s of dry air.
    const flow = condensateFlow({
      massKg: 0.9,
      seconds: 1800,
      humidityRatioDrop: 0.0025,
      dropU: 0.00004,
      dropBy: null,
      supplyVolumeM3kg: 0.82,
    });
    expect(flow?.dryAirKgs).toBeCloseTo(0.2, 9);
    expect(flow?.flowM3s).toBeCloseTo(0.164, 9);
    // 0.5 g/s × 2.5 MJ/kg, within 0.1 %: the Handbook's h_g at 0 °C is 2501 kJ/kg.
    expect(flow?.latentW).toBeCloseTo(1250, -1);
    const dry = { massKg: 0.1, seconds: 1800, humidityRatioDrop: 0.0001, dropU: 0.0002 };
    expect(condensateFlow({ ...dry, dropBy: null, supplyVolumeM3kg: 0.82 })).toBeNull();
  });

  it('zero in place: what is left beyond the fan’s own heat', () => {
    // 25 W in 0.15 kg/s: 0.163 K (1.0206 kJ/kg·K at W 0.008).
    const zero = zeroInPlace({
      ...{ riseK: 0.463, riseU: 0.02, fanW: 25, dryAirKgs: 0.15, flowU: 0.1, humidityRatio: 0.008 },
    });
    expect(zero.offsetK).toBeCloseTo(0.3, 3);
    expect(zero.u95K).toBeLessThan(0.1);
  });
});

describe('the free-area factor', () => {
  it('with exact velocities it is the weighted least squares of a line through the origin', () => {
    const points = [
      { reference: 0.1, referenceU: 0.004, traverse: 0.12, traverseU: 0 },
      { reference: 0.152, referenceU: 0.003, traverse: 0.18, traverseU: 0 },
      { reference: 0.2, referenceU: 0.005, traverse: 0.25, traverseU: 0 },
    ];
    // Σ x y/u² over Σ x²/u², and 1/√Σ x²/u² (JCGM 100, 5.1.2).
    const xy = points.reduce((s, p) => s + (p.traverse * p.reference) / p.referenceU ** 2, 0);
    const xx = points.reduce((s, p) => s + (p.traverse / p.referenceU) ** 2, 0);
    const fit = fitFactor(points);
    expect(fit.factor).toBeCloseTo(xy / xx, 12);
    expect(fit.u).toBeGreaterThanOrEqual(1 / Math.sqrt(xx) - 1e-12);
  });

  it('with errors in both it is the least χ², found here by search', () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.record({
            x: fc.double({ min: 0.05, max: 0.3, noNaN: true }),
            e: fc.double({ min: -1.5, max: 1.5, noNaN: true }),
          }),
          { minLength: 1, maxLength: 6 },
        ),
        fc.double({ min: 0.4, max: 1, noNaN: true }),
        (sample, factor) => {
          const points = sample.map(({ x, e }) => ({
            reference: factor * x + e * 0.003,
            referenceU: 0.003,
            traverse: x,
            traverseU: 0.02 * x,
          }));
          const chi = (f: number): number =>
            points.reduce(
              (s, p) =>
                s +
                (p.reference - f * p.traverse) ** 2 / (p.referenceU ** 2 + (f * p.traverseU) ** 2),
              0,
            );
          const fit = fitFactor(points);
          for (const step of [-1e-4, 1e-4]) {
            expect(chi(fit.factor + step)).toBeGreaterThanOrEqual(chi(fit.factor) - 1e-9);
          }
        },
      ),
      { numRuns: 200 },
    );
  });

  it('the outlier is named, and one flow alone gives what it is worth', () => {
    const on = (x: number, y = 0.8 * x) => ({
      reference: y,
      referenceU: 0.02 * y,
      traverse: x,
      traverseU: 0.01 * x,
    });
    expect(fitFactor([on(0.1), on(0.15), on(0.2), on(0.25)]).outlier).toBeNull();
    expect(fitFactor([on(0.1), on(0.15, 0.15), on(0.2), on(0.25)]).outlier).toBe(1);
    const one = fitFactor([on(0.2)]);
    expect(one.factor).toBeCloseTo(0.8, 9);
    expect(one.u / one.factor).toBeCloseTo(Math.hypot(0.02, 0.01), 6);
  });
});

describe('methods side by side', () => {
  const flow = (
    flowM3s: number,
    uPct: number,
    shared: string | null,
    own: number,
  ): MeasuredFlow => ({
    flowM3s,
    errors: [
      { cause: 'instrument', relative: { u: uPct / 100, shape: 0 }, shared },
      { cause: 'repeats', relative: { u: own / 100, shape: 0 }, shared: null },
    ],
  });

  it('an error that both have cannot make them differ', () => {
    const a = flow(0.15, 3, 'probe v', 1);
    const b = flow(0.156, 3, 'probe v', 1);
    // Alone: 4 % of √2 × 1 %, 2.8 standard uncertainties; with errors of their own 0.9.
    expect(compareFlows(a, b)).toMatchObject({ agree: false, shared: true });
    const other = flow(0.156, 3, null, 1);
    expect(compareFlows(a, other)).toMatchObject({ agree: true, shared: false });
    expect(combineFlows(a, b)).toBeNull();
  });

  it('two independent ones make a surer one, by the inverse of their variances', () => {
    const both = combineFlows(flow(0.15, 2, null, 0), flow(0.152, 4, null, 0));
    expect(both).not.toBeNull();
    if (both === null) return;
    const [ua, ub] = [0.15 * 0.02, 0.152 * 0.04];
    const u = 1 / Math.sqrt(1 / ua ** 2 + 1 / ub ** 2);
    expect(flowU95(both)).toBeCloseTo(1.96 * u, 6);
    expect(both.flowM3s).toBeCloseTo((0.15 / ua ** 2 + 0.152 / ub ** 2) * u ** 2, 9);
  });
});
