/**
 * How old what is shown may be, by the page's own clock: the server that would say so may be the one that
 * has stopped. Pure: it is told the time.
 */

/** A figure without news for so long is late, ms … */
export const LATE_MS = 3000;
/** … and for so long none at all. */
export const GONE_MS = 10_000;

/** `gone`: it is not shown any more. */
export type Freshness = 'fresh' | 'late' | 'gone';

/** A moment by two clocks, ms. */
export interface Moment {
  /** One that nobody sets; while a computer sleeps it may stand still (performance.now). */
  steady: number;
  /** One that goes on while a computer sleeps, but may be set (Date.now). */
  wall: number;
}

/** How long ago a moment was: by that clock by which it is longer, since each may miss some of it. */
export const ageMs = (then: Moment, now: Moment): number =>
  Math.max(now.steady - then.steady, now.wall - then.wall);

/** @param heard when there was news last; null: never, so that there is nothing to be late */
export function freshnessOf(heard: Moment | null, now: Moment): Freshness {
  if (heard === null) return 'fresh';
  const age = ageMs(heard, now);
  if (age >= GONE_MS) return 'gone';
  return age >= LATE_MS ? 'late' : 'fresh';
}
