/**
 * How much the air differs from spot to spot at a unit's two places: a stated assumption, what a person
 * says instead, or what a walk along the place has found. In parts of the difference between return and
 * supply, since spots differ by how much of the coil's work their air has had; in percent.
 */
import type { UnevenPct } from '../../adapters/contract.ts';
import type { Evenness } from '../measure/evenness.ts';
import type { WalkBias, WalkResult } from '../signal/outlet-walk.ts';
import type { Doubt, PlaceEvenness } from '../protocol.ts';
import { doubt } from './doubt.ts';
import { sent } from '../words/sent.ts';

export type AirPlace = 'return' | 'supply';

/** The assumption, %, and for how many degrees of freedom it counts (common practice, no source). */
const ASSUMED = { return: 1, supply: 5 };
const ASSUMED_DEGREES = 6;
/** What a person says counts for more. */
const ENTERED_DEGREES = 12;
/**
 * A walk follows one line, at an even pace and not by how much air comes out where: the mean that it
 * tells is off by this part of the spots' deviation (common practice, no source).
 */
const LEFT_OF_WALK = 1 / 5;
/** A walk tells nothing where return and supply hardly differ, K. */
export const LEAST_SPLIT_K = 2;
/** What a spot is off grows with the difference, but is not followed further than this. */
const MOST_GROWTH = 2;

/** What a walk has found, and for which probes. */
interface Walked {
  t: number;
  spotsPct: number;
  degrees: number;
  /** What is left of it as an error of the corrected mean, %. */
  leftPct: number;
  biases: ReadonlyMap<string, WalkBias>;
  splitK: number;
}

/** One place of one unit. */
export class EvennessOf {
  readonly #place: AirPlace;
  #enteredPct: number | null = null;
  #walked: Walked | null = null;
  /** The doubt as it was last said, and of how many percent. */
  #doubt: Doubt | null = null;
  #doubtPct = NaN;

  constructor(place: AirPlace) {
    this.#place = place;
  }

  /** @param pct what a person says; null: the assumption again */
  enter(pct: number | null): void {
    this.#enteredPct = pct;
  }

  /** Takes over what a walk has found, at a return less supply of `splitK`. */
  walked(t: number, ids: readonly string[], result: WalkResult, splitK: number): void {
    const toPct = 100 / Math.abs(splitK);
    const spotsPct = result.spotK * toPct;
    this.#walked = {
      t,
      spotsPct,
      degrees: result.degrees,
      leftPct: Math.hypot(LEFT_OF_WALK * spotsPct, result.uLagK * toPct),
      biases: new Map(ids.flatMap((id, i) => (result.biases[i] ? [[id, result.biases[i]]] : []))),
      splitK,
    };
  }

  /** Whether a walk is known that holds for the probes there. */
  get isWalked(): boolean {
    return this.#walked !== null;
  }

  /** A probe there hangs elsewhere, or is corrected otherwise: what was walked is of the past. */
  forgetWalk(): void {
    this.#walked = null;
  }

  clockSet(shiftMs: number): void {
    if (this.#walked !== null) this.#walked = { ...this.#walked, t: this.#walked.t + shiftMs };
  }

  /** By how much a probe there reads more than the mean of the place, or null: not known. */
  biasOf(id: string): WalkBias | null {
    return this.#walked?.biases.get(id) ?? null;
  }

  /** The factor on what was found, with the present difference between return and supply. */
  growth(splitK: number): number {
    const ratio = this.#walked === null || Number.isNaN(splitK) ? 1 : splitK / this.#walked.splitK;
    return Math.min(MOST_GROWTH, Math.max(-MOST_GROWTH, ratio));
  }

  /**
   * For the budget.
   * @param all whether all probes there are those that stayed during the walk
   * @param wPerK ∂W/∂t of the air there at constant relative humidity
   */
  evenness(splitK: number, all: boolean, wPerK: number): Evenness {
    const walked = all ? this.#walked : null;
    const { pct, degrees } =
      walked === null ? this.#known() : { pct: walked.leftPct, degrees: walked.degrees };
    return { spotK: (pct / 100) * Math.abs(splitK), degrees, wPerK, walked: walked !== null };
  }

  /** A walk that is of other probes has told how the spots differ all the same. */
  #known(): { pct: number; degrees: number } {
    if (this.#walked !== null) {
      return { pct: this.#walked.spotsPct, degrees: this.#walked.degrees };
    }
    if (this.#enteredPct !== null) return { pct: this.#enteredPct, degrees: ENTERED_DEGREES };
    return { pct: ASSUMED[this.#place], degrees: ASSUMED_DEGREES };
  }

  /** As it is told. */
  toState(): PlaceEvenness {
    const from =
      this.#walked !== null ? 'walked' : this.#enteredPct === null ? 'assumed' : 'entered';
    return { spotsPct: this.#known().pct, from, walkedT: this.#walked?.t ?? null };
  }

  /** One probe for the whole place, where nobody knows how even that is. */
  doubt(probes: number, ofTotal: number): Doubt | null {
    if (probes !== 1 || this.#walked !== null || this.#enteredPct !== null) return null;
    if (!(ofTotal >= WORTH_SAYING)) return null;
    const pct = Math.round(100 * ofTotal);
    if (pct !== this.#doubtPct) this.#doubt = this.#single(pct);
    this.#doubtPct = pct;
    return this.#doubt;
  }

  #single(pct: number): Doubt {
    const where = this.#place === 'supply' ? 'outlet' : 'intake';
    return doubt(
      `${this.#place}-single`,
      sent`One probe stands for the whole ${where}.`,
      sent`Its spot may be off by ${ASSUMED[this.#place]} % of the difference between return and supply (assumed, one standard deviation): about ± ${pct} % of the figure.`,
      sent`Walk the ${where} with a second probe, or hang more probes along it.`,
    );
  }
}

/** An assumption that is less of the figure is not worth a sentence. */
const WORTH_SAYING = 0.08;

/** Both places of a unit. */
export class UnitEvenness {
  readonly return = new EvennessOf('return');
  readonly supply = new EvennessOf('supply');

  /** What a person says of one or both. */
  enter(pct: UnevenPct): void {
    if (pct.return !== undefined) this.return.enter(pct.return);
    if (pct.supply !== undefined) this.supply.enter(pct.supply);
  }
}
