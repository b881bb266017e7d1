/** Where the marks of a time axis stand: round times of the clock on the wall, at every span. Pure. */
import { clockMinutes, clockSeconds } from '../words/times.ts';
import { locale } from '../words/language.ts';

const SECOND_MS = 1000;
export const MINUTE_MS = 60_000;
const HOUR_MS = 60 * MINUTE_MS;
const DAY_MS = 24 * HOUR_MS;

/** The steps that a clock is read in: each divides the minute, the hour or the day … */
const STEPS_MS = [
  ...[1, 2, 5, 10, 15, 30].map((s) => s * SECOND_MS),
  ...[1, 2, 5, 10, 15, 30].map((m) => m * MINUTE_MS),
  ...[1, 2, 3, 6, 12].map((h) => h * HOUR_MS),
  ...[1, 2, 7, 14].map((d) => d * DAY_MS),
];
/** … and those that are taken where the next coarser one would leave fewer than three marks. */
const BETWEEN_MS = [3 * SECOND_MS, 3 * MINUTE_MS, 4 * DAY_MS];
const FEWEST = 3;

const DATE = new Intl.DateTimeFormat(locale(), { month: 'short', day: 'numeric' });

/**
 * The finest step with which no more than so many marks stand in a span.
 * @param spanMs how long the axis is @param most for how many there is room, not only whole ones
 * @returns ms; a multiple of two weeks where even those are too many
 */
export function timeStep(spanMs: number, most: number): number {
  const least = spanMs / Math.max(1, most);
  const step =
    STEPS_MS.find((each) => each >= least) ?? 14 * DAY_MS * Math.ceil(least / (14 * DAY_MS));
  if (spanMs >= FEWEST * step) return step;
  return BETWEEN_MS.find((each) => each >= least && each < step) ?? step;
}

/** How far the clock on the wall is ahead of UTC, ms. */
const offsetAt = (t: number): number => -new Date(t).getTimezoneOffset() * MINUTE_MS;

/** When between two times the wall clock is set: the first millisecond by the new offset; null: it is not. */
function clockSet(from: number, to: number): number | null {
  const before = offsetAt(from);
  if (offsetAt(to) === before) return null;
  let [low, high] = [from, to];
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (offsetAt(middle) === before) low = middle;
    else high = middle;
  }
  return high;
}

function midnights(min: number, max: number, days: number): number[] {
  const found: number[] = [];
  const day = new Date(min);
  day.setHours(0, 0, 0, 0);
  if (day.getTime() < min) day.setDate(day.getDate() + 1);
  for (; day.getTime() <= max; day.setDate(day.getDate() + days)) found.push(day.getTime());
  return found;
}

/**
 * The times between two at which the wall clock shows a multiple of the step, counted from midnight (whole
 * days from the first midnight in view). Where the clock is set they follow it: an hour that comes twice is
 * marked twice, one that is left out is not.
 * @param min ms since the epoch @param max likewise
 * @param step one that `timeStep` gives
 */
export function timeMarks(min: number, max: number, step: number): number[] {
  if (step >= DAY_MS) return midnights(min, max, step / DAY_MS);
  const found: number[] = [];
  let from = Math.ceil(min);
  while (from <= max) {
    const wall = from + offsetAt(from);
    const next = from + Math.ceil(wall / step) * step - wall;
    const set = clockSet(from, next);
    if (set === null && next > max) break;
    if (set === null) found.push(next);
    from = set ?? next + 1;
  }
  return found;
}

/**
 * The marks as they are written: "14:02", or the day; in steps of seconds whole minutes and the first in full,
 * the others as ":10", which take no more room than minutes.
 */
export function timeLabels(marks: readonly number[], step: number): string[] {
  return marks.map((t, i) => {
    if (step >= DAY_MS) return DATE.format(t);
    if (t % MINUTE_MS === 0) return clockMinutes(t);
    const full = clockSeconds(t);
    return i === 0 ? full : full.slice(-3);
  });
}

/** A letter of a label, in heights of the letters; and what stays free between two labels. */
const LETTER_EM = 0.6;
const BETWEEN_EM = 0.5;

/**
 * The labels that have room: none leaves the drawing, none touches the one before it.
 * @param xs the middle of each, ascending, px @param widthPx of the drawing @param em height of the letters, px
 * @returns '' for one that gives way
 */
export function roomyLabels(
  labels: readonly string[],
  xs: readonly number[],
  widthPx: number,
  em: number,
): string[] {
  let free = 0;
  return labels.map((label, i) => {
    const x = xs[i] ?? 0;
    const half = (label.length * LETTER_EM * em) / 2;
    if (x - half < free || x + half > widthPx) return '';
    free = x + half + BETWEEN_EM * em;
    return label;
  });
}
