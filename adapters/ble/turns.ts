/**
 * Whose turn it is to be linked. One probe at a time, since a connect blocks the radio; only one that
 * was heard a moment ago, since a connect to one that is away blocks it longest; and one that has
 * failed has to wait, longer each time.
 */

/** Heard longer ago than this, a probe may be gone, ms. */
const FRESH_MS = 1500;
/** The pause after a first failure doubles with each further one, ms. */
const PAUSE = { first: 1000, longest: 60_000 };
/** The same for a probe that has hung the radio: that cost all the others their links. */
const HUNG_PAUSE = { first: 15_000, longest: 300_000 };
/** A link that has held so long was a good one, ms. */
const HELD_MS = 20_000;

interface Turn {
  heardT: number;
  /** Not before. */
  dueT: number;
  failures: number;
  /** Since when it is linked; null: it is not. `connecting` counts from the attempt. */
  linkedT: number | null;
}

export class Turns {
  readonly #turns = new Map<string, Turn>();

  /** A probe that can be linked was heard. @returns whether for the first time */
  heard(id: string, t: number): boolean {
    const turn = this.#turns.get(id);
    if (turn !== undefined) turn.heardT = t;
    else this.#turns.set(id, { heardT: t, dueT: -Infinity, failures: 0, linkedT: null });
    return turn === undefined;
  }

  /** The probe to link now: of those that may, the one with the fewest failures; null: none. */
  next(t: number): string | null {
    let best: { id: string; turn: Turn } | null = null;
    for (const [id, turn] of this.#turns) {
      const fresh = Math.abs(t - turn.heardT) <= FRESH_MS;
      if (!fresh || turn.linkedT !== null || isAhead(turn, t)) continue;
      if (best === null || turn.failures < best.turn.failures) best = { id, turn };
    }
    return best?.id ?? null;
  }

  /** An attempt begins. */
  taken(id: string, t: number): void {
    const turn = this.#turns.get(id);
    if (turn !== undefined) turn.linkedT = t;
  }

  /** An attempt came to nothing. @param hung whether the radio had to be replaced */
  failed(id: string, t: number, hung: boolean): void {
    const turn = this.#turns.get(id);
    if (turn === undefined) return;
    const { first, longest } = hung ? HUNG_PAUSE : PAUSE;
    turn.failures += 1;
    turn.dueT = t + Math.min(longest, first * 2 ** (turn.failures - 1));
    turn.linkedT = null;
  }

  /** A link has ended. One that had held is tried again as soon as the probe is heard. */
  lost(id: string, t: number): void {
    const turn = this.#turns.get(id);
    if (turn === undefined || turn.linkedT === null) return;
    if (t - turn.linkedT >= HELD_MS) {
      turn.failures = 0;
      turn.dueT = t;
      turn.linkedT = null;
    } else {
      this.failed(id, t, false);
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

  /** How often a probe has failed in a row. */
  failures(id: string): number {
    return this.#turns.get(id)?.failures ?? 0;
  }
}

/** Whether it has to wait; not for ever where the clock was set back. */
function isAhead({ dueT }: Turn, t: number): boolean {
  return dueT > t && dueT - t <= HUNG_PAUSE.longest;
}
