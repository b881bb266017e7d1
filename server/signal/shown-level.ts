/**
 * The level that is shown: the mean of the last seconds, and how far it is behind, which the rhythm of
 * the readings says. Constant work a second.
 */
import { Rhythm } from './rhythm.ts';

/** It is the mean of so many seconds. */
export const LEVEL_S = 10;

export class ShownLevel {
  readonly #recent = new Float64Array(LEVEL_S).fill(NaN);
  readonly #return = new Rhythm();
  readonly #supply = new Rhythm();
  #seconds = 0;

  /**
   * Takes one second.
   * @param watts NaN where there is none
   * @param ret whether return was heard anew in it, `sup` the same of supply
   * @param passedS how long ago the second before was
   * @param standsS the second stands for so many
   */
  add(watts: number, ret: boolean, sup: boolean, passedS: number, standsS: number): void {
    this.#return.second(ret, passedS);
    this.#supply.second(sup, passedS);
    for (let left = Math.min(standsS, LEVEL_S); left > 0; left--) {
      this.#recent[this.#seconds++ % LEVEL_S] = watts;
    }
  }

  /** The mean, W; NaN where one of the seconds is not known. */
  get watts(): number {
    let sum = 0;
    for (let i = 0; i < LEVEL_S; i++) sum += this.#recent[i] ?? NaN;
    return sum / LEVEL_S;
  }

  /** How far it is behind, s. */
  get delayS(): number {
    return LEVEL_S / 2 + (this.intervalS - 1) / 2;
  }

  /** Usual time from one reading to the next, of the place that is heard less often, s. */
  get intervalS(): number {
    return Math.max(this.#return.intervalS, this.#supply.intervalS);
  }

  rescale(ratio: number): void {
    for (let i = 0; i < LEVEL_S; i++) this.#recent[i] = (this.#recent[i] ?? NaN) * ratio;
  }

  /** The seconds before are none of this figure. The rhythm stays. */
  clear(): void {
    this.#recent.fill(NaN);
  }
}
