/** The time of a class: it may stand still, and run fast. Its own clock is handed in. */

export const MOST_SPEED = 60;

export class ClassClock {
  readonly #steady: () => number;
  #anchor: { t: number; at: number };
  #speed = 1;
  #frozen = true;

  /**
   * @param startT when it begins, ms since the epoch; it stands still at first
   * @param steady ms of a clock that nobody sets
   */
  constructor(startT: number, steady: () => number) {
    this.#steady = steady;
    this.#anchor = { t: startT, at: steady() };
  }

  get t(): number {
    const { t, at } = this.#anchor;
    return this.#frozen ? t : t + (this.#steady() - at) * this.#speed;
  }

  get speed(): number {
    return this.#speed;
  }
  get frozen(): boolean {
    return this.#frozen;
  }

  /** Changes its pace from now on. @throws RangeError for a speed that is not from 1 to 60 */
  set({ speed = this.#speed, frozen = this.#frozen }: { speed?: number; frozen?: boolean }): void {
    if (!(speed >= 1 && speed <= MOST_SPEED)) {
      throw new RangeError(`speed: ${speed} is outside 1 to ${MOST_SPEED}`);
    }
    this.#anchor = { t: this.t, at: this.#steady() };
    this.#speed = speed;
    this.#frozen = frozen;
  }
}
