/** What a unit should deliver, and whether it does, against published values. Sources stand beside each. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  conformance,
  normalCdf,
  probabilityAbove,
  verdictOf,
} from '../../server/measure/expectation/conformance.ts';
import {
  coolingFactor,
  expectedAt,
  heatingFactor,
  type PublishedPoint,
} from '../../server/measure/expectation/published.ts';

describe('conformance', () => {
  it('JCGM 106’s examples (from memory): burst pressure and a Zener diode', () => {
    expect(probabilityAbove(507, 8.6, 490)).toBeCloseTo(0.976, 3);
    // An upper limit: below −5.40.
    expect(1 - probabilityAbove(-5.47, 0.05, -5.4)).toBeCloseTo(0.919, 3);
  });

  it('the normal distribution at points of any table', () => {
    for (const [z, p] of [
      [0, 0.5],
      [1, 0.841345],
      [1.96, 0.975002],
      [-1.644854, 0.05],
      [3, 0.99865],
    ] as const) {
      expect(normalCdf(z)).toBeCloseTo(p, 6);
    }
  });

  it('of measured and expected, both with their intervals (worked by hand from the formula)', () => {
    const p = (measured: number, u95: number, expected: number, e95: number): number =>
      conformance(measured, u95 / 1.96, expected, e95 / 1.96);
    expect(p(3.2, 0.29, 3.5, 0)).toBeCloseTo(0.63, 2);
    expect(p(3.5, 0.32, 3.5, 0.35)).toBeCloseTo(0.937, 3);
    expect(verdictOf(p(3.6, 0.17, 3.5, 0.18), true)).toBe('meets');
    expect(p(2.6, 0.24, 3.5, 0.35)).toBeCloseTo(0.003, 3);
    expect(verdictOf(p(2.6, 0.24, 3.5, 0.35), true)).toBe('falls-short');
    expect(verdictOf(p(2.6, 0.24, 3.5, 0.35), false)).toBe('not-asked');
    expect(verdictOf(p(3.2, 0.29, 3.5, 0), true)).toBe('cannot-tell');
  });

  it('an error that both share cancels as far as it is shared', () => {
    // Measured 3.3 against 3.5, each u 0.2, all of it shared: only a tenth of it is left.
    const apart = conformance(3.3, 0.2, 3.5, 0.2);
    const together = conformance(3.3, 0.2, 3.5, 0.2, 0.9, 0.04);
    expect(apart).toBeCloseTo(normalCdf(0.15 / Math.hypot(0.2, 0.18)), 9);
    expect(together).toBeCloseTo(normalCdf(0.15 / 0.02), 9);
  });
});

describe('the open curves', () => {
  it('cooling, ductless: the values of the collection (REFERENCES 7.4)', () => {
    for (const [wb, out, factor] of [
      [19.44, 35, 1],
      [19.44, 27.78, 1.0727],
      [19.44, 46.1, 0.8431],
      [15, 35, 0.9711],
      [22, 35, 1.0166],
    ] as const) {
      expect(coolingFactor(out, wb)).toBeCloseTo(factor, 3);
    }
    expect(coolingFactor(10, 19)).toBeNull();
    expect(coolingFactor(35, 25)).toBeNull();
  });

  it('heating: 1.000, 0.891 and 0.729; 24 °C inside takes off 0.030', () => {
    expect(heatingFactor(8.33, 21.11)).toBeCloseTo(1, 3);
    expect(heatingFactor(1.67, 21.11)).toBeCloseTo(0.8915, 3);
    expect(heatingFactor(-8.33, 21.11)).toBeCloseTo(0.729, 2);
    const off = (heatingFactor(8.33, 21.11) ?? NaN) - (heatingFactor(8.33, 24) ?? NaN);
    expect(off).toBeCloseTo(0.03, 3);
  });
});

describe('what is published', () => {
  const point = (
    outdoorC: number,
    wb: number,
    totalW: number,
    output: PublishedPoint['speed'] = 'maximum',
  ) => ({
    ...{ speed: output, outdoorC, indoorC: 27, indoorWetBulbC: wb, totalW },
  });
  const table = [
    point(30, 16, 3400),
    point(30, 20, 3800),
    point(35, 16, 3200),
    point(35, 20, 3600),
  ];
  const at = (outdoorC: number, indoorWetBulbC: number) => ({
    outdoorC,
    indoorC: 27,
    indoorWetBulbC,
  });

  it('is interpolated in both directions, and is itself at its points', () => {
    for (const p of table) {
      expect(expectedAt('cooling', table, at(p.outdoorC, p.indoorWetBulbC))?.totalW).toBe(p.totalW);
    }
    expect(expectedAt('cooling', table, at(32.5, 18))).toMatchObject({ totalW: 3500, by: 'table' });
    fc.assert(
      fc.property(
        fc.double({ min: 30, max: 35, noNaN: true }),
        fc.double({ min: 16, max: 20, noNaN: true }),
        (o, w) => {
          // The table is a plane: 3400 − 40 (o − 30) + 100 (w − 16).
          expect(expectedAt('cooling', table, at(o, w))?.totalW).toBeCloseTo(
            3400 - 40 * (o - 30) + 100 * (w - 16),
            6,
          );
        },
      ),
    );
  });

  it('outside it is an estimate by the curve, and that is said; far outside nothing', () => {
    const out = expectedAt('cooling', table, at(40, 18));
    expect(out?.by).toBe('curve');
    expect(out?.relative.u).toBeGreaterThan(0.1 / Math.sqrt(3));
    expect(expectedAt('cooling', table, at(5, 18))).toBeNull();
    expect(
      expectedAt('cooling', table, { outdoorC: 33, indoorC: 27, indoorWetBulbC: null }),
    ).toBeNull();
  });

  it('what it gives at most is what counts; without it the rated figure', () => {
    const points = [
      point(35, 19, 1000, 'minimum'),
      point(35, 19, 3500, 'rated'),
      point(35, 19, 4100),
    ];
    expect(expectedAt('cooling', points, at(35, 19))?.totalW).toBe(4100);
    expect(expectedAt('cooling', points.slice(0, 2), at(35, 19))?.totalW).toBe(3500);
    expect(expectedAt('cooling', points.slice(0, 1), at(35, 19))).toBeNull();
  });
});
