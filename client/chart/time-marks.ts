/** Where the marks of a time axis stand: round times of the clock on the wall, at every span. Pure. */
import { clockMinutes, clockSeconds } from '../words/times.ts';

const SECOND_MS = 1000;
export const MINUTE_MS = 60_000;
const HOUR_MS = 60 * MINUTE_MS;
const DAY_MS = 24 * HOUR_MS;

/** The steps that a clock is read in: each divides the hour, the day or the week. */
const STEPS_MS = [
  ...[1, 2, 5, 10, 15, 30].map((s) => s * SECOND_MS),
  ...[1, 2, 5, 10, 15, 30].map((m) => m * MINUTE_MS),
  ...[1, 2, 3, 6, 12].map((h) => h * HOUR_MS),
  ...[1, 2, 7, 14].map((d) => d * DAY_MS),
];

const DATE = new Intl.DateTimeFormat('en-US', { month: 'short', day: 'numeric' });

/**
 * The finest step with which no more than so many marks stand in a span.
 * @param spanMs how long the axis is
 * @returns ms; a multiple of two weeks where even those are too many
 */
export function timeStep(spanMs: number, most: number): number {
  const least = spanMs / Math.max(1, most);
  return STEPS_MS.find((step) => step >= least) ?? 14 * DAY_MS * Math.ceil(least / (14 * DAY_MS));
}

/**
 * The times between two at which the wall clock shows a multiple of the step, counted from midnight (whole
 * days from the first midnight in view). Where the clock is put back or forward the marks follow it: they
 * are round before and after.
 * @param min ms since the epoch @param max likewise
 * @param step one that `timeStep` gives
 */
export function timeMarks(min: number, max: number, step: number): number[] {
  const found: number[] = [];
  const first = new Date(min);
  const day = new Date(first.getFullYear(), first.getMonth(), first.getDate());
  const add = (t: number): void => {
    if (t >= min && t <= max && t > (found.at(-1) ?? -Infinity)) found.push(t);
  };
  while (day.getTime() <= max) {
    if (step >= DAY_MS) {
      add(day.getTime());
      day.setDate(day.getDate() + step / DAY_MS);
      continue;
    }
    const next = new Date(day);
    next.setDate(day.getDate() + 1);
    // An hour earlier than it seems, for the hour by which a clock may have been put forward.
    const from = Math.max(0, Math.floor((min - day.getTime() - HOUR_MS) / step));
    const [year, month, date] = [day.getFullYear(), day.getMonth(), day.getDate()];
    for (let k = from; k * step < DAY_MS; k++) {
      const t = new Date(year, month, date, 0, 0, 0, k * step).getTime();
      if (t > max || t >= next.getTime()) break;
      add(t);
    }
    day.setTime(next.getTime());
  }
  return found;
}

/** A mark as it is written: "14:02:10", "14:02", or the day. */
export function timeLabel(t: number, step: number): string {
  if (step >= DAY_MS) return DATE.format(t);
  return step < MINUTE_MS ? clockSeconds(t) : clockMinutes(t);
}
