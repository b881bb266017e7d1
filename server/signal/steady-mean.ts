/**
 * The mean that a steady figure is held against: that of its last ten minutes at most, and that of its
 * span's beginning. It is left when a mean of some length differs by more than a tolerance and than
 * what hovers; it may drift slowly, as a house does, but of one span the mean must say something.
 */
import { AHEAD_S, tolerance, within } from './bands.ts';
import { BLOCK_S, type BlockMeans, LEVELS } from './block-means.ts';
import type { Hover } from './hover.ts';

/** A mean has left when it is off by a tolerance and so many standard deviations of the hover. */
const LEAVE_SD = 3.5;
/** So many seconds in a row further than twice `within`, and than hovers, end it at once. */
const COLLAPSE_S = 5;
const COLLAPSE_SD = 4.5;
/** What wanders by more than this part of the level (standard deviation) swings, and is no hover. */
const HOVER_MOST = 0.05;
/** Once steady, a little more. */
const STILL = 1.15;
/** A span has drifted too far from its beginning when it is off by so many tolerances, and the hover. */
const DRIFTED = 1.5;
const DRIFTED_SD = 2;

/** Whether it hovers by so little that its mean is one. */
export const hoversLittle = (hover: Hover, level: number): boolean =>
  hover.sd <= HOVER_MOST * Math.abs(level);

export class SteadyMean {
  value = NaN;
  /** It is the mean of so many seconds. */
  seconds = 0;
  #first = NaN;
  #awayS = 0;

  /** A figure is steady from now on, and was for `seconds`. */
  begin(means: BlockMeans, seconds: number): void {
    this.value = means.mean(seconds);
    this.seconds = seconds;
    this.#awayS = 0;
    this.newSpan();
  }

  /** Another span begins. */
  newSpan(): void {
    this.#first = this.value;
  }

  /** Takes a finest mean's time with the level over the last two. */
  take(level: number): void {
    this.seconds = Math.min(this.seconds + BLOCK_S, AHEAD_S);
    this.value += (level - this.value) * (BLOCK_S / this.seconds);
  }

  /**
   * Whether any of the newest means, from the level `base` on, has left it.
   * @param blocks how many of the finest have ended since it was last asked
   */
  isLeft(means: BlockMeans, hover: Hover, base: number, blocks: number): boolean {
    if (!hoversLittle(hover, STILL * this.value)) return true;
    const limit = tolerance(this.value);
    const ofMean = hover.varianceOf(this.seconds);
    for (let level = base; level < LEVELS; level++) {
      const lengthS = means.lengthS(level);
      if (lengthS > this.seconds) break;
      // Only where one has just ended.
      if (means.count(level) * lengthS <= BLOCK_S * (means.count(0) - blocks)) continue;
      const off = Math.abs(means.last(level) - this.value);
      if (off > limit + LEAVE_SD * Math.sqrt(hover.varianceOfBlock(level) + ofMean)) return true;
    }
    return false;
  }

  /**
   * Takes the figure of so many seconds.
   * @returns whether it has plainly gone: waiting for means would show it as live
   */
  collapsed(watts: number, seconds: number, hover: Hover): boolean {
    const far = Math.max(2 * within(this.value), COLLAPSE_SD * hover.sd);
    this.#awayS = Math.abs(watts - this.value) > far ? this.#awayS + seconds : 0;
    return this.#awayS >= COLLAPSE_S;
  }

  /** Whether it has drifted so far that its span's mean would say nothing. */
  hasDrifted(hover: Hover): boolean {
    const u = Math.sqrt(hover.varianceOf(this.seconds));
    return Math.abs(this.value - this.#first) > DRIFTED * tolerance(this.value) + DRIFTED_SD * u;
  }

  rescale(ratio: number): void {
    this.value *= ratio;
    this.#first *= ratio;
  }
}
