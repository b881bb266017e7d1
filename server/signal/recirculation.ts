/**
 * Whether the return probe breathes supply air: then its temperature goes along with the supply's at
 * once, while a room goes its own way. Looked at when the supply moves much within two minutes, and then
 * less: with r what the room does in a minute and s the share of supply air, the return moves by
 * s·Δsupply + 2r in the two minutes and by s·Δsupply + r in the one after; s comes from both. A return
 * that has not gone along by as much is no sign, whatever it does later.
 */

const STEP_S = 10;
const STEPS = 12;
const AFTER = 6;
/** The supply has to move by this much more than it does later, for anything to be said, K (no source). */
const SUPPLY_MOVES_K = 4;
/** A return that goes along by more than this share breathes supply air; a room does by less. */
const SHARE = 0.15;
/** So long the finding stands, in steps: the supply does not move all the time. */
const STANDS = 120;

export class Recirculation {
  readonly #ret: number[] = [];
  readonly #sup: number[] = [];
  #seconds = 0;
  #retSum = 0;
  #supSum = 0;
  #stands = 0;
  /** The share of supply air in the return, as last found; null: none found lately. */
  share: number | null = null;

  /** Takes one second's temperatures, °C; null where not known. */
  second(returnC: number | null, supplyC: number | null): void {
    if (returnC === null || supplyC === null) {
      this.#forget();
      return;
    }
    this.#retSum += returnC;
    this.#supSum += supplyC;
    if (++this.#seconds < STEP_S) return;
    this.#ret.push(this.#retSum / STEP_S);
    this.#sup.push(this.#supSum / STEP_S);
    this.#begin();
    if (--this.#stands <= 0) this.share = null;
    if (this.#ret.length <= STEPS + AFTER) return;
    const moved = movedBeyond(this.#sup);
    const along = movedBeyond(this.#ret) / moved;
    const goes = movedIn(this.#ret) / movedIn(this.#sup);
    this.#ret.shift();
    this.#sup.shift();
    if (Math.abs(moved) < SUPPLY_MOVES_K || !(Math.min(along, goes) > SHARE && along < 1)) return;
    this.share = along;
    this.#stands = STANDS;
  }

  /** A probe has been moved, or the fan is off: what was found is of the past. */
  restart(): void {
    this.#forget();
    this.share = null;
  }

  #forget(): void {
    this.#ret.length = 0;
    this.#sup.length = 0;
    this.#begin();
  }

  #begin(): void {
    this.#seconds = 0;
    this.#retSum = 0;
    this.#supSum = 0;
  }
}

/** What it moved in the first steps. */
const movedIn = (values: readonly number[]): number => (values[STEPS] ?? NaN) - (values[0] ?? NaN);

/** The same beyond what it would at the pace of those after. */
function movedBeyond(values: readonly number[]): number {
  const after = (values[STEPS + AFTER] ?? NaN) - (values[STEPS] ?? NaN);
  return movedIn(values) - (STEPS / AFTER) * after;
}
