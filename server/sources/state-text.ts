/** What a person reads about a running adapter: its own words, and what was noticed about it. */
import { asSentence } from './error-text.ts';
import { sent } from '../words/sent.ts';

/** So long a remark stays after the last time that it was true. */
const REMARK_MS = 60_000;
/** A source that rests no longer than this is not called silent. */
const QUIET_MS = 30_000;
/** A source that delivers in batches is silent after so many of its usual pauses. */
const QUIET_PAUSES = 3;

export type Subject = 'dropped' | 'refused' | 'leftover';

export class StateText {
  /** What the adapter says of itself. */
  own: string | null = null;
  readonly #remarks = new Map<Subject, { text: string; at: number }>();
  #lastReading: number | null = null;
  #lastPauseMs = 0;

  /** Adds a remark, in place of the last one on the same subject. */
  remark(subject: Subject, text: string, now: number): void {
    this.#remarks.set(subject, { text: asSentence(text), at: now });
  }

  /** Tells that a reading has arrived. */
  reading(now: number): void {
    // What comes within a second belongs to the same batch and is no pause.
    const pause = now - (this.#lastReading ?? now);
    if (pause > 1000) this.#lastPauseMs = pause;
    this.#lastReading = now;
  }

  /** @returns the sentences that hold at `now`, or null when there is nothing to say. */
  at(now: number): string | null {
    const parts = [...this.#remarks.values()]
      .filter(({ at }) => now - at < REMARK_MS)
      .map(({ text }) => text);
    // A source that says something itself knows better why it is silent.
    const first = this.own ?? this.#silence(now);
    if (first !== null) parts.unshift(first);
    return parts.length > 0 ? parts.join(' ') : null;
  }

  #silence(now: number): string | null {
    if (this.#lastReading === null) return null;
    const quietMs = Math.max(QUIET_MS, QUIET_PAUSES * this.#lastPauseMs);
    if (now - this.#lastReading < quietMs) return null;
    return sent`No readings since ${clockTime(this.#lastReading)}.`;
  }
}

/** The time of day where the server stands, as 14:02:10. */
function clockTime(t: number): string {
  return new Date(t).toLocaleTimeString('en-GB', { hour12: false });
}
