/** How means of a figure vary about its course: against processes whose variance of a mean is known. */
import { describe, expect, test } from 'vitest';
import { BLOCK_S, KEPT } from '../../server/signal/block-means.ts';
import { Hover } from '../../server/signal/hover.ts';
import { randomStream } from '../../simulator/random.ts';
import { noise } from './noise.ts';

const LEVEL_W = 3000;
const LOOKS = 400;

/**
 * Variance of the mean of n neighbours of AR(1) in terms of that of one, in closed form: the double sum
 * of r^|i−j| over all pairs, ÷ n².
 */
function varianceOfMean(n: number, r: number): number {
  let sum = n;
  for (let lag = 1; lag < n; lag++) sum += 2 * (n - lag) * r ** lag;
  return sum / n ** 2;
}

/** What a course leaves of values: a line through them, least squares, taken off. */
function left(values: Float64Array): Float64Array {
  const n = values.length;
  const middle = (n - 1) / 2;
  let [mean, slope, square] = [0, 0, 0];
  values.forEach((v, i) => {
    mean += v / n;
    slope += (i - middle) * v;
    square += (i - middle) ** 2;
  });
  return values.map((v, i) => v - mean - (slope / square) * (i - middle));
}

/** Taught by many stretches of such noise. */
function taught(likeness: number, scatterW: number): Hover {
  const hover = new Hover();
  for (let look = 0; look < LOOKS; look++) {
    hover.begin(0, LEVEL_W, true);
    const rest = noise(KEPT, likeness, randomStream(look, `hover ${likeness} ${scatterW}`));
    hover.see(0, left(rest.map((v) => scatterW * v)), KEPT);
  }
  hover.begin(0, LEVEL_W, true);
  return hover;
}

describe('the variance of a mean', () => {
  test.each([
    { likeness: 0, scatterW: 150 },
    { likeness: 0.3, scatterW: 150 },
    { likeness: 0.6, scatterW: 150 },
    { likeness: 0.85, scatterW: 150 },
  ])('of neighbours that resemble each other by $likeness', ({ likeness, scatterW }) => {
    const hover = taught(likeness, scatterW);
    for (const n of [1, 2, 4, 8]) {
      const told = hover.varianceOf(n * BLOCK_S) / scatterW ** 2;
      const ratio = told / varianceOfMean(n, likeness);
      // Never much too sure; somewhat too unsure, since still longer means may hover by more.
      expect(ratio, `${n * BLOCK_S} s: ${ratio}`).toBeGreaterThan(0.8);
      expect(ratio, `${n * BLOCK_S} s: ${ratio}`).toBeLessThan(2.1);
    }
    expect(hover.sd / scatterW).toBeGreaterThan(0.9);
    expect(hover.sd / scatterW).toBeLessThan(1.25);
  });

  test('a broad swing: means over whole swings hardly vary', () => {
    const hover = new Hover();
    for (let look = 0; look < LOOKS; look++) {
      const phase = 2 * Math.PI * randomStream(look, 'phase').uniform();
      hover.begin(0, LEVEL_W, true);
      // 160 s a swing, in means of 20 s, after what finer ones have told.
      const swing = (stepS: number): Float64Array =>
        Float64Array.from(
          { length: KEPT },
          (_, i) => 60 * Math.SQRT2 * Math.sin((2 * Math.PI * i * stepS) / 160 + phase),
        );
      hover.see(0, swing(5), KEPT);
      hover.see(2, swing(20), KEPT);
    }
    hover.begin(0, LEVEL_W, true);
    expect(Math.sqrt(hover.varianceOf(5))).toBeGreaterThan(50);
    expect(Math.sqrt(hover.varianceOf(160))).toBeLessThan(0.35 * 60);
  });

  test('nothing seen: as usual machines do; seen once, it is believed in part', () => {
    const hover = new Hover();
    hover.begin(0, LEVEL_W, false);
    const usual = hover.sd;
    expect(usual).toBeGreaterThan(0.001 * LEVEL_W);
    expect(usual).toBeLessThan(0.015 * LEVEL_W);
    hover.see(
      0,
      noise(KEPT, 0, randomStream(1, 'once')).map((v) => 100 * v),
      KEPT,
    );
    expect(hover.sd).toBeGreaterThan(70);
    hover.restart();
    hover.begin(0, LEVEL_W, false);
    expect(hover.sd).toBeCloseTo(usual, 6);
  });

  test('it falls with the length of the mean, and scales with the figure', () => {
    const hover = taught(0.6, 150);
    const lengths = [5, 7, 10, 25, 60, 160, 300, 600, 2400];
    const variances = lengths.map((s) => hover.varianceOf(s));
    variances.slice(1).forEach((v, i) => expect(v).toBeLessThan(variances[i] ?? NaN));
    hover.rescale(1.2);
    lengths.forEach((s, i) =>
      expect(hover.varianceOf(s)).toBeCloseTo(1.44 * (variances[i] ?? NaN), 6),
    );
  });

  test('as if white: no mean over a part of the stretch is taken to be surer than it is', () => {
    const hover = taught(0.85, 150);
    const single = hover.asIfWhite(0, 160);
    for (const n of [1, 2, 4, 8, 16]) {
      expect(single / n).toBeGreaterThanOrEqual(hover.varianceOf(n * BLOCK_S) * (1 - 1e-9));
    }
  });
});
