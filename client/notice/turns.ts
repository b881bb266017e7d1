/** When a unit becomes steady, and when it stops being so: what is worth calling a person for. */
import type { EventMessage, UnitSnapshot } from '../../server/protocol.ts';
import { cycleMeanOf } from '../words/plateau.ts';

export interface Turn {
  unit: string;
  /** `cycling`: it cycles, and its mean can be written down. `lost`: it is no longer steady. */
  kind: 'steady' | 'cycling' | 'lost';
}

/** A unit calls at most once in so long, ms. */
const QUIET_MS = 60_000;
/** A person who has just changed something knows why it is not steady any more, ms. */
const CHANGED_MS = 15_000;
/** What begins settling anew. */
const CHANGES: ReadonlySet<EventMessage['kind']> = new Set(['setpoint', 'fan', 'airflow']);

/** What a person knows of a unit; `other`: nothing can be written down. */
type Known = 'steady' | 'cycling' | 'other';

interface Called {
  known: Known;
  /** When it last called, ms; −∞: it never has. */
  at: number;
}

/** What a turn begins with. */
export interface TurnState {
  units: Record<string, Pick<UnitSnapshot, 'settling' | 'capacity'>>;
  /** Those of the visit so far. */
  events: readonly EventMessage[];
}

function knownOf(unit: Pick<UnitSnapshot, 'settling' | 'capacity'>, before?: Known): Known {
  const { state } = unit.settling;
  if (state === 'steady') return 'steady';
  if (state !== 'cycling') return 'other';
  // A mean that has been called good and gets a little worse is not called again.
  return before === 'cycling' || cycleMeanOf(unit)?.isEnough === true ? 'cycling' : 'other';
}

/**
 * Remembers of each unit what a person knows of it. What a unit is when it is first seen is no turn.
 * One that turns within a minute of its last call calls when the minute is over, if it is then still
 * other than it was told to be.
 */
export class Turns {
  readonly #called = new Map<string, Called>();
  readonly #changes = new Changes();

  /**
   * The turns that a state brings.
   * @param now a clock that runs evenly, ms: a visit may be played faster than it was
   */
  take({ units, events }: TurnState, now: number): Turn[] {
    this.#changes.take(events, now);
    const turns: Turn[] = [];
    for (const [unit, snapshot] of Object.entries(units)) {
      const last = this.#called.get(unit);
      const known = knownOf(snapshot, last?.known);
      if (last === undefined) this.#called.set(unit, { known, at: -Infinity });
      else if (known !== last.known) {
        const isLost = known === 'other';
        // Of a mean over cycles nobody waits for the end.
        if (isLost && (last.known === 'cycling' || now - this.#changes.at(unit) <= CHANGED_MS)) {
          this.#called.set(unit, { ...last, known });
        } else if (now - last.at >= QUIET_MS) {
          this.#called.set(unit, { known, at: now });
          turns.push({ unit, kind: isLost ? 'lost' : known });
        }
      }
    }
    return turns;
  }
}

/** When something was last changed at each unit: told, or dated anew. */
class Changes {
  #seen: readonly EventMessage[] | null = null;
  /** The time that each event has, by its id. */
  readonly #times = new Map<string, number>();
  /** By unit; the empty one stands for the visit. */
  readonly #at = new Map<string, number>();

  take(events: readonly EventMessage[], now: number): void {
    if (events === this.#seen) return;
    const isFirst = this.#seen === null;
    this.#seen = events;
    for (const { id, t, kind, unit = '' } of events) {
      if (!CHANGES.has(kind) || this.#times.get(id) === t) continue;
      this.#times.set(id, t);
      if (!isFirst) this.#at.set(unit, now);
    }
  }

  /** When the last change of a unit came, by the clock of `take`, ms; −∞: there was none. */
  at(unit: string): number {
    return Math.max(this.#at.get(unit) ?? -Infinity, this.#at.get('') ?? -Infinity);
  }
}
