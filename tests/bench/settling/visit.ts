/**
 * A visit of which everything is known: its lines as a log would hold them, and second by second what
 * was so. Two makers of such visits stand behind it: the curves beside this file, and the simulator.
 *
 * Second `i` of a visit is the one that ends at `startT + 1000 i`: the second of that snapshot.
 */
import type { Line } from '../../../adapters/contract.ts';
import type { Knowledge } from './knowledge.ts';

/** How the true capacity goes to its plateau after a change. */
export interface Approach {
  /** From the act to the first response, s. */
  deadS: number;
  /** From then to 63.2 % of the way, s: for a first order its time constant. */
  tauS: number;
  /** The larger time constant of a second order, s; null where that is not what it is. */
  largerS: number | null;
  /** The mean lag of the probes that see it, s. */
  lagS: number;
}

/**
 * What a stretch of a visit is: `settles` after a change and must be called steady; `cycles` by itself
 * and must be called so; is `cut` short by another change, or moves too much for anybody to call it
 * anything; is the `lead` before the first change; is a
 * `defrost`.
 */
export type Stretch = 'settles' | 'cycles' | 'cut' | 'lead' | 'defrost';

export interface Segment {
  stretch: Stretch;
  /** Its first and its last second. */
  from: number;
  to: number;
  /** The second by which the log has been told of the change; null: it is not. */
  toldAt: number | null;
  /** From here on within 2 % of its plateau to its end; null: never. */
  settledAt: number | null;
  /** Null where nothing moves by more than a tenth of the plateau. */
  approach: Approach | null;
  /** Where it cycles: the seconds in which a period begins. */
  turns: number[];
}

export interface Visit {
  source: 'curves' | 'simulator' | 'hover';
  kind: string;
  seed: number;
  /** Reported, but counted in no total: nobody has promised anything of it. */
  aside: boolean;
  unit: string;
  /** Second 0 ends here, ms since the epoch. */
  startT: number;
  lines: Line[];
  /** The true capacity of each second, W. */
  trueW: Float64Array;
  trueLatentW: Float64Array;
  /** The true capacity without its hover and other chance, W; null where nobody can tell them apart. */
  levelW: Float64Array | null;
  /** Where the true capacity heads or stands, W; NaN where that cannot be said. */
  plateauW: Float64Array;
  segments: Segment[];
  /** How it was made, for a judge that may know; null where nobody knows. */
  knowledge: Knowledge | null;
}

/** `curves/ramp/3`. */
export function nameOf(visit: Pick<Visit, 'source' | 'kind' | 'seed'>): string {
  return `${visit.source}/${visit.kind}/${visit.seed}`;
}

/** An element that is there. */
export function at(values: ArrayLike<number>, i: number): number {
  return values[i] ?? NaN;
}

/** How near its plateau a capacity has settled, as a share. */
export const SETTLED = 0.02;

/** From here on `away` (a share of the plateau) stays within 2 %, up to the segment's end; or null. */
export function settledSince(
  away: (second: number) => number,
  from: number,
  to: number,
): number | null {
  let second = to;
  while (second >= from && Math.abs(away(second)) <= SETTLED) second--;
  return second === to ? null : second + 1;
}
