/** Which stretch of time a chart shows, and how far it reaches ahead of now. */
import type { SettlingSnapshot } from '../../server/protocol.ts';

/** `all`: the whole visit; a number: the last so many minutes. */
export type Window = 'all' | number;
/** A stretch that the person has chosen: it stays put while new data arrives. */
export interface Held {
  from: number;
  to: number;
}

/** A chart of the whole visit is never narrower than this, ms. */
const SHORTEST_MS = 60_000;
/** What is looked at most closely, ms. */
export const CLOSEST_MS = 10_000;

/** What of the time is shown: it goes on with the time (`held` is null), or stays put. */
export interface Shown {
  span: Window;
  held: Held | null;
}

/**
 * What is shown where a stretch is asked for: kept within the visit, no narrower than can be read. One that
 * reaches the end goes on with the time; one that holds everything is the whole visit.
 * @param whole what can be shown, ms since the epoch
 * @param last the last data; what can be shown may reach further
 */
export function shownAs({ from, to }: Held, whole: Held, last = whole.to): Shown {
  const length = whole.to - whole.from;
  const span = Math.min(Math.max(to - from, CLOSEST_MS), length);
  if (span >= length) return { span: 'all', held: null };
  const start = Math.min(Math.max(from, whole.from), whole.to - span);
  return start + span >= whole.to - 1 && last - start >= CLOSEST_MS
    ? { span: (last - start) / 60_000, held: null }
    : { span: 'all', held: { from: start, to: start + span } };
}

/** A stretch made longer (factor > 1) or shorter about a time in it, which stays where it is. */
export const stretched = ({ from, to }: Held, factor: number, about: number): Held => ({
  from: about - (about - from) * factor,
  to: about + (to - about) * factor,
});

/** The row whose time is nearest to another; −1 where there are none. @param t ascending */
export function nearestRow(t: readonly number[], at: number): number {
  let low = 0;
  let high = t.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((t[middle] ?? 0) <= at) low = middle;
    else high = middle;
  }
  return high >= 0 && Math.abs((t[high] ?? 0) - at) <= Math.abs((t[low] ?? 0) - at)
    ? high
    : low - (high < 0 ? 1 : 0);
}

/** A stretch moved by so much, ms. */
export const moved = ({ from, to }: Held, byMs: number): Held => ({
  from: from + byMs,
  to: to + byMs,
});

/**
 * The bounds of the time axis, ms since the epoch; null where there is no data.
 * @param end how far it reaches ahead; it never ends before the last data
 */
export function viewOf(
  t: readonly number[],
  window: Window,
  held: Held | null,
  end: number | null = null,
): [number, number] | null {
  const first = t[0];
  const last = t.at(-1);
  if (first === undefined || last === undefined) return null;
  if (held !== null) return [held.from, held.to];
  const to = Math.max(last, end ?? last);
  if (window === 'all') return [first, Math.max(to, first + SHORTEST_MS)];
  // No further back than there is anything: what was ahead of now has become part of it.
  return [Math.max(last - window * 60_000, Math.min(first, last - CLOSEST_MS)), to];
}

/** The axis reaches so far ahead at most, ms … */
const FURTHEST_MS = 10 * 60_000;
/** … a little beyond the moment at which it will be steady, as a share of the time to it and ms … */
const BEYOND_SHARE = 0.15;
const BEYOND_MS = 15_000;
/** … and so far where it is not known when that will be. */
const UNKNOWN_MS = 2 * 60_000;
/** Its end stands on whole half minutes, and stays while it serves, so that it does not flap. */
const STEP_MS = 30_000;
const SPARE_MS = 90_000;
/** With each second the axis goes this share of the way to where its end should be. */
const EASE = 0.25;
/** Nearer than this it is there, ms. */
const THERE_MS = 1500;

/** How far ahead of now something is to be drawn, ms; null: there is nothing to draw. */
function neededMs({ state, defrost, plateauW, steadyInS }: SettlingSnapshot): number | null {
  if (state !== 'settling' || defrost !== null || plateauW === null) return null;
  if (steadyInS === null) return UNKNOWN_MS;
  return Math.min(1000 * steadyInS * (1 + BEYOND_SHARE) + BEYOND_MS, FURTHEST_MS);
}

/**
 * Where the time axis ends while a forecast is drawn ahead of now. It remembers where it ended: an
 * end that still serves stays, another is gone to in small steps. For one unit of one visit.
 */
export class Reach {
  #last = -Infinity;
  /** Where the end should be; null: at the last data. */
  #goal: number | null = null;
  #end: number | null = null;

  /**
   * The end for the second `last`; asked twice for the same second it answers the same.
   * @param last the server's time of the last data, ms since the epoch
   */
  end(last: number, settling: SettlingSnapshot | null): number {
    if (last < this.#last) this.#goal = this.#end = null; // another visit
    if (last === this.#last) return this.#end ?? last;
    this.#last = last;
    this.#aim(last, settling);
    const from = Math.max(this.#end ?? last, last);
    const to = this.#goal ?? last;
    const next = Math.abs(to - from) < THERE_MS ? to : from + EASE * (to - from);
    this.#end = next > last ? next : null;
    return this.#end ?? last;
  }

  #aim(last: number, settling: SettlingSnapshot | null): void {
    const needMs = settling === null ? null : neededMs(settling);
    if (needMs === null) {
      // A forecast that is missing for a moment does not pull the axis back.
      const goesOn = settling?.state === 'settling' && settling.defrost === null;
      if (!goesOn || (this.#goal !== null && this.#goal <= last)) this.#goal = null;
      return;
    }
    const need = last + needMs;
    const serves = this.#goal !== null && this.#goal >= need && this.#goal <= need + SPARE_MS;
    if (!serves) this.#goal = Math.min(Math.ceil(need / STEP_MS) * STEP_MS, last + FURTHEST_MS);
  }
}
