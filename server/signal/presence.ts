/**
 * Whether there is a figure, and whether the unit delivers: a short silence passes, a longer one is a
 * pause, and after a long one nothing is known any more. Constant work a second.
 */

/** Without a figure for so long it is not known how it is, and after so long all begins anew, s. */
const PAUSE_S = 15;
const LOST_S = 120;
/** Not delivering for so long it is off, s. */
const OFF_S = 20;

export class Presence {
  /** A pause begins, or it is lost, in this very second. */
  pauses = false;
  loses = false;
  #goneS = 0;
  #offS = 0;

  /**
   * Takes one second.
   * @param knownS for how many seconds up to it there is a figure; 0: there is none
   * @param passedS how long ago the second before was: of a long silence only its end may be told
   */
  second(knownS: number, passedS: number): void {
    const goneS = this.#goneS + passedS - knownS;
    this.pauses = goneS >= PAUSE_S && this.#goneS < PAUSE_S;
    this.loses = goneS >= LOST_S && this.#goneS < LOST_S;
    this.#goneS = knownS > 0 ? 0 : goneS;
  }

  /** There is a figure in this second. */
  get live(): boolean {
    return this.#goneS === 0;
  }

  get paused(): boolean {
    return this.#goneS >= PAUSE_S;
  }

  get lost(): boolean {
    return this.#goneS >= LOST_S;
  }

  /**
   * Takes whether the unit delivers in a second that has a figure.
   * @param standsS the second stands for so many
   * @returns that it goes off, or on again; null where nothing changes
   */
  deliver(delivers: boolean, standsS: number): 'off' | 'on' | null {
    const wasOff = this.#offS >= OFF_S;
    this.#offS = delivers ? 0 : this.#offS + standsS;
    if (delivers) return wasOff ? 'on' : null;
    return !wasOff && this.#offS >= OFF_S ? 'off' : null;
  }

  /** It delivered in the last second that had a figure. */
  get delivers(): boolean {
    return this.#offS === 0;
  }
}
