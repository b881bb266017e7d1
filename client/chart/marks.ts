/** What the chart marks for a unit: its events as flags, its steady spans. */
import type { Capture, EventMessage, SettlingSnapshot } from '../../server/protocol.ts';
import { withSign } from '../words/figures.ts';
import type { Scales } from '../words/scales.ts';

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

function flagText(event: EventMessage, scales: Scales): string {
  switch (event.kind) {
    case 'setpoint':
      return event.valueC === undefined ? 'setpoint' : withSign(event.valueC, scales.temperature);
    case 'fan':
      return event.speed === undefined ? 'fan' : `fan ${event.speed}`;
    case 'airflow':
      return 'airflow';
    case 'check':
      return event.phase === 'end' ? 'check ends' : 'check begins';
    case 'note':
      return event.text ?? 'note';
  }
}

/** The events that concern a unit, as flags in order of time. */
export function flagsFor(events: readonly EventMessage[], unit: string, scales: Scales): Flag[] {
  return events
    .filter((event) => event.unit === undefined || event.unit === unit)
    .map((event) => {
      const text = flagText(event, scales);
      const short = text.length > FLAG_LETTERS ? `${text.slice(0, FLAG_LETTERS - 1)}…` : text;
      return { t: event.t, text: short };
    })
    .sort((a, b) => a.t - b.t);
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
