/**
 * The course of a figure: the approach that explains the longest stretch of its recent past as well
 * as its scatter allows. Fits are made anew only when a block of their level has ended, so the work
 * does not depend on how long it has gone on.
 */
import { Approach } from './approach.ts';
import { BlockMeans, KEPT, LEVELS } from './block-means.ts';

/** Numbers of means that are tried at the finest usable level; coarser ones are used when full. */
const FINEST = [32, 24, 16, 12, 8, 6] as const;
const COARSER = [32, 24] as const;
/** What an approach may leave: this part of the level, or this many times the jitter of the means. */
const MISFIT = 0.007;
const MISFIT_JITTER = 1.6;
/** The same of the mean of the last quarter: where it goes on from must be right. */
const RECENT = 0.004;
const RECENT_JITTER = 1.2;
/** A stretch that is in use may fit so much worse before it is given up. */
const KEEP = 1.3;

interface Stretch {
  readonly level: number;
  readonly n: number;
  readonly fit: Approach;
  /** Blocks of the level when it was fitted; −1: not yet. */
  at: number;
  fits: boolean;
}

const buffer = new Float64Array(KEPT);

export class Course {
  /** The fit of the stretch in use; null where there is none. */
  fit: Approach | null = null;
  readonly #stretches: Stretch[] = [];
  #used: Stretch | null = null;

  constructor() {
    for (let level = LEVELS - 1; level >= 0; level--) {
      for (const n of FINEST) {
        this.#stretches.push({ level, n, fit: new Approach(), at: -1, fits: false });
      }
    }
  }

  /**
   * Looks anew.
   * @param base the finest level that readings fill
   * @param leastS stretches are no shorter than this
   */
  look(means: BlockMeans, base: number, leastS: number): void {
    let shortest: Stretch | null = null;
    this.fit = null;
    for (const stretch of this.#stretches) {
      const { level, n } = stretch;
      if (level < base || (level > base && !COARSER.some((c) => c === n))) continue;
      if (means.count(level) < n || n * means.lengthS(level) < leastS) continue;
      if (stretch.at !== means.count(level)) {
        stretch.at = means.count(level);
        means.copyLast(level, n, buffer);
        stretch.fits =
          stretch.fit.fit(buffer, n, means.lengthS(level)) &&
          explains(stretch.fit, stretch === this.#used ? KEEP : 1);
        if (!(stretch.fit.rms >= 0)) continue;
      }
      shortest = stretch;
      if (stretch.fits) {
        this.#use(stretch);
        return;
      }
    }
    if (shortest !== null && shortest.fit.rms >= 0) this.#use(shortest);
  }

  #use(stretch: Stretch): void {
    this.#used = stretch;
    this.fit = stretch.fit;
  }

  clear(): void {
    this.fit = null;
    this.#used = null;
    for (const stretch of this.#stretches) stretch.at = -1;
  }
}

function explains(fit: Approach, ease: number): boolean {
  const level = Math.abs(fit.level);
  return (
    fit.rms <= ease * Math.max(MISFIT * level, MISFIT_JITTER * fit.jitter) &&
    Math.abs(fit.recent) <= ease * Math.max(RECENT * level, RECENT_JITTER * fit.jitter)
  );
}
