/**
 * Where the probes of a system are from moment to moment: at their places, side by side for a check, walked
 * along an outlet, in a warm hand; and the air that is there.
 */
import { vapourPressurePa } from '../server/measure/moist-air.ts';
import { type Air, mix } from './air.ts';
import type { IndoorUnit } from './indoor-unit.ts';
import type { Place, Probe, Surroundings } from './probe.ts';
import type { Room } from './room.ts';

/** What a probe in a closed hand approaches, °C: skin (common practice, no source). */
const HAND_C = 33;
/** A walk from one end to the other, ms. */
const WALK_MS = 30_000;

/** A probe that is walked along a place; since when, ms since the start: null while it is held still. */
interface Walking {
  readonly id: string;
  readonly unit: string;
  readonly place: 'return' | 'supply';
  fromMs: number | null;
}

/** A head as the probes at it find it. */
interface PlaceOfProbes {
  readonly room: Room;
  readonly unit: IndoorUnit;
  readonly parameters: {
    readonly outletK?: number;
    readonly head: { readonly outletM2: number };
  };
}

/** The moment: all air, and what the outdoor unit takes. */
export interface Moment {
  readonly elapsedMs: number;
  readonly outdoor: Air;
  readonly pressurePa: number;
  readonly powerW: number;
  /** @throws RangeError for an unknown unit */
  head(id: string): PlaceOfProbes;
}

export class Places {
  readonly #probes: readonly Probe[];
  #together: ReadonlySet<string> = new Set();
  #walk: Walking | null = null;
  #inHand: string | null = null;

  constructor(probes: readonly Probe[]) {
    this.#probes = probes;
  }

  /** Lays these probes side by side in the first one's room; none: all hang again. */
  layTogether(ids: readonly string[]): void {
    this.#together = new Set(ids);
  }

  /** Takes a probe to the left end of a unit's outlet or intake; null: it hangs again. */
  walkAlong(walk: { id: string; unit: string; place: 'return' | 'supply' } | null): void {
    this.#walk = walk === null ? null : { ...walk, fromMs: null };
  }

  /** It goes from there to the right end and back, again and again. */
  walkOn(elapsedMs: number): void {
    if (this.#walk !== null) this.#walk.fromMs = elapsedMs;
  }

  /** Takes a probe in a warm hand, wherever it hangs; null: it hangs again. */
  warm(id: string | null): void {
    this.#inHand = id;
  }

  /** What is around a probe. */
  around(
    { parameters: { id, unit: unitId, place, unevenK } }: Probe,
    moment: Moment,
  ): Surroundings {
    const together = this.#together.has(id);
    if (this.#walk?.id === id && !together) return aroundWalked(this.#walk, moment);
    const { pressurePa, powerW } = moment;
    let air = moment.outdoor;
    let velocityMs = 0;
    if (together) {
      air = this.#commonAir(moment);
    } else if (unitId !== null && place !== 'outdoor') {
      const { unit, room, parameters } = moment.head(unitId);
      const away = isInStream(place) ? unit.awayAt(moment.elapsedMs / 1000) : 0;
      if (place === 'room') air = room.air;
      else air = place === 'return' ? unit.return : mix(unit.register, room.air, away);
      velocityMs = ((1 - away) * unit.flowM3s) / parameters.head.outletM2;
    }
    const airC = air.temperatureC + (together ? 0 : unevenK);
    return {
      temperatureC: id === this.#inHand ? HAND_C : airC,
      vapourPressurePa: vapourPressurePa(air.humidityRatio, pressurePa),
      velocityMs,
      pressurePa,
      powerW,
    };
  }

  /** The air that probes lie in during a check: that of the room where the first of them hangs. */
  #commonAir(moment: Moment): Air {
    const units = this.#probes
      .filter(({ parameters }) => this.#together.has(parameters.id))
      .map(({ parameters }) => parameters.unit);
    const unit = units.find((each) => each !== null);
    return unit === undefined || unit === null ? moment.outdoor : moment.head(unit).room.air;
  }
}

const isInStream = (place: Place): boolean => place === 'supply' || place === 'outlet';

/** The air where a probe is that is walked along a place: its profile is a straight line. */
function aroundWalked({ unit: unitId, place, fromMs }: Walking, moment: Moment): Surroundings {
  const { pressurePa, powerW, elapsedMs } = moment;
  const { unit, parameters } = moment.head(unitId);
  const air = place === 'return' ? unit.return : unit.supply;
  const passed = fromMs === null ? 0 : ((elapsedMs - fromMs) / WALK_MS) % 2;
  const position = passed < 1 ? passed : 2 - passed;
  const slopeK = place === 'return' ? 0 : (parameters.outletK ?? 0);
  return {
    temperatureC: air.temperatureC + slopeK * (position - 0.5),
    vapourPressurePa: vapourPressurePa(air.humidityRatio, pressurePa),
    velocityMs: unit.flowM3s / parameters.head.outletM2,
    pressurePa,
    powerW,
  };
}
