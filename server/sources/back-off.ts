/** How long to wait before the next attempt. */

const LONGEST_S = 60;

/**
 * The pause after `failures` (1, 2, …) in a row, ms: doubles from 1…2 s to at most 30…60 s. Half of
 * it is chance, so that two adapters that failed together do not come back together.
 * @param random from 0 to 1.
 */
export function backOffMs(failures: number, random: number): number {
  const longestS = Math.min(LONGEST_S, 2 ** failures);
  return 1000 * longestS * (0.5 + 0.5 * random);
}
