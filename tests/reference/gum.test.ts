/**
 * Uncertainty in general against the worked examples of the Guide (JCGM 100:2008, annex H), of its
 * Supplement 1 (JCGM 101:2008, clause 9) and of NIST TN 1900. The numbers of H.1, H.2, H.3 and E13
 * stand in the open test data and documentation of two uncertainty programs; those of JCGM 101 are
 * from memory, and worked out anew where it says so.
 */
import { describe, expect, it } from 'vitest';
import {
  ARCSINE,
  coverageFactor95,
  effectiveDegrees,
  halfWidth95,
  NORMAL,
  propagate,
  RECTANGULAR,
  resolutionOf,
  shapeOfSum,
  statement,
  type Uncertain,
} from '../../server/measure/gum.ts';
import { randomStream } from '../../simulator/random.ts';
import { expectNear, expectWithin } from './near.ts';

const mean = (values: readonly number[]): number =>
  values.reduce((sum, v) => sum + v, 0) / values.length;

describe('what a data sheet says', () => {
  it('±a is rectangular: u = a/√3; with k expanded: u = U/k; a display: u = δ/√12', () => {
    // JCGM 100, 4.3.7 (from memory): copper's coefficient of expansion, known within ±0.40e-6 /°C,
    // has u = 0.23e-6 /°C. F.2.2.1 (from memory): u = 0.29 δ.
    expectNear(statement(0.4).u, 0.23, 0.005);
    expect(statement(0.4, 2)).toEqual({ u: 0.2, shape: NORMAL });
    expectNear(resolutionOf(1).u, 0.29, 0.005);
  });
});

describe('JCGM 100, H.1: an end gauge', () => {
  const LENGTH_NM = 50.000623e6;
  const d = [5.8, 3.9, 6.7];
  const sensitivities = [
    1, // the standard's length
    ...[1, 1, 1], // what the comparator adds
    LENGTH_NM * 0.1, // difference of the coefficients of expansion, at −0.1 °C from 20
    -LENGTH_NM * 11.5e-6, // difference of the temperatures
  ];
  const us = [25, ...d, statement(1e-6).u, statement(0.05).u];
  const degrees = [18, 24, 5, 8, 50, 2];

  it('components 25, 16.599, 6.7, 5.8, 3.9, 2.88679 nm; together 32 nm', () => {
    expectNear(Math.abs((sensitivities[5] ?? 0) * (us[5] ?? 0)), 16.599, 0.0005);
    expectNear((sensitivities[4] ?? 0) * (us[4] ?? 0), 2.88679, 5e-5);
    expectNear(propagate(sensitivities, us), 32, 0.5);
  });

  it('9.7 nm with 25.6 degrees of freedom of the comparison, 16 in all', () => {
    expectNear(propagate([1, 1, 1], d), 9.7, 0.05);
    // 25.6 with the 9.7 rounded, as the Guide does it; 25.45 without.
    expectNear(effectiveDegrees(d, [24, 5, 8]), 25.6, 0.2);
    const parts = us.map((u, i) => Math.abs(u * (sensitivities[i] ?? 0)));
    // 16.75 unrounded; the Guide cuts it to 16.
    expect(Math.floor(effectiveDegrees(parts, degrees))).toBe(16);
  });
});

describe('JCGM 100, H.2: resistance and reactance, measured together', () => {
  const RAW = [
    [5.007, 4.994, 5.005, 4.99, 4.999], // V
    [19.663, 19.639, 19.64, 19.685, 19.678], // mA
    [1.0456, 1.0438, 1.0468, 1.0428, 1.0433], // rad
  ] as const;
  const means = RAW.map(mean);
  const covariance = (i: number, j: number): number => {
    const n = RAW[0].length;
    let sum = 0;
    for (let k = 0; k < n; k++) {
      sum +=
        ((RAW[i]?.[k] ?? NaN) - (means[i] ?? NaN)) * ((RAW[j]?.[k] ?? NaN) - (means[j] ?? NaN));
    }
    return sum / (n - 1) / n;
  };
  const us = [0, 1, 2].map((i) => Math.sqrt(covariance(i, i)));
  const correlation = (i: number, j: number): number =>
    covariance(i, j) / ((us[i] ?? NaN) * (us[j] ?? NaN));
  const [V = NaN, mA = NaN, phi = NaN] = means;
  const Z = (1000 * V) / mA;
  const R = Z * Math.cos(phi);
  const X = Z * Math.sin(phi);
  const SENSITIVITIES = {
    R: [R / V, -R / mA, -X],
    X: [X / V, -X / mA, R],
    Z: [Z / V, -Z / mA, 0],
  };

  it('the readings: u 0.0032 V, 0.0095 mA, 0.00075 rad; r −0.36, 0.86, −0.65', () => {
    expectNear(us[0] ?? NaN, 0.0032, 5e-5);
    expectNear(us[1] ?? NaN, 0.0095, 5e-5);
    expectNear(us[2] ?? NaN, 0.00075, 5e-6);
    expectNear(correlation(0, 1), -0.36, 0.005);
    expectNear(correlation(0, 2), 0.86, 0.005);
    expectNear(correlation(1, 2), -0.65, 0.005);
  });

  it('R 127.732 Ω, u 0.071; X 219.847, u 0.295; Z 254.260, u 0.236', () => {
    expectNear(R, 127.732, 0.001);
    expectNear(X, 219.847, 0.001);
    expectNear(Z, 254.26, 0.001);
    expectNear(propagate(SENSITIVITIES.R, us, correlation), 0.071, 0.001);
    expectNear(propagate(SENSITIVITIES.X, us, correlation), 0.295, 0.001);
    expectNear(propagate(SENSITIVITIES.Z, us, correlation), 0.236, 0.001);
  });

  it('without the correlations 0.1945, 0.2009, 0.2041: the test above sees whether they are there', () => {
    // Worked out apart from this project.
    expectNear(propagate(SENSITIVITIES.R, us), 0.1945, 5e-5);
    expectNear(propagate(SENSITIVITIES.X, us), 0.2009, 5e-5);
    expectNear(propagate(SENSITIVITIES.Z, us), 0.2041, 5e-5);
  });
});

describe('NIST TN 1900, E13: a coefficient of thermal expansion', () => {
  it('1.7266e-5, u 1.76e-6', () => {
    const [L0, L1, T0, T1] = [1.4999, 1.5021, 288.15, 373.1];
    const rise = T1 - T0;
    const a = (L1 - L0) / (L0 * rise);
    const sensitivities = [-L1 / (L0 * L0 * rise), 1 / (L0 * rise), a / rise, -a / rise];
    expectNear(a, 1.7266e-5, 1e-9);
    expectNear(propagate(sensitivities, [1e-4, 2e-4, 0.02, 0.05]), 1.76e-6, 5e-9);
  });
});

const times = (n: number, part: Uncertain): Uncertain[] => Array.from({ length: n }, () => part);
const normal = (u: number): Uncertain => ({ u, shape: NORMAL });
const rectangular = (u: number): Uncertain => ({ u, shape: RECTANGULAR });

describe('JCGM 101, 9.2: sums of four', () => {
  it('normal: u 2.0, 95 % ±3.92', () => {
    expectNear(halfWidth95(times(4, normal(1))), 3.92, 0.005);
  });

  it('rectangular: 95 % ±3.88, which 1.96 u overstates', () => {
    // 2√3 (2 − 0.6^¼) = 3.8794.
    const half = halfWidth95(times(4, rectangular(1)));
    expectWithin(half, 2 * Math.sqrt(3) * (2 - 0.6 ** 0.25), 0.006);
  });

  it('one ten times as wide: u 10.1, 95 % ±17.0, where 1.96 u says ±19.9', () => {
    const parts = [...times(3, rectangular(1)), rectangular(10)];
    const u = propagate(
      parts.map(() => 1),
      parts.map((part) => part.u),
    );
    expectNear(u, 10.149, 0.0005);
    expectNear(1.96 * u, 19.89, 0.005);
    expectWithin(halfWidth95(parts), 17, 0.01);
  });
});

describe('JCGM 101, 9.3: mass calibration, where first order fails', () => {
  const BEST = { mass: 100_000, extra: 1.234, air: 1.2, weight: 8000, reference: 8000 };
  const model = (mass: number, extra: number, air: number, w: number, r: number): number =>
    (mass + extra) * (1 + (air - 1.2) * (1 / w - 1 / r)) - 100_000;

  it('first order 0.0539, drawing 0.0754: the buoyancy is a product of two that are about zero', () => {
    // ∂/∂ρ_W and ∂/∂ρ_R vanish at ρ_a = 1.2, ∂/∂ρ_a at ρ_W = ρ_R: nothing of it is left. A capacity
    // has the like where the mass flow is next to nothing, and the product then shows no figure.
    const sensitivities = [1, 1, 0, 0, 0];
    const us = [0.05, 0.02, statement(0.1).u, statement(1000).u, statement(50).u];
    expectNear(propagate(sensitivities, us), 0.0539, 5e-5);

    const random = randomStream(93, 'mass');
    const n = 1_000_000;
    let sum = 0;
    let square = 0;
    for (let i = 0; i < n; i++) {
      const y = model(
        BEST.mass + 0.05 * random.normal(),
        BEST.extra + 0.02 * random.normal(),
        random.between(1.1, 1.3),
        random.between(7000, 9000),
        random.between(7950, 8050),
      );
      sum += y;
      square += (y - BEST.extra) ** 2;
    }
    expectNear(sum / n, 1.2341, 3e-4);
    expectNear(Math.sqrt(square / n - (sum / n - BEST.extra) ** 2), 0.0754, 2e-4);
  });
});

describe('the factor of 95 % that knows the shape', () => {
  it('is exact for a normal, a rectangular, and two equal rectangular parts', () => {
    expect(coverageFactor95(NORMAL)).toBe(1.96);
    expectWithin(coverageFactor95(RECTANGULAR), 0.95 * Math.sqrt(3), 1e-12);
    // Triangular on ±2a: P(|x| > x0) = (1 − x0/2a)² = 0.05, u = 2a/√6.
    expectWithin(coverageFactor95(-0.6), Math.sqrt(6) * (1 - Math.sqrt(0.05)), 1e-6);
  });

  it('never leaves the range between them, and never jumps', () => {
    let before = coverageFactor95(-1.3);
    for (let shape = -1.3; shape < 0.1; shape += 0.001) {
      const now = coverageFactor95(shape);
      // A second part of up to 5 % of the first widens u, and not yet the interval.
      expect(now).toBeGreaterThan(0.998 * 0.95 * Math.sqrt(3));
      expect(now).toBeLessThanOrEqual(1.96);
      expect(Math.abs(now - before)).toBeLessThan(0.03);
      before = now;
    }
    // Narrower shapes are not told apart: an arcsine's own factor is 1.41.
    expect(coverageFactor95(ARCSINE)).toBe(coverageFactor95(RECTANGULAR));
  });

  it('the shape of a sum is that of its parts, by the fourth power of their size', () => {
    // Two equal rectangular parts make a triangle: −0.6. One part alone keeps its own.
    expectNear(shapeOfSum(times(2, rectangular(3))), -0.6, 1e-12);
    expectNear(shapeOfSum([rectangular(1), normal(0)]), RECTANGULAR, 1e-12);
    expect(shapeOfSum([])).toBe(0);
  });

  // Over 146 mixtures of a million draws each: from 0.5 % too narrow to 2.5 % too wide (a rectangular
  // part with a normal one of 0.4 to 0.7 of its size).
  const random = randomStream(95, 'mixtures');
  const MIXTURES: [what: string, parts: Uncertain[]][] = [
    ...[0.05, 0.2, 0.4, 0.6, 1].flatMap((b): [string, Uncertain[]][] => [
      [`rectangular 1, normal ${b}`, [rectangular(1), normal(b)]],
      [`rectangular 1, rectangular ${b}`, [rectangular(1), rectangular(b)]],
    ]),
    ['four rectangular', times(4, rectangular(1))],
    ...Array.from({ length: 25 }, (_, k): [string, Uncertain[]] => [
      `mixture ${k}`,
      Array.from({ length: 2 + Math.floor(random.uniform() * 5) }, () =>
        (random.uniform() < 0.6 ? rectangular : normal)(random.uniform() ** 2),
      ),
    ]),
  ];
  const DRAWS = 300_000;
  const sums = new Float64Array(DRAWS);

  it.each(MIXTURES)('%s: a hundredth too narrow at most, three too wide', (what, parts) => {
    const draw = randomStream(95, what);
    for (let i = 0; i < DRAWS; i++) {
      let sum = 0;
      for (const { u, shape } of parts) {
        sum += shape === NORMAL ? u * draw.normal() : draw.between(-u, u) * Math.sqrt(3);
      }
      sums[i] = Math.abs(sum);
    }
    sums.sort();
    const drawn = sums[Math.floor(0.95 * DRAWS)] ?? NaN;
    expect(halfWidth95(parts) / drawn).toBeGreaterThan(0.99);
    expect(halfWidth95(parts) / drawn).toBeLessThan(1.03);
  });
});
