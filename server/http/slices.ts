/**
 * Long work in slices: between two of them everybody else has a turn, so that no request keeps others
 * waiting, whatever it brings.
 */
import { setImmediate } from 'node:timers/promises';

/** A slice takes about so long, ms; one that had better not end yet, so much at most. */
const SLICE_MS = 5;
const LONGEST_MS = 20;

export class Slices {
  readonly #now: () => number;
  #beganT: number;

  /** @param now ms, from any time on */
  constructor(now: () => number = () => performance.now()) {
    this.#now = now;
    this.#beganT = now();
  }

  /**
   * To be called between two steps.
   * @param mayEnd false where it had better go on, if it can
   * @returns what to wait for where the slice has taken long enough, null otherwise
   */
  turn(mayEnd = true): Promise<void> | null {
    const tookMs = this.#now() - this.#beganT;
    if (tookMs < (mayEnd ? SLICE_MS : LONGEST_MS)) return null;
    return this.#others();
  }

  async #others(): Promise<void> {
    await setImmediate();
    this.#beganT = this.#now();
  }
}
