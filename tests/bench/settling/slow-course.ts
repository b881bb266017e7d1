/**
 * The plateau of a truth that nobody prescribed. Behind the approach of a minute or more the capacity
 * goes on to move with its room, over an hour: that slow course is the plateau. It is a parabola
 * through all that follows some second, up to the segment's end: the first second for which that
 * fits within 2 %, and two minutes more for the tail of the approach. It has truly settled where it
 * comes within 2 % of that and stays so. Before, the parabola is carried back.
 * (A line through the last eight minutes, or a parabola through the last two thirds, carried back to
 * the beginning, was 3 to 5 % off there: settled came out minutes too late.)
 */
import { at, settledSince } from './visit.ts';

/** A parabola that moves faster than this where it begins is an approach: share in ten minutes. */
const APPROACH = 0.12;
/** Centred mean over so many seconds on both sides: swings of the machine are no approach. */
const HALF_S = 15;
/** What follows must be so long to tell anything, s; and candidates are tried so far apart, s. */
const LEAST_S = 480;
const TAIL_S = 120;
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

/** The parabola of least squares through `from`…`to`, by orthogonal polynomials of these very points. */
function parabola(
  value: (i: number) => number,
  from: number,
  to: number,
): (second: number) => number {
  const half = (to - from) / 2;
  const count = Math.floor((to - from) / STEP_S) + 1;
  // The points' own middle, from which x runs evenly to both sides.
  const middle = from + (STEP_S * (count - 1)) / 2;
  let square = 0;
  for (let k = 0; k < count; k++) square += ((from + STEP_S * k - middle) / half) ** 2 / count;
  let a = 0;
  let b = 0;
  let c = 0;
  let norm = 0;
  for (let k = 0; k < count; k++) {
    const x = (from + STEP_S * k - middle) / half;
    const y = value(from + STEP_S * k);
    const second = x * x - square;
    a += y / count;
    b += (x * y) / (count * square);
    c += second * y;
    norm += second * second;
  }
  return (second) => {
    const x = (second - middle) / half;
    return a + b * x + (c / norm) * (x * x - square);
  };
}

/** The slow course of `from`…`to`; null where there is none. */
export function slowCourse(values: Float64Array, from: number, to: number): SlowCourse | null {
  const smooth = smoothed(values, from, to);
  for (let first = from; first <= to - LEAST_S; first += STEP_S) {
    const rough = parabola(smooth, first, to);
    if (Math.abs(driftOf(rough, first)) > APPROACH) continue;
    const misses = settledSince((i) => smooth(i) / rough(i) - 1, first, to) !== first;
    if (misses) continue;
    // Once more without the approach's tail, which has lifted or lowered its beginning.
    const course = parabola(smooth, first === from ? from : first + TAIL_S, to);
    const since = settledSince((i) => smooth(i) / course(i) - 1, from, to);
    return since === null ? null : { at: course, since, drift: driftOf(course, since) };
  }
  return null;
}

/** How much a course moves in the ten minutes from a second, as a share. */
function driftOf(course: (i: number) => number, second: number): number {
  return (course(second + 600) - course(second)) / Math.abs(course(second));
}
