/**
 * The figure as it is shown: total, sensible and latent as means over the same last seconds, so that they
 * add up as the figures of one second do. Nothing is averaged across a second without a figure, nor
 * across a change of what it is worked out with.
 */
import type { CapacitySnapshot } from '../protocol.ts';

/** Averaged over so long at most, s. */
const LEVEL_S = 10;

export class Level {
  /** Means, W; null without a figure in the last second, and of the latent part where there is none. */
  totalW: number | null = null;
  sensibleW: number | null = null;
  latentW: number | null = null;
  /** How many seconds they are over. */
  seconds = 0;
  readonly #total = new Float64Array(LEVEL_S);
  readonly #sensible = new Float64Array(LEVEL_S);
  readonly #latent = new Float64Array(LEVEL_S);
  #n = 0;

  /** Takes the figures of one second. */
  second({ totalW, sensibleW, latentW }: CapacitySnapshot): void {
    if (totalW === null) {
      this.clear();
      return;
    }
    const i = this.#n++ % LEVEL_S;
    this.#total[i] = totalW;
    this.#sensible[i] = sensibleW ?? NaN;
    this.#latent[i] = latentW ?? NaN;
    this.seconds = Math.min(this.#n, LEVEL_S);
    this.totalW = this.#mean(this.#total);
    this.sensibleW = this.#mean(this.#sensible);
    this.latentW = this.#mean(this.#latent);
  }

  /** The next second begins anew: figures are worked out with something else from now on. */
  clear(): void {
    this.#n = 0;
    this.seconds = 0;
    this.totalW = null;
    this.sensibleW = null;
    this.latentW = null;
  }

  #mean(values: Float64Array): number | null {
    let sum = 0;
    for (let i = 0; i < this.seconds; i++) sum += values[i] ?? NaN;
    return Number.isNaN(sum) ? null : sum / this.seconds;
  }
}
