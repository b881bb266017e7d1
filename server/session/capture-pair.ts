/** Before and after: what captures after a setpoint or fan event are compared with. */
import { differenceUncertainty, MeanContributions } from '../measure/difference.ts';
import type { Capture, Comparison, EventMessage } from '../protocol.ts';
import { PARTS, type SpanMean } from './span-mean.ts';

/**
 * Of a capture before an event, this part of its time may lie after it: a tenth, or in the minute that a
 * unit takes to answer four tenths (common practice, no source).
 */
const OVERLAP = 0.1;
const ANSWERS_MS = 60_000;
const OVERLAP_UNANSWERED = 0.4;

/** A capture with what its mean was made of. */
interface Made {
  capture: Capture;
  mode: SpanMean['mode'];
  errors: MeanContributions;
  /** Half-widths of 95 % by scatter, in the order of `PARTS`. */
  scatter: readonly (number | null)[];
}

interface Change {
  id: string;
  event: Comparison['event'];
}

export class CapturePair {
  /** The last capture; null where none is comparable with what comes. */
  #last: Made | null = null;
  /** The last change, and the capture before it. */
  #pair: { change: Change; before: Made | null } | null = null;

  /** A setpoint or fan event: captures from here on are after it. */
  changed({ id, t, kind, valueC, speed }: EventMessage): void {
    if (kind !== 'setpoint' && kind !== 'fan') return;
    const event: Comparison['event'] = { t, kind };
    if (valueC !== undefined) event.valueC = valueC;
    if (speed !== undefined) event.speed = speed;
    this.#pair = { change: { id, event }, before: this.#last };
  }

  /**
   * The event was at another time.
   * @param cut ends the span that this cuts in two: that is a capture before the event
   */
  redate<T>(id: string, t: number, cut: () => T): T | null {
    const pair = this.#pair;
    if (pair?.change.id !== id) return null;
    this.#pair = null;
    const result = cut();
    const change: Change = { id, event: { ...pair.change.event, t } };
    if (liesBefore(this.#last, t) && this.#last !== pair.before) {
      this.#pair = { change, before: this.#last };
    } else {
      const before = liesBefore(pair.before, t) ? pair.before : null;
      this.#pair = { ...pair, change, before };
    }
    return result;
  }

  /** Probes hang elsewhere, or were checked, or the mode is another: nothing earlier compares. */
  forget(): void {
    this.#last = null;
    this.#pair = null;
  }

  /** Adds to a capture what it is compared with, and keeps it as the last one. */
  complete(capture: Capture, mean: SpanMean): Capture {
    const errors = new MeanContributions();
    errors.addAll(mean.errors); // a copy: a span that is open grows on
    const scatter = PARTS.map((name) => mean.part(name).scatterU95W);
    const made: Made = { capture, mode: mean.mode, errors, scatter };
    this.#last = made;
    const pair = this.#pair;
    if (pair === null || pair.before === null) return capture;
    // Of each span until the next change: the first may be a swing that did not last.
    if (pair.before.mode !== made.mode) return capture;
    return { ...capture, before: compare(pair.change, pair.before, made) };
  }
}

function liesBefore(made: Made | null, t: number): boolean {
  if (made === null) return false;
  const { from, to } = made.capture;
  const lasts = to - from;
  return to - t <= Math.max(OVERLAP * lasts, Math.min(ANSWERS_MS, OVERLAP_UNANSWERED * lasts));
}

function compare(change: Change, before: Made, after: Made): Comparison {
  const half = (output: 'totalW' | 'sensibleW' | 'latentW', part: number): number | null => {
    const errors = differenceUncertainty(before.errors, after.errors, output);
    const earlier = before.scatter[part] ?? null;
    const later = after.scatter[part] ?? null;
    if (errors === null || earlier === null || later === null) return null;
    return Math.hypot(errors.u95W, earlier, later);
  };
  const { capture: b } = before;
  const { capture: a } = after;
  return {
    event: change.event,
    from: b.from,
    to: b.to,
    totalW: b.totalW,
    totalU95W: b.totalU95W,
    differenceW: a.totalW - b.totalW,
    differenceU95W: half('totalW', 0),
    sensibleDifferenceW: a.sensibleW - b.sensibleW,
    sensibleDifferenceU95W: half('sensibleW', 1),
    latentDifferenceW: a.latentW - b.latentW,
    latentDifferenceU95W: half('latentW', 2),
  };
}
