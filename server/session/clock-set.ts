/** What was told of a visit, as it is told again after the clock was set: every time by the new clock. */
import type { Capture, EventMessage, Struck, VerdictMessage } from '../protocol.ts';

export function shiftedEvent(event: EventMessage, shiftMs: number): EventMessage {
  return { ...event, t: event.t + shiftMs };
}

export function shiftedStruck(struck: Struck, shiftMs: number): Struck {
  return { ...struck, t: struck.t + shiftMs };
}

export function shiftedCapture(capture: Capture, shiftMs: number): Capture {
  const { struck, before } = capture;
  const shifted = { ...capture, from: capture.from + shiftMs, to: capture.to + shiftMs };
  if (struck !== undefined) shifted.struck = shiftedStruck(struck, shiftMs);
  if (before !== undefined) {
    const event = { ...before.event, t: before.event.t + shiftMs };
    shifted.before = { ...before, event, from: before.from + shiftMs, to: before.to + shiftMs };
  }
  return shifted;
}

export function shiftedVerdict(verdict: VerdictMessage, shiftMs: number): VerdictMessage {
  const { from, to, fullDemand } = verdict;
  const shown = fullDemand && { ...fullDemand, t: fullDemand.t + shiftMs };
  return { ...verdict, from: from + shiftMs, to: to + shiftMs, fullDemand: shown };
}

/** A check or a walk, running or ended. */
export function shiftedSpan<T extends { from: number; t: number }>(span: T, shiftMs: number): T {
  return { ...span, from: span.from + shiftMs, t: span.t + shiftMs };
}
