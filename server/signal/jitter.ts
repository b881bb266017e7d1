/**
 * The scatter of single readings of a figure that may move at the same time: from second differences of
 * means that are a reading apart, over the last minutes, which a straight rise does not enlarge.
 * Constant work a mean.
 */
import { BLOCK_S, type BlockMeans } from './block-means.ts';

/** It is known from about so many means. */
const MEANS = 24;
/** Of a figure that never varied, the first bend is believed up to this part of it. */
const LEAST = 0.004;

export class Jitter {
  #variance = 0;
  /** A reading stands for so many finest means, one at least. */
  #blocks = 1;

  /** Looks at three finest means that hold different readings; those come once in `intervalS` seconds. */
  watch(means: BlockMeans, intervalS: number): void {
    this.#blocks = Math.max(1, Math.round(intervalS / BLOCK_S));
    const last = means.last(0);
    const bend = last - 2 * means.last(0, this.#blocks) + means.last(0, 2 * this.#blocks);
    if (bend !== bend) return;
    // A step bends once: only what is like the bends before counts in full.
    const usual = Math.max(this.#variance, (LEAST * last) ** 2);
    this.#variance += (Math.min((bend * bend) / 6, 9 * usual) - this.#variance) / MEANS;
  }

  /** Standard deviation of the mean over `blocks` finest blocks: of as many readings as it spans. */
  of(blocks: number): number {
    return Math.sqrt(this.#variance / Math.max(1, blocks / this.#blocks));
  }
}
