/**
 * The plateau of a truth that nobody prescribed. Behind the approach of a minute or more the capacity
 * goes on to move with its room, over an hour: that slow course is the plateau. It is a parabola
 * through all that follows some second, up to the segment's end; the first second for which that
 * fits within 2 % is when the capacity has truly settled. Before, the parabola is carried back.
 * (A line through the last eight minutes, or a parabola through the last two thirds, carried back to
 * the beginning, was 3 to 5 % off there: settled came out minutes too late.)
 */
import { at, SETTLED } from './visit.ts';

/** A parabola that moves faster than this where it begins is an approach: share in ten minutes. */
const APPROACH = 0.12;
/** Centred mean over so many seconds on both sides: swings of the machine are no approach. */
const HALF_S = 15;
/** What follows must be so long to tell anything, s; and candidates are tried so far apart, s. */
const LEAST_S = 480;
const STEP_S = 3;

export interface SlowCourse {
  /** W in any second of the segment. */
  at(second: number): number;
  /** From here on the truth stays within 2 % of it. */
  since: number;
  /** How much it moves in the ten minutes from there, as a share. */
  drift: number;
}

/** Centred means of `values`, within `from`…`to`. */
export function smoothed(values: Float64Array, from: number, to: number): (i: number) => number {
  const sums = new Float64Array(to - from + 2);
  for (let i = from; i <= to; i++) sums[i - from + 1] = at(sums, i - from) + at(values, i);
  return (i) => {
    const half = Math.min(HALF_S, i - from, to - i);
    return (at(sums, i + half + 1 - from) - at(sums, i - half - from)) / (2 * half + 1);
  };
}

/** Least squares through `from`…`to`. Not by equations: Legendre's polynomials are all but orthogonal. */
function parabola(
  value: (i: number) => number,
  from: number,
  to: number,
): (second: number) => number {
  const middle = (from + to) / 2;
  const half = (to - from) / 2;
  const n = Math.floor((to - from) / STEP_S) + 1;
  let a = 0;
  let b = 0;
  let c = 0;
  for (let i = from; i <= to; i += STEP_S) {
    const x = (i - middle) / half;
    const y = value(i);
    a += y / n;
    b += (3 * x * y) / n;
    c += (2.5 * (3 * x * x - 1) * y) / n;
  }
  return (second) => {
    const x = (second - middle) / half;
    return a + b * x + (c * (3 * x * x - 1)) / 2;
  };
}

/** The slow course of `from`…`to`; null where there is none. */
export function slowCourse(values: Float64Array, from: number, to: number): SlowCourse | null {
  const smooth = smoothed(values, from, to);
  for (let since = from; since <= to - LEAST_S; since += STEP_S) {
    const course = parabola(smooth, since, to);
    const drift = (course(since + 600) - course(since)) / Math.abs(course(since));
    if (Math.abs(drift) > APPROACH) continue;
    let fits = true;
    for (let i = since; fits && i <= to; i += STEP_S) {
      fits = Math.abs(smooth(i) / course(i) - 1) <= SETTLED;
    }
    if (fits) return { at: course, since, drift };
  }
  return null;
}
