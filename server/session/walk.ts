/** A walk along a unit's outlet or intake, from its start to its end: see signal/outlet-walk.ts. */
import type { Walk } from '../protocol.ts';
import { doubt } from './doubt.ts';
import { LEAST_S, OutletWalk, type WalkReading, type WalkResult } from '../signal/outlet-walk.ts';
import { type AirPlace, LEAST_SPLIT_K } from './evenness.ts';
import { sent } from '../words/sent.ts';

/** A probe that is moved, or stays, as the walk needs it. */
interface Walking {
  readonly id: string;
  readonly name: string;
  walking: boolean;
}

/** What 1 K and 1 kg/kg at a place do to the total, W. */
export interface PlaceEffect {
  perK: number;
  perW: number;
  totalW: number;
}

/** While a probe is away from its own place. */
export const WALK_RUNNING = doubt(
  'walk-running',
  sent`A walk along the outlet or the intake is running with a probe of this unit.`,
  sent`Until it ends that probe is left out. Without another one at its place there is no figure.`,
  sent`End the walk, and hang the probe back in its place.`,
);

export class RunningWalk {
  readonly unit: string;
  readonly place: AirPlace;
  readonly moving: Walking;
  /** The ids of those that stay. */
  readonly staying: readonly string[];
  #from: number;
  readonly #walk: OutletWalk;
  #splitSum = 0;
  #splits = 0;
  #effect: PlaceEffect | null;
  #gone = false;
  #spoiled = false;

  constructor(
    t: number,
    unit: string,
    place: AirPlace,
    moving: Walking,
    staying: readonly string[],
    effect: PlaceEffect | null,
  ) {
    this.#effect = effect;
    this.#from = t;
    this.unit = unit;
    this.place = place;
    this.moving = moving;
    this.staying = staying;
    this.#walk = new OutletWalk(staying.length);
    moving.walking = true;
  }

  /**
   * Takes the second that ends at `t`.
   * @param splitK return less supply
   * @param effect null while the unit has no figure: then the last one stands
   */
  second(
    t: number,
    moving: WalkReading,
    staying: readonly WalkReading[],
    splitK: number,
    effect: PlaceEffect | null,
  ): Walk {
    this.#walk.second(moving, staying);
    if (!Number.isNaN(splitK)) {
      this.#splitSum += splitK;
      this.#splits++;
    }
    this.#effect = effect ?? this.#effect;
    return this.#message('running', t);
  }

  clockSet(shiftMs: number): void {
    this.#from += shiftMs;
  }

  /** The probe goes along the place from here on. */
  go(): void {
    this.#gone = true;
    this.#walk.go();
  }

  /** A probe that stays was moved or checked: nothing comes of it. */
  spoil(): void {
    this.#spoiled = true;
  }

  /** Return less supply meanwhile, K. */
  get splitK(): number {
    return this.#splitSum / this.#splits;
  }

  /** What it tells; null where that is nothing. */
  result(): WalkResult | null {
    if (this.#spoiled || !(Math.abs(this.splitK) >= LEAST_SPLIT_K)) return null;
    return this.#walk.result();
  }

  /** Ends it: the probe that was moved counts at its own place again. */
  end(t: number): Walk {
    this.moving.walking = false;
    return this.#message('ended', t);
  }

  #message(phase: Walk['phase'], t: number): Walk {
    const result = this.result();
    const held = !this.#gone && phase === 'running';
    const bias = result?.biases[0] ?? null;
    const { perK, perW, totalW } = this.#effect ?? { perK: NaN, perW: NaN, totalW: NaN };
    const offW = perK * (bias?.temperatureK ?? NaN) + perW * (bias?.humidityRatio || 0);
    return {
      type: 'walk',
      phase,
      unit: this.unit,
      place: this.place,
      probe: this.moving.id,
      from: this.#from,
      t,
      verdict: this.#verdict(result),
      progress: held ? 0 : Math.min(1, this.#walk.seconds / LEAST_S),
      text: held ? this.#holdSentence() : this.#sentence(phase, result),
      spotK: result?.spotK ?? null,
      biasK: bias?.temperatureK ?? null,
      totalPct: Number.isFinite(offW) ? (100 * offW) / totalW : null,
    };
  }

  #verdict(result: WalkResult | null): Walk['verdict'] {
    if (this.#gone) return result === null ? 'waiting' : 'found';
    return this.#walk.settled ? 'settled' : 'settling';
  }

  #holdSentence(): string {
    const where = this.place === 'supply' ? 'outlet' : 'intake';
    return this.#walk.settled
      ? sent`It has settled. Tap Go, then move it along the ${where} at an even pace, a minute there and back.`
      : sent`Hold ${this.moving.name} still at one end of the ${where} until it settles.`;
  }

  #sentence(phase: Walk['phase'], result: WalkResult | null): string {
    const where = this.place === 'supply' ? 'outlet' : 'intake';
    if (result !== null && (this.#gone || phase === 'ended')) {
      return phase === 'running'
        ? sent`Keep moving along the ${where} at an even pace, and end where you began.`
        : sent`From now on the probes that stayed put are corrected for their spot.`;
    }
    if (this.#spoiled) {
      return sent`A probe that should have stayed put was moved or checked. Nothing was corrected.`;
    }
    if (!this.#walk.audible) {
      return sent`No reading from ${this.moving.name} or a probe that stays. ${phase === 'running' ? sent`Bring them closer to the computer.` : sent`Nothing was corrected.`}`;
    }
    if (this.#splits > 0 && Math.abs(this.splitK) < LEAST_SPLIT_K) {
      return phase === 'running'
        ? sent`Return and supply hardly differ. Let the unit run first.`
        : sent`Return and supply hardly differed. Nothing was corrected.`;
    }
    return phase === 'running'
      ? sent`Move ${this.moving.name} along the ${where} at an even pace, a minute or more.`
      : sent`The walk was too short. Nothing was corrected.`;
  }
}
