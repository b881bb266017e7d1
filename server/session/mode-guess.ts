/**
 * Cooling or heating, where nobody has told: by which of return and supply is the colder one. A unit
 * that has been heating for a while may take heat from the room to melt its ice: that is no change of
 * mode, unless it goes on for longer than any defrost, or it is too warm outdoors.
 */
import type { Mode } from '../../adapters/contract.ts';
import { FROST_BELOW_C, LONGEST_S } from '../signal/defrost.ts';

/** It is clearly the other way from this difference on, K. */
const CLEAR_K = 2;
/** Heating for so long it may defrost, ms (common practice, no source). */
const MAY_DEFROST_MS = 600_000;

export class ModeGuess {
  mode: Mode | null = null;
  #sinceT = 0;
  /** Since when it is the other way, ms; null while it is not. */
  #otherT: number | null = null;

  /**
   * Takes one second.
   * @param riseK supply less return
   * @param outdoorC null where no probe tells
   */
  second(t: number, riseK: number, outdoorC: number | null): Mode | null {
    const looks: Mode = riseK > 0 ? 'heating' : 'cooling';
    if (this.mode === null) return this.#be(looks, t);
    if (looks === this.mode || Math.abs(riseK) < CLEAR_K) {
      if (looks === this.mode) this.#otherT = null;
      return this.mode;
    }
    this.#otherT ??= t;
    const frost = outdoorC === null || outdoorC < FROST_BELOW_C;
    const mayDefrost = this.mode === 'heating' && frost && t - this.#sinceT > MAY_DEFROST_MS;
    return mayDefrost && t - this.#otherT < 1000 * LONGEST_S ? this.mode : this.#be(looks, t);
  }

  #be(mode: Mode, t: number): Mode {
    this.mode = mode;
    this.#sinceT = t;
    this.#otherT = null;
    return mode;
  }
}
