/**
 * Cooling or heating, where nobody has told: by which of return and supply is the colder one, but for a
 * unit that takes water out of the air: it cools, also where it warms the air again (reheat). A unit
 * that has been heating for a while may take heat from the room to melt its ice: that is no change of
 * mode, unless it goes on for longer than any defrost, or it is too warm outdoors.
 */
import type { Mode } from '../../adapters/contract.ts';
import { FROST_BELOW_C, LONGEST_S } from '../signal/defrost.ts';

/** It is clearly the other way from this difference on, K. */
const CLEAR_K = 2;
/** Heating for so long it may defrost, ms (common practice, no source). */
const MAY_DEFROST_MS = 600_000;
/**
 * Water is taken out for so long before that changes the mode, ms: a humidity sensor is late by a minute
 * or two when a hot supply cools down (common practice, no source).
 */
const WATER_MS = 90_000;

export class ModeGuess {
  mode: Mode | null = null;
  #sinceT = 0;
  /** Since when it is the other way, ms; null while it is not. */
  #otherT: number | null = null;
  /** Since when it has been drying the air, ms; null while it does not. */
  #waterT: number | null = null;

  /**
   * Takes one second.
   * @param riseK supply less return
   * @param outdoorC null where no probe tells
   * @param takesWater more water leaves the air than the probes can be off by
   */
  second(t: number, riseK: number, outdoorC: number | null, takesWater: boolean): Mode | null {
    if (!takesWater) this.#waterT = null;
    else this.#waterT ??= t;
    const dries =
      this.#waterT !== null && (this.mode !== 'heating' || t - this.#waterT >= WATER_MS);
    const looks: Mode = riseK > 0 && !dries ? 'heating' : 'cooling';
    if (this.mode === null) return this.#be(looks, t);
    if (looks === this.mode || (Math.abs(riseK) < CLEAR_K && !dries)) {
      if (looks === this.mode) this.#otherT = null;
      return this.mode;
    }
    this.#otherT ??= t;
    const frost = outdoorC === null || outdoorC < FROST_BELOW_C;
    const mayDefrost = this.mode === 'heating' && frost && t - this.#sinceT > MAY_DEFROST_MS;
    return mayDefrost && t - this.#otherT < 1000 * LONGEST_S ? this.mode : this.#be(looks, t);
  }

  clockSet(shiftMs: number): void {
    this.#sinceT += shiftMs;
    this.#otherT = null;
    this.#waterT = null;
  }

  #be(mode: Mode, t: number): Mode {
    this.mode = mode;
    this.#sinceT = t;
    this.#otherT = null;
    return mode;
  }
}
