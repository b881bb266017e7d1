/** What the pictures of an archive share: shapes, bounds and marks of their axes. Pure. */
import { marks, stepFor } from '../chart/ticks.ts';
import type { Scale } from '../words/scales.ts';

/** Shapes around (0, 0), told apart without color: as paths, filled or not. */
export const SHAPES = [
  { d: 'M-5,0A5,5,0,1,0,5,0A5,5,0,1,0-5,0Z', open: false },
  { d: 'M-5,0A5,5,0,1,0,5,0A5,5,0,1,0-5,0Z', open: true },
  { d: 'M0-6.500L6.500,0L0,6.500L-6.500,0Z', open: false },
  { d: 'M-5-5H5V5H-5Z', open: true },
  { d: 'M-6,5H6L0-6Z', open: false },
  { d: 'M-6-5H6L0,6Z', open: false },
  { d: 'M0-6.500L6.500,0L0,6.500L-6.500,0Z', open: true },
  { d: 'M-5-5H5V5H-5Z', open: false },
] as const;
export const CIRCLE = 0;
export const RING = 1;
export const DIAMOND = 2;
export const UP = 4;
export const DOWN = 5;

/** The shape of the nth of many groups: they come round again. */
export const shapeOf = (n: number): (typeof SHAPES)[number] =>
  SHAPES[n % SHAPES.length] ?? SHAPES[CIRCLE];

/** A part of one as per cent, on an axis and in words. */
export const PART: Scale = { sign: '%', show: (r) => 100 * r, read: (p) => p / 100, finest: 1 };

export interface Axis {
  low: number;
  high: number;
  marks: number[];
}

/** An axis for values in SI: whole steps of the shown unit around them. */
export function axisOf(values: readonly number[], scale: Scale, count: number): Axis {
  const known = values.filter(Number.isFinite);
  let low = Math.min(...known);
  let high = Math.max(...known);
  if (known.length === 0) [low, high] = [0, 1];
  if (!(high > low)) [low, high] = [low - Math.abs(low || 1) / 10, high + Math.abs(high || 1) / 10];
  const step = stepFor(low, high, count, scale);
  const bound = (si: number, round: (n: number) => number): number =>
    scale.read(round(scale.show(si) / step) * step);
  low = bound(low, Math.floor);
  high = bound(high, Math.ceil);
  return { low, high, marks: marks(low, high, step, scale) };
}

/** The first days of years between two times, no more than fit; ms. */
export function yearMarks(first: number, last: number, most: number): number[] {
  const from = new Date(first).getFullYear() + 1;
  const to = new Date(last).getFullYear();
  const step = Math.max(1, Math.ceil((to - from + 1) / Math.max(1, most)));
  const found: number[] = [];
  for (let year = from; year <= to; year += step) found.push(new Date(year, 0, 1).getTime());
  return found;
}
