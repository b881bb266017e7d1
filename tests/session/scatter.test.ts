import { describe, expect, test } from 'vitest';
import { randomStream } from '../../simulator/random.ts';
import { MeanScatter } from '../../server/signal/scatter.ts';

/** AR(1) noise of standard deviation 1. */
function series(n: number, r: number, seed: number): number[] {
  const random = randomStream(seed, 'scatter');
  let x = random.normal();
  return Array.from({ length: n }, () => (x = r * x + Math.sqrt(1 - r * r) * random.normal()));
}

interface Wandering {
  /** Standard deviation of white noise beside the wandering, whose own is 1. */
  jitter: number;
  dampingS: number;
  periodS: number;
  seconds: number;
}

/** A pointer that turns, shrinks and is pushed at random, seen from one side, and white noise on it. */
function wandering({ jitter, dampingS, periodS, seconds }: Wandering, seed: number): number[] {
  const random = randomStream(seed, 'wandering');
  const keep = Math.exp(-1 / dampingS);
  const push = Math.sqrt(1 - keep * keep);
  const [cos, sin] = [Math.cos((2 * Math.PI) / periodS), Math.sin((2 * Math.PI) / periodS)];
  let [x, y] = [random.normal(), random.normal()];
  return Array.from({ length: seconds }, () => {
    [x, y] = [keep * (cos * x - sin * y), keep * (sin * x + cos * y)];
    x += push * random.normal();
    y += push * random.normal();
    return x + jitter * random.normal();
  });
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

  /**
   * A machine that wanders, read by a probe that jitters: Monte Carlo of the sum of both. A wave of
   * 170 s that chance keeps going is like the laboratory's hover of tests/bench/settling/hover.ts; of a
   * swing, longer pieces undo each other, so its u is too wide.
   */
  test.each([
    ['a memory of 40 s', { jitter: 1, dampingS: 40, periodS: Infinity, seconds: 1200 }, 0.85, 1.2],
    ['a memory of 40 s', { jitter: 1, dampingS: 40, periodS: Infinity, seconds: 2400 }, 0.85, 1.2],
    ['a memory of 10 s', { jitter: 2, dampingS: 10, periodS: Infinity, seconds: 600 }, 0.85, 1.2],
    ['a swing of 170 s', { jitter: 0.5, dampingS: 100, periodS: 170, seconds: 2400 }, 0.95, 2],
  ])('%s under a jitter, %o: its u is true, or too wide', (_, noise, least, most) => {
    let [square, claimed] = [0, 0];
    for (let seed = 1; seed <= 300; seed++) {
      const scatter = new MeanScatter();
      for (const x of wandering(noise, seed)) scatter.add(5800 + x);
      square += (scatter.mean - 5800) ** 2;
      claimed += scatter.u ** 2;
    }
    const ratio = Math.sqrt(claimed / square);
    expect(ratio).toBeGreaterThan(least);
    expect(ratio).toBeLessThan(most);
  });

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
