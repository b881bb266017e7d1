/** When a unit becomes steady, and when it stops being so: what is worth calling a person for. */
import type { SettlingSnapshot } from '../../server/protocol.ts';

export interface Turn {
  unit: string;
  kind: 'steady' | 'lost';
}

/** A unit calls at most once in so long, ms. */
const QUIET_MS = 60_000;

interface Called {
  isSteady: boolean;
  /** When it last called, ms; −∞: it never has. */
  at: number;
}

/**
 * Remembers of each unit what a person knows of it. What a unit is when it is first seen is no turn.
 * One that turns within a minute of its last call calls when the minute is over, if it is then still
 * other than it was told to be.
 */
export class Turns {
  readonly #called = new Map<string, Called>();

  /**
   * The turns that a snapshot brings.
   * @param now a clock that runs evenly, ms: a visit may be played faster than it was
   */
  take(units: Record<string, { settling: Pick<SettlingSnapshot, 'state'> }>, now: number): Turn[] {
    const turns: Turn[] = [];
    for (const [unit, { settling }] of Object.entries(units)) {
      const isSteady = settling.state === 'steady';
      const last = this.#called.get(unit);
      if (last === undefined) this.#called.set(unit, { isSteady, at: -Infinity });
      else if (isSteady !== last.isSteady && now - last.at >= QUIET_MS) {
        this.#called.set(unit, { isSteady, at: now });
        turns.push({ unit, kind: isSteady ? 'steady' : 'lost' });
      }
    }
    return turns;
  }
}
