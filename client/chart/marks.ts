/** What the chart marks for a unit beside its events: steady spans, whole cycles, defrosts. */
import type { Capture, EventMessage, SettlingSnapshot } from '../../server/protocol.ts';
import { AFTER_DEFROST_MS } from '../words/settling.ts';

/** A stretch of time, ms since the epoch. */
export interface Span {
  from: number;
  to: number;
}

/** `uncounted`: a defrost and the minutes after it, `defrost`: the defrost itself. */
export interface MarkedSpan extends Span {
  kind: 'steady' | 'cycling' | 'defrost' | 'uncounted';
}

/** In order of time, with those that touch or overlap as one. */
function joined(spans: Span[]): Span[] {
  const found: Span[] = [];
  for (const span of spans.toSorted((a, b) => a.from - b.from)) {
    const last = found.at(-1);
    if (last !== undefined && span.from <= last.to) last.to = Math.max(last.to, span.to);
    else found.push({ from: span.from, to: span.to });
  }
  return found;
}

/**
 * The spans in which a unit was steady, or cycled: those captured, and the present one. A capture that was
 * struck out was a mistake, but the unit was steady all the same.
 * @param now the server's time of the last data
 */
export function spansOf(
  state: 'steady' | 'cycling',
  captures: readonly Capture[],
  unit: string,
  settling: SettlingSnapshot | null,
  now: number | null,
): Span[] {
  const spans: Span[] = captures.filter(
    (capture) => capture.unit === unit && capture.state === state,
  );
  if (settling?.state === state && settling.since !== null && now !== null) {
    spans.push({ from: settling.since, to: now });
  }
  // A capture lies within the span that it records.
  return joined(spans);
}

/** Since when the present steady or cycling span is marked, ms since the epoch; null without one. */
export function markedSince(
  captures: readonly Capture[],
  unit: string,
  settling: SettlingSnapshot,
  now: number | null,
): number | null {
  const { state } = settling;
  if (state !== 'steady' && state !== 'cycling') return null;
  return spansOf(state, captures, unit, settling, now).at(-1)?.from ?? null;
}

/**
 * The defrosts of a unit, from its events and from what is known of the present one.
 * @param now the server's time of the last data: one without an end goes on until then
 */
export function defrostSpans(
  events: readonly EventMessage[],
  unit: string,
  settling: SettlingSnapshot | null,
  now: number | null,
): Span[] {
  const spans: Span[] = [];
  let from: number | null = null;
  const told = events.filter((event) => event.kind === 'defrost' && event.unit === unit);
  for (const { phase, t } of told.toSorted((a, b) => a.t - b.t)) {
    if (phase !== 'end') from ??= t;
    else if (from !== null) {
      spans.push({ from, to: t });
      from = null;
    }
  }
  const present = settling?.defrost ?? null;
  // One whose end was never told is drawn only as far as it is known to go on.
  if (present !== null && now !== null) {
    spans.push({ from: from ?? present.from, to: present.to ?? now });
  }
  return joined(spans);
}

/** All that is marked over a stretch of time, in the order in which it is drawn. */
export function markedSpans(
  captures: readonly Capture[],
  events: readonly EventMessage[],
  unit: string,
  settling: SettlingSnapshot | null,
  now: number | null,
): MarkedSpan[] {
  const defrosts = defrostSpans(events, unit, settling, now);
  const uncounted = joined(
    defrosts.map(({ from, to }) => ({
      from,
      to: Math.min(to + AFTER_DEFROST_MS, Math.max(to, now ?? to)),
    })),
  );
  const as = (kind: MarkedSpan['kind'], spans: Span[]): MarkedSpan[] =>
    spans.map((span) => ({ ...span, kind }));
  return [
    ...as('cycling', spansOf('cycling', captures, unit, settling, now)),
    ...as('steady', spansOf('steady', captures, unit, settling, now)),
    ...as('uncounted', uncounted),
    ...as('defrost', defrosts),
  ];
}
