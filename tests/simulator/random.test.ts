import { describe, expect, it } from 'vitest';
import { randomStream, xorshift128 } from '../../simulator/random.ts';

describe('random numbers', () => {
  it('gives the sequence that Marsaglia printed for his starting words', () => {
    // Marsaglia, "Xorshift RNGs", J. Stat. Softw. 8(14), 2003: x, y, z, w as there; the outputs are
    // from memory (they are quoted widely).
    const state = Uint32Array.of(123456789, 362436069, 521288629, 88675123);
    const words = Array.from({ length: 5 }, () => xorshift128(state));
    expect(words).toEqual([3701687786, 458299110, 2500872618, 3633119408, 516391518]);
  });

  it('repeats itself for the same seed and name, and only then', () => {
    const draw = (seed: number, name: string): number[] => {
      const stream = randomStream(seed, name);
      return Array.from({ length: 20 }, () => stream.uniform());
    };
    expect(draw(7, 'p1 noise')).toEqual(draw(7, 'p1 noise'));
    expect(draw(7, 'p1 noise')).not.toEqual(draw(8, 'p1 noise'));
    expect(draw(7, 'p1 noise')).not.toEqual(draw(7, 'p2 noise'));
  });

  it('has the moments of its distributions', () => {
    const n = 100_000;
    const stream = randomStream(3, 'moments');
    const moments = (draw: () => number): { mean: number; sd: number } => {
      const values = Array.from({ length: n }, draw);
      const mean = values.reduce((sum, x) => sum + x, 0) / n;
      return { mean, sd: Math.sqrt(values.reduce((sum, x) => sum + (x - mean) ** 2, 0) / n) };
    };
    // Five standard errors of the mean are 0.0046 for a uniform, 0.016 for the others.
    const uniform = moments(() => stream.uniform());
    expect(Math.abs(uniform.mean - 0.5)).toBeLessThan(0.005);
    expect(Math.abs(uniform.sd - 1 / Math.sqrt(12))).toBeLessThan(0.003);
    const normal = moments(() => stream.normal());
    expect(Math.abs(normal.mean)).toBeLessThan(0.016);
    expect(Math.abs(normal.sd - 1)).toBeLessThan(0.012);
    const wait = moments(() => stream.wait(1));
    expect(Math.abs(wait.mean - 1)).toBeLessThan(0.016);
    expect(Math.abs(wait.sd - 1)).toBeLessThan(0.03);
  });
});
