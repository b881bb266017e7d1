/**
 * The plateau of a truth that nobody prescribed. Behind the approach of minutes the capacity goes on
 * to move with its room, over an hour: that slow course is the plateau. It is a parabola through the
 * last 60 % of the segment, carried back to its beginning. (A straight line through the last eight
 * minutes, carried back, was up to 5 % off where a room warms up under full heating.)
 */
import { at } from './visit.ts';

const FITTED = 0.6;
/** Further from the parabola than this within what it was fitted to: something else happened there. */
const STRAY = 0.015;
/** Faster than this it stands nowhere: a share in ten minutes. */
const MOST = 0.04;
/** Centred mean over so many seconds on both sides: swings of the machine are no approach. */
const HALF_S = 15;

/** Centred means of `values`, within `from`…`to`. */
export function smoothed(values: Float64Array, from: number, to: number): (i: number) => number {
  const sums = new Float64Array(to - from + 2);
  for (let i = from; i <= to; i++) sums[i - from + 1] = at(sums, i - from) + at(values, i);
  return (i) => {
    const half = Math.min(HALF_S, i - from, to - i);
    return (at(sums, i + half + 1 - from) - at(sums, i - half - from)) / (2 * half + 1);
  };
}

/** The slow course of `from`…`to`; null where it has none. */
export function slowCourse(
  values: Float64Array,
  from: number,
  to: number,
): ((i: number) => number) | null {
  const first = Math.round(to - FITTED * (to - from));
  const smooth = smoothed(values, from, to);
  const middle = (first + to) / 2;
  const half = (to - first) / 2;
  // Legendre's polynomials on −1…1: no equations to solve.
  let a = 0;
  let b = 0;
  let c = 0;
  const n = to - first + 1;
  for (let i = first; i <= to; i++) {
    const x = (i - middle) / half;
    const y = at(values, i);
    a += y / n;
    b += (3 * x * y) / n;
    c += (5 * ((3 * x * x - 1) / 2) * y) / n;
  }
  const course = (i: number): number => {
    const x = (i - middle) / half;
    return a + b * x + (c * (3 * x * x - 1)) / 2;
  };
  for (let i = first; i <= to - HALF_S; i++) {
    if (Math.abs(smooth(i) / course(i) - 1) > STRAY) return null;
  }
  const slope = Math.abs(course(to) - course(to - 600)) / Math.abs(a);
  return a > 0 && slope <= MOST ? course : null;
}
