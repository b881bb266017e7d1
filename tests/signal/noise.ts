/** Noise whose every statistic is known. */
import type { Random } from '../../simulator/random.ts';

/** AR(1) of unit variance: each of `n` values resembles the one before by `likeness`. */
export function noise(n: number, likeness: number, random: Random): Float64Array {
  let value = random.normal();
  return Float64Array.from({ length: n }, () => {
    const now = value;
    value = likeness * value + Math.sqrt(1 - likeness ** 2) * random.normal();
    return now;
  });
}
