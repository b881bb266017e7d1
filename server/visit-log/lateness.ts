/**
 * When a line comes too late: one rule for a live visit and for reading a log.
 *
 * A reading is late when it is more than 5 s older than the newest one of its own probe: sources have
 * clocks of their own, and one that is ahead must not make the others late. Whatever a line is of, it is
 * late when it is more than 10 s older than the newest reading of the visit: a probe that is heard no
 * sooner is called stale by then, and a reader lets go of lines in order of time up to there.
 *
 * Only readings make others late: an event that is dated ahead shuts nothing out. A second that has been
 * worked out stays as it is; a reading of before counts in the next one.
 */

/** How much older than the newest reading of its own probe a reading may be, ms. */
export const LATE_MS = 5000;
/** How much older than the newest reading of all any line may be, ms. */
export const GONE_MS = 10_000;
/** A step ahead of this much has to be borne out, ms: by another probe, or by five of the same. */
export const JUMP_MS = 600_000;

/**
 * @param probe whose reading it is; null: the line is no reading
 * @param ownT the newest reading of that probe, ms; −∞ where there is none
 * @param newestT the newest reading of all, ms; −∞ where there is none
 * @returns why it is too late, naming the field, or null
 */
export function whyLate(
  t: number,
  probe: string | null,
  ownT: number,
  newestT: number,
): string | null {
  if (probe !== null && t < ownT - LATE_MS) {
    return tooLate(t, ownT, `reading of "${probe}"`, LATE_MS);
  }
  return t < newestT - GONE_MS ? tooLate(t, newestT, 'reading of this visit', GONE_MS) : null;
}

function tooLate(t: number, newestT: number, of: string, mostMs: number): string {
  return (
    `t: ${t} (${iso(t)}) is ${duration(newestT - t)} older than the newest ${of}; ` +
    `up to ${mostMs / 1000} s late is taken`
  );
}

/** A time as it stands in a sentence. */
export function iso(t: number): string {
  return new Date(t).toISOString();
}

/** How long, in words: `37.0 s`, `12.5 min`, `3.2 h`, `9.1 days`. */
export function duration(ms: number): string {
  const s = Math.abs(ms) / 1000;
  if (s < 90) return `${s.toFixed(1)} s`;
  if (s < 5400) return `${(s / 60).toFixed(1)} min`;
  if (s < 172_800) return `${(s / 3600).toFixed(1)} h`;
  return `${(s / 86_400).toFixed(1)} days`;
}
