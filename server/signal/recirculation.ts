/**
 * Whether the return probe breathes supply air: then its temperature goes along with the supply's at
 * once, while a room takes many minutes. Looked at when the supply moves much within two minutes.
 */

const STEP_S = 10;
const STEPS = 12;
/** The supply has to move by this much for anything to be said, K (common practice, no source). */
const SUPPLY_MOVES_K = 4;
/** A return that goes along by more than this share breathes supply air; a room does by less. */
const SHARE = 0.15;
/** So long the finding stands, in steps: the supply does not move all the time. */
const STANDS = 120;

export class Recirculation {
  readonly #ret: number[] = [];
  readonly #sup: number[] = [];
  #seconds = 0;
  #stands = 0;
  /** The share of supply air in the return, as last found; null: none found lately. */
  share: number | null = null;

  /** Takes one second's temperatures, °C; null where not known. */
  second(returnC: number | null, supplyC: number | null): void {
    if (returnC === null || supplyC === null) {
      this.#ret.length = 0;
      this.#sup.length = 0;
      return;
    }
    if (this.#seconds++ % STEP_S !== 0) return;
    this.#ret.push(returnC);
    this.#sup.push(supplyC);
    if (--this.#stands <= 0) this.share = null;
    if (this.#ret.length <= STEPS) return;
    const moved = supplyC - (this.#sup.shift() ?? NaN);
    const along = (returnC - (this.#ret.shift() ?? NaN)) / moved;
    if (Math.abs(moved) < SUPPLY_MOVES_K || !(along > SHARE && along < 1)) return;
    this.share = along;
    this.#stands = STANDS;
  }

  /** A probe has been moved, or the fan is off: what was found is of the past. */
  restart(): void {
    this.#ret.length = 0;
    this.#sup.length = 0;
    this.share = null;
  }
}
