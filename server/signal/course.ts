/**
 * The course of a figure: the approach that explains the longest stretch of its recent past as well
 * as its scatter allows. Fits are made anew only when a block of their level has ended, so the work
 * does not depend on how long it has gone on.
 */
import { Approach } from './approach.ts';
import { BlockMeans, KEPT, LEVELS } from './block-means.ts';
import type { Hover } from './hover.ts';

/** Numbers of means that are tried; of levels coarser than the finest usable one, no fewer than that. */
const NUMBERS = [6, 9, 12, 16, 24, 32] as const;
const COARSER = 24;
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
    for (let level = 0; level < LEVELS; level++) {
      for (const n of NUMBERS) {
        this.#stretches.push({ level, n, fit: new Approach(), at: -1, fits: false });
      }
    }
  }

  /**
   * Looks anew.
   * @param base the finest level that readings fill
   * @param leastS stretches are no shorter than this
   * @param hover how means vary about a course; it learns from what the stretches found leave
   * @param keep whether what it has learnt so far is to count in later stretches too: a steady figure's
   */
  look(means: BlockMeans, base: number, leastS: number, hover: Hover, keep: boolean): void {
    let found: Stretch | null = null;
    hover.begin(base, means.mean(30), keep);
    for (const stretch of this.#stretches) {
      const { level, n } = stretch;
      if (level < base || (level > base && n < COARSER)) continue;
      if (means.count(level) < n || n * means.lengthS(level) < leastS) continue;
      if (stretch.at !== means.count(level)) {
        stretch.at = means.count(level);
        means.copyLast(level, n, buffer);
        if (!stretch.fit.fit(buffer, n, means.lengthS(level), hover)) continue;
        stretch.fits = stretch.fit.misfit <= (stretch === this.#used ? KEEP : 1);
      }
      if (!(stretch.fit.rms >= 0)) continue;
      if (found !== null && !stretch.fits) continue;
      found = stretch;
      hover.see(level, stretch.fit.rest, n);
    }
    this.#used = found;
    this.fit = found?.fit ?? null;
  }

  clear(): void {
    this.fit = null;
    this.#used = null;
    for (const stretch of this.#stretches) stretch.at = -1;
  }
}
