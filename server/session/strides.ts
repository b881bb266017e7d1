/**
 * Which seconds of a visit are worked out. While readings come, and for a minute after, all of them. After
 * that the figures only stand: they are looked at in strides of a tenth of the silence, and in the seconds
 * before and after a probe goes stale, so that nothing is shown as live that is not. The work is so many
 * seconds a line, whatever time lies between two: a logger that reads every half hour costs a hundred of
 * them a reading, and not 1,800.
 */
import type { ProbeRecord } from './probe.ts';

/** One snapshot each so many ms of the visit's time, at whole seconds. */
export const STEP_MS = 1000;
/** Every second is worked out up to so long after the last reading: all of a logger's that reads once a minute. */
const EVERY_MS = 60_000;
/** A stride, as a part of the silence. */
const STRIDE = 0.1;

/**
 * The second to be worked out after that at `t`, where nothing is heard meanwhile.
 * @param heardT time of the newest reading, or of the first line of all, ms
 */
export function nextSecond(t: number, heardT: number, probes: Iterable<ProbeRecord>): number {
  const silentMs = t - heardT;
  if (silentMs < EVERY_MS) return t + STEP_MS;
  let next = t + Math.max(1, Math.floor((STRIDE * silentMs) / STEP_MS)) * STEP_MS;
  for (const probe of probes) next = Math.min(next, probe.staysUntil(t));
  return next;
}
