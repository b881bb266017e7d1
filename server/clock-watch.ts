/**
 * Notices that the computer's clock was set, beside clocks that cannot be. A computer that slept is no
 * such case: its clock was right before and after, and nothing was heard meanwhile.
 */

/** All in ms. */
export interface Clocks {
  /** What people call the time; it can be set. */
  wall(): number;
  /** Only ever goes on, at an even pace; whether it stands while the computer sleeps is up to the system. */
  even(): number;
  /** How long the computer has been on, sleep included, as coarse as a second. */
  sinceOn(): number;
}

/** Less than this is no setting: clocks are kept right in small steps, ms. */
const STEP_MS = 2000;
/** As coarse as the time since the computer is on. */
const COARSE_MS = 1500;

export class ClockWatch {
  readonly #clocks: Clocks;
  /** The clock less the even one, and the time since the computer is on less that. */
  #aheadMs: number;
  #sleptMs: number;

  constructor(clocks: Clocks) {
    this.#clocks = clocks;
    const even = clocks.even();
    this.#aheadMs = clocks.wall() - even;
    this.#sleptMs = clocks.sinceOn() - even;
  }

  /** By how much it was set ahead (below 0: back) since the last call, ms; 0: it was not. */
  setBy(): number {
    const even = this.#clocks.even();
    const aheadMs = this.#clocks.wall() - even;
    const stepMs = aheadMs - this.#aheadMs;
    this.#aheadMs = aheadMs;
    if (Math.abs(stepMs) <= STEP_MS) return 0;
    const sleptMs = this.#clocks.sinceOn() - even;
    const asleepMs = sleptMs - this.#sleptMs;
    this.#sleptMs = sleptMs;
    const setMs = asleepMs > COARSE_MS ? stepMs - asleepMs : stepMs;
    return Math.abs(setMs) <= STEP_MS ? 0 : setMs;
  }
}
