/**
 * Whose turn it is to be linked. One probe at a time, since a connect blocks the radio; only one that
 * was heard a moment ago, since a connect to one that is away blocks it longest; and one that has
 * failed has to wait, longer each time.
 */

/** Heard longer ago than this, a probe may be gone, ms. */
const FRESH_MS = 1500;
/**
 * One that is heard more seldom is expected instead: a connect blocks until it is heard next, so it
 * begins shortly before that. So long before, and so long it may be late, ms.
 */
const EXPECTED = { beforeMs: 800, lateMs: 200 };
/** So often in a row it may not have been heard. */
const MOST_MISSED = 3;
/** From so many pauses between two hearings its rhythm is known: the shortest is without a miss. */
const GAPS = 4;
/** The pause after a first failure doubles with each further one, ms. */
const PAUSE = { first: 1000, longest: 60_000 };
/** The same where it costs the others much, or is of no use soon. */
const LONG_PAUSE = { first: 15_000, longest: 300_000 };
/** And no shorter than so many times what the attempt took: the rest of the time is the others'. */
const OTHERS_SHARE = 2;
/** After any attempt one that has failed lets the others be heard first, ms. */
const LISTEN_MS = 1500;
/** A link that has held so long was a good one, ms. */
const HELD_MS = 20_000;
/** The standard's slowest rhythm, with its jitter, ms: a longer pause says nothing of it. */
const SLOWEST_MS = 10_500;
/** Not heard for so long, it is not there, ms. */
const AWAY_MS = 45_000;

interface Turn {
  heardT: number;
  /** It has been linked since it was heard: the pause until it is heard again is not its rhythm. */
  paused: boolean;
  /** The last pauses between two hearings, ms. */
  gaps: number[];
  /** Not before. */
  dueT: number;
  failures: number;
  /** Since when it is linked; null: it is not. `connecting` counts from the attempt. */
  linkedT: number | null;
}

export class Turns {
  readonly #turns = new Map<string, Turn>();
  /** When the last attempt ended. */
  #endedT = -Infinity;

  /** A probe that can be linked was heard. @returns whether for the first time */
  heard(id: string, t: number): boolean {
    const turn = this.#turns.get(id);
    if (turn !== undefined) {
      const gap = t - turn.heardT;
      const isRhythm = !turn.paused && gap > 0 && gap <= SLOWEST_MS;
      if (isRhythm) turn.gaps = [gap, ...turn.gaps].slice(0, GAPS);
      turn.heardT = t;
      turn.paused = false;
    } else {
      const fresh = { heardT: t, paused: false, gaps: [], dueT: -Infinity, failures: 0 };
      this.#turns.set(id, { ...fresh, linkedT: null });
    }
    return turn === undefined;
  }

  /** The probe to link now: of those that may, the one with the fewest failures; null: none. */
  next(t: number): string | null {
    let best: { id: string; turn: Turn } | null = null;
    // Nobody knows how long one will block the radio that was heard but once.
    const atStake = [...this.#turns.values()].some(({ linkedT }) => linkedT !== null);
    const othersFirst = isWithin(this.#endedT, LISTEN_MS, t);
    for (const [id, turn] of this.#turns) {
      if (turn.linkedT !== null || isAhead(turn, t) || !isExpected(turn, t)) continue;
      if ((atStake && turn.gaps.length === 0) || (othersFirst && turn.failures > 0)) continue;
      if (best === null || turn.failures < best.turn.failures) best = { id, turn };
    }
    return best?.id ?? null;
  }

  /** An attempt begins. */
  taken(id: string, t: number): void {
    const turn = this.#turns.get(id);
    if (turn === undefined) return;
    turn.linkedT = t;
    turn.paused = true;
  }

  /** An attempt has ended, in whatever way. */
  ended(t: number): void {
    this.#endedT = t;
  }

  /** An attempt came to nothing. @param long whether the pause is to be a long one */
  failed(id: string, t: number, long: boolean): void {
    const turn = this.#turns.get(id);
    if (turn === undefined) return;
    const share = OTHERS_SHARE * (t - (turn.linkedT ?? t));
    this.#putOff(turn, t, long ? LONG_PAUSE : PAUSE);
    turn.dueT = Math.max(turn.dueT, t + Math.min(share, PAUSE.longest));
  }

  #putOff(turn: Turn, t: number, { first, longest }: typeof PAUSE): void {
    turn.failures += 1;
    turn.dueT = t + Math.min(longest, first * 2 ** (turn.failures - 1));
    turn.linkedT = null;
  }

  /**
   * A link has ended. One that had held is tried again as soon as the probe is heard, and so is one that
   * was lost soon, once.
   */
  lost(id: string, t: number): void {
    const turn = this.#turns.get(id);
    if (turn === undefined || turn.linkedT === null) return;
    if (t - turn.linkedT >= HELD_MS) {
      turn.failures = 0;
      turn.dueT = t;
      turn.linkedT = null;
    } else {
      const isFirst = turn.failures === 0;
      this.#putOff(turn, t, PAUSE);
      if (isFirst) turn.dueT = t;
    }
  }

  /** All links have ended, through no fault of the probes. */
  allLost(): void {
    for (const turn of this.#turns.values()) turn.linkedT = null;
  }

  /** As if it had never been heard. */
  forget(id: string): void {
    this.#turns.delete(id);
  }

  /** Those that are not linked and have not been heard for long. */
  away(t: number): string[] {
    return [...this.#turns]
      .filter(([, { linkedT, heardT }]) => linkedT === null && t - heardT > AWAY_MS)
      .map(([id]) => id);
  }

  /** How often it is heard, ms; null: that is not known yet. */
  rhythmOf(id: string): number | null {
    return rhythm(this.#turns.get(id)?.gaps ?? []);
  }

  /** How often a probe has failed in a row. */
  failures(id: string): number {
    return this.#turns.get(id)?.failures ?? 0;
  }
}

/** Whether it has to wait; not for ever where the clock was set back. */
function isAhead({ dueT }: Turn, t: number): boolean {
  return dueT > t && dueT - t <= LONG_PAUSE.longest;
}

function rhythm(gaps: readonly number[]): number | null {
  return gaps.length === 0 ? null : Math.min(...gaps);
}

/** Whether it will be heard again in a moment. */
function isExpected({ heardT, gaps }: Turn, t: number): boolean {
  const everyMs = rhythm(gaps) ?? 0;
  if (everyMs <= FRESH_MS) return Math.abs(t - heardT) <= FRESH_MS;
  const missed = Math.max(0, Math.floor((t - heardT - EXPECTED.lateMs) / everyMs));
  const inMs = heardT + (missed + 1) * everyMs - t;
  return t >= heardT && missed < MOST_MISSED && inMs <= EXPECTED.beforeMs;
}

/** Whether less than `ms` have passed since; not where the clock was set back. */
function isWithin(sinceT: number, ms: number, t: number): boolean {
  return t >= sinceT && t - sinceT < ms;
}
