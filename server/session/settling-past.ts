/**
 * The seconds that settling was judged by, for an hour and some minutes back, so that it can be judged
 * again when a person says that a change was made earlier than it was told. Work and memory are
 * bounded: at most 4,500 seconds are gone through once more.
 */
import { Settling, type SettlingSecond } from '../signal/settling.ts';

/** A change is dated back by an hour at most, and the level before it wants to be known, s. */
const BACK_S = 3600;
const LEAD_S = 900;
const KEPT = BACK_S + LEAD_S;
/** With less than this before the change nobody knows where it came from, ms. */
const LEAST_LEAD_MS = 10_000;

/** What is told of a second, in one byte. */
const DELIVERS = 1;
const RETURN = 2;
const SUPPLY = 4;

export class SettlingPast {
  readonly #t = new Float64Array(KEPT);
  /** NaN where there was no figure. */
  readonly #watts = new Float64Array(KEPT);
  readonly #flags = new Uint8Array(KEPT);
  /** How many have come since the last `clear`. */
  #count = 0;

  /** Keeps the second that ends at `t`, ms. */
  add(t: number, { watts, delivers, ret, sup }: SettlingSecond): void {
    const i = this.#count++ % KEPT;
    this.#t[i] = t;
    this.#watts[i] = watts ?? NaN;
    this.#flags[i] = (delivers ? DELIVERS : 0) | (ret ? RETURN : 0) | (sup ? SUPPLY : 0);
  }

  /** The figure is another from now on, so what was before is no past of it. */
  clear(): void {
    this.#count = 0;
  }

  /** All figures are so much larger from now on. */
  rescale(ratio: number): void {
    for (let i = 0; i < KEPT; i++) this.#watts[i] = (this.#watts[i] ?? NaN) * ratio;
  }

  /**
   * Settling as it would be now, had it been told at `t`, ms, that something was changed.
   * @returns null where too little is known of the time before
   */
  changedAt(t: number): Settling | null {
    let n = Math.max(0, this.#count - KEPT);
    while (n < this.#count && this.#at(n) < t - 1000 * LEAD_S) n++;
    if (n === this.#count || this.#at(n) > t - LEAST_LEAD_MS) return null;
    const settling = new Settling();
    for (; n < this.#count && this.#at(n) < t; n++) this.#again(n, settling);
    settling.restart(t);
    for (; n < this.#count; n++) this.#again(n, settling);
    return settling;
  }

  #at(n: number): number {
    return this.#t[n % KEPT] ?? NaN;
  }

  #again(n: number, settling: Settling): void {
    const watts = this.#watts[n % KEPT] ?? NaN;
    const flags = this.#flags[n % KEPT] ?? 0;
    settling.add(this.#at(n), {
      watts: Number.isNaN(watts) ? null : watts,
      delivers: (flags & DELIVERS) !== 0,
      ret: (flags & RETURN) !== 0,
      sup: (flags & SUPPLY) !== 0,
    });
  }
}
