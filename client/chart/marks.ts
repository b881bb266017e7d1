/** What the chart marks for a unit: its events as flags, its steady spans. */
import type { Capture, SettlingSnapshot } from '../../server/protocol.ts';
import type { ToldEvent } from '../words/events.ts';

/** A stretch of time, ms since the epoch. */
export interface Span {
  from: number;
  to: number;
}
/** A word at a moment. */
export interface Flag {
  t: number;
  text: string;
}

/** A flag has room for so many letters. */
const FLAG_LETTERS = 22;

/** Events as flags: long ones are cut, the list below the chart has them in full. */
export function flagsFor(events: readonly ToldEvent[]): Flag[] {
  return events.map(({ t, words }) => ({
    t,
    text: words.length > FLAG_LETTERS ? `${words.slice(0, FLAG_LETTERS - 1)}…` : words,
  }));
}

/**
 * The spans in which a unit was steady: those captured, and the present one.
 * @param now the server's time of the last data
 */
export function steadySpans(
  captures: readonly Capture[],
  unit: string,
  settling: SettlingSnapshot | null,
  now: number | null,
): Span[] {
  const spans = captures
    .filter((capture) => capture.unit === unit && capture.state === 'steady')
    .map(({ from, to }) => ({ from, to }));
  if (settling?.state === 'steady' && settling.since !== null && now !== null) {
    spans.push({ from: settling.since, to: now });
  }
  spans.sort((a, b) => a.from - b.from);
  // A capture lies within the span that it records: overlapping ones are drawn as one.
  const merged: Span[] = [];
  for (const span of spans) {
    const last = merged.at(-1);
    if (last !== undefined && span.from <= last.to) last.to = Math.max(last.to, span.to);
    else merged.push({ ...span });
  }
  return merged;
}
