/**
 * How a probe drifts: its offsets from the others over all its checks. Those that it was checked with drift
 * as well: a slope is of this probe against the company it was in.
 */
import { fitLine, predict } from './line-fit.ts';
import { student95 } from './student.ts';

export interface FoundOffset {
  /** ms since the epoch. */
  t: number;
  offset: number;
  /** Standard uncertainty. */
  u: number;
}

export interface Drift {
  /** Change a year, with half of its 95 % interval, in the unit of the offsets. */
  perYear: number;
  u95PerYear: number;
  /** Whether the interval leaves out no drift at all. */
  isClear: boolean;
  /** What it is now by the line, with half of its 95 % interval. */
  now: number;
  u95Now: number;
}

const YEAR_MS = 365.25 * 86_400_000;
const NORMAL_95 = 1.959964;
/** Checks this close together tell no drift. */
const LEAST_YEARS = 0.1;

/**
 * A line through the offsets, each by its uncertainty; where they scatter by more than those explain, by
 * that scatter (the ratio of Birge, Phys. Rev. 40, 1932, 207; from memory).
 * @param found in order of time
 * @returns null where fewer than three checks, or too short a time, tell nothing
 */
export function driftOf(found: readonly FoundOffset[], now: number): Drift | null {
  const [first, last] = [found[0], found.at(-1)];
  if (first === undefined || last === undefined || found.length < 3) return null;
  if (last.t - first.t < LEAST_YEARS * YEAR_MS) return null;
  const years = found.map(({ t }) => (t - now) / YEAR_MS);
  const line = fitLine(
    years,
    found.map(({ offset }) => offset),
    0,
    found.map(({ u }) => u),
  );
  const degrees = found.length - 2;
  const birge = Math.sqrt(line.residual / degrees);
  const factor = birge > 1 ? birge * student95(degrees) : NORMAL_95;
  const at = predict(line, 0);
  const u95PerYear = factor * line.uSlope;
  return {
    perYear: line.slope,
    u95PerYear,
    isClear: Math.abs(line.slope) > u95PerYear,
    now: at.y,
    u95Now: factor * at.u,
  };
}
