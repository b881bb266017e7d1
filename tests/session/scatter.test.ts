import { describe, expect, test } from 'vitest';
import { randomStream } from '../../simulator/random.ts';
import { MeanScatter } from '../../server/signal/scatter.ts';

/** AR(1) noise of standard deviation 1. */
function series(n: number, r: number, seed: number): number[] {
  const random = randomStream(seed, 'scatter');
  let x = random.normal();
  return Array.from({ length: n }, () => (x = r * x + Math.sqrt(1 - r * r) * random.normal()));
}

describe('the mean of readings that resemble their neighbours', () => {
  // Variance of the mean of AR(1) noise: (1 + r)/(1 − r)/n for long series (Zwiers and von Storch 1995).
  test.each([0, 0.5, 0.9, 0.97])(
    'r = %s: its u is what the means of many series scatter by',
    (r) => {
      const n = 2000;
      const means: number[] = [];
      const us: number[] = [];
      for (let seed = 1; seed <= 400; seed++) {
        const scatter = new MeanScatter();
        for (const x of series(n, r, seed)) scatter.add(5000 + x);
        means.push(scatter.mean - 5000);
        us.push(scatter.u);
      }
      const sd = Math.sqrt(means.reduce((s, m) => s + m * m, 0) / means.length);
      const rms = Math.sqrt(us.reduce((s, u) => s + u * u, 0) / us.length);
      expect(sd).toBeGreaterThan(0.9 * Math.sqrt((1 + r) / (1 - r) / n));
      expect(Math.abs(rms / sd - 1)).toBeLessThan(0.12);
    },
  );

  test('equals a two-pass computation, also for large figures that hardly move', () => {
    const values = series(500, 0.8, 3).map((x) => 1e9 + 1e-3 * x);
    const scatter = new MeanScatter();
    for (const x of values) scatter.add(x);
    const offsets = values.map((x) => x - 1e9);
    const mean = offsets.reduce((s, x) => s + x, 0) / 500;
    const s2 = offsets.reduce((s, x) => s + (x - mean) ** 2, 0) / 499;
    expect(scatter.mean - 1e9).toBeCloseTo(mean, 6);
    expect(scatter.u * Math.sqrt(scatter.effectiveN)).toBeCloseTo(Math.sqrt(s2), 6);
  });

  test('few or equal readings: no scatter, no NaN', () => {
    const scatter = new MeanScatter();
    scatter.add(3);
    expect([scatter.mean, scatter.u]).toEqual([3, 0]);
    scatter.add(3);
    scatter.add(3);
    expect([scatter.mean, scatter.u, scatter.effectiveN]).toEqual([3, 0, 3]);
  });
});
