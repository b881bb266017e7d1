/** The truth of one unit once a second, kept for hours: what was really delivered while somebody measured. */
import type { UnitTruth } from './truth.ts';

/** The mean of a time. */
export interface TruthMean {
  readonly totalW: number;
  readonly sensibleW: number;
  readonly latentW: number;
  readonly flowM3s: number;
  /** Of how many seconds it is. */
  readonly seconds: number;
}

const QUANTITIES = ['totalW', 'sensibleW', 'latentW', 'flowM3s'] as const;
/** How long it is kept, s: more than a class lasts. */
const KEPT_S = 5 * 3600;

export class TruthSeries {
  readonly #fromT: number;
  readonly #rings = QUANTITIES.map(() => new Float32Array(KEPT_S).fill(NaN));
  /** The second after the latest one, since the beginning. */
  #next = 0;

  /** @param fromT its beginning, ms since the epoch */
  constructor(fromT: number) {
    this.#fromT = fromT;
  }

  /** Keeps the truth of the second that ends at `t`. Seconds that were left out hold nothing. */
  keep(t: number, truth: UnitTruth): void {
    const second = Math.round((t - this.#fromT) / 1000) - 1;
    if (second < this.#next) return;
    const emptyFrom = Math.max(this.#next, second - KEPT_S + 1);
    this.#rings.forEach((ring, i) => {
      for (let s = emptyFrom; s < second; s++) ring[s % KEPT_S] = NaN;
      const quantity = QUANTITIES[i];
      if (quantity !== undefined) ring[second % KEPT_S] = truth[quantity];
    });
    this.#next = second + 1;
  }

  /** The mean from one time to another, ms since the epoch; null where no second of it is kept. */
  mean(fromT: number, toT: number): TruthMean | null {
    const from = Math.max(Math.ceil((fromT - this.#fromT) / 1000), this.#next - KEPT_S, 0);
    const to = Math.min(Math.floor((toT - this.#fromT) / 1000), this.#next);
    let seconds = 0;
    const sums = QUANTITIES.map(() => 0);
    for (let s = from; s < to; s++) {
      const values = this.#rings.map((ring) => ring[s % KEPT_S] ?? NaN);
      if (values.some(Number.isNaN)) continue;
      seconds++;
      values.forEach((value, i) => (sums[i] = (sums[i] ?? 0) + value));
    }
    if (seconds === 0) return null;
    const [totalW = NaN, sensibleW = NaN, latentW = NaN, flowM3s = NaN] = sums.map(
      (sum) => sum / seconds,
    );
    return { totalW, sensibleW, latentW, flowM3s, seconds };
  }
}
