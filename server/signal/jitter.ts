/**
 * The scatter of single means of a figure that may move at the same time: from their second
 * differences over the last minutes, which a straight rise does not enlarge. Constant work a mean.
 */
import { BLOCK_S, type BlockMeans } from './block-means.ts';

/** It is known from about so many means. */
const MEANS = 24;
/** Of a figure that never varied, the first bend is believed up to this part of it. */
const LEAST = 0.004;

export class Jitter {
  #variance = 0;
  #blocksAReading = 1;

  /** Looks at the last three finest means; readings come once in `intervalS` seconds. */
  watch(means: BlockMeans, intervalS: number): void {
    this.#blocksAReading = intervalS / BLOCK_S;
    const last = means.last(0);
    const bend = last - 2 * means.last(0, 1) + means.last(0, 2);
    if (bend !== bend) return;
    // A step bends once: only what is like the bends before counts in full.
    const usual = Math.max(this.#variance, (LEAST * last) ** 2);
    this.#variance += (Math.min((bend * bend) / 6, 9 * usual) - this.#variance) / MEANS;
  }

  /**
   * Standard deviation of the mean over `blocks` finest blocks.
   *
   * A reading that stands for m blocks bends the means twice, by a step of variance 2 σ², so what is
   * seen is σ² / 1.5 m; and a mean is of as many readings as it spans, one at least.
   */
  of(blocks: number): number {
    const m = this.#blocksAReading;
    if (m < 1.5) return Math.sqrt(this.#variance / blocks);
    return Math.sqrt((1.5 * m * this.#variance) / Math.max(1, blocks / m));
  }
}
