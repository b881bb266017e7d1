/** Which stretch of time a chart shows. */

/** `all`: the whole visit; a number: the last so many minutes. */
export type Window = 'all' | 30 | 10;
/** A stretch that the person has framed: it stays put while new data arrives. */
export interface Held {
  from: number;
  to: number;
}

/** A chart is never narrower than this, ms. */
const SHORTEST_MS = 60_000;

/** The bounds of the time axis, ms since the epoch; null where there is no data. */
export function viewOf(
  t: readonly number[],
  window: Window,
  held: Held | null,
): [number, number] | null {
  const first = t[0];
  const last = t.at(-1);
  if (first === undefined || last === undefined) return null;
  if (held !== null) return [held.from, held.to];
  if (window === 'all') return [first, Math.max(last, first + SHORTEST_MS)];
  return [last - window * 60_000, last];
}
