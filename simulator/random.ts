/**
 * Seeded random numbers, in independent streams: each part of the simulation draws from a stream of
 * its own, so that a change to one (more noise, a dropout) leaves the draws of the others as they
 * were.
 */

/** A stream of random numbers. */
export interface Random {
  /** Uniform in [0, 1). */
  uniform(): number;
  /** Uniform in [low, high). */
  between(low: number, high: number): number;
  /** Normal, mean 0, standard deviation 1. */
  normal(): number;
  /** Exponential with the given mean: the wait for something that happens at random. */
  wait(mean: number): number;
}

/**
 * The next 32-bit word of Marsaglia's xorshift128 (J. Stat. Softw. 8(14), 2003); `state` holds its
 * four words, not all zero, and is moved on.
 */
export function xorshift128(state: Uint32Array): number {
  const x = state[0] ?? 0;
  const w = state[3] ?? 0;
  const t = x ^ (x << 11);
  state[0] = state[1] ?? 0;
  state[1] = state[2] ?? 0;
  state[2] = w;
  state[3] = w ^ (w >>> 19) ^ t ^ (t >>> 8);
  return state[3];
}

/** Spreads text over 32 bits: FNV-1a, and a last stir so that near texts end far apart. */
function spread(text: string): number {
  let hash = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) {
    hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193);
  }
  hash = Math.imul(hash ^ (hash >>> 16), 0x45d9f3b);
  return (hash ^ (hash >>> 16)) >>> 0;
}

/**
 * The stream of a name: the same seed and name always give the same numbers.
 * @param seed any number
 * @param name who draws, e.g. `p1 noise`
 */
export function randomStream(seed: number, name: string): Random {
  const state = Uint32Array.from([0, 1, 2, 3], (i) => spread([seed, i, name].join('|')));
  state[3] = (state[3] ?? 0) | 1; // never all zero
  for (let i = 0; i < 16; i++) xorshift128(state);

  const uniform = (): number => xorshift128(state) / 2 ** 32;
  return {
    uniform,
    between: (low, high) => low + (high - low) * uniform(),
    normal: () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform()),
    wait: (mean) => -mean * Math.log(1 - uniform()),
  };
}
