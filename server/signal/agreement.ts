/**
 * Whether the mean that a person would write down now will be that of the next ten minutes. Means over
 * spans of every length are looked at, and the surest is taken.
 */
import type { Approach } from './approach.ts';
import { AHEAD_S, tolerance } from './bands.ts';
import { BLOCK_S } from './block-means.ts';
import type { Hover } from './hover.ts';
import { hoversLittle } from './steady-mean.ts';

/** The means must agree so surely. */
const ENTER = 0.54;
/** And so surely must the course alone not move it further. */
const COURSE = 0.74;
/** Each span is about so many times the one before. */
const LONGER = 1.4;

export class Agreement {
  /** The span whose mean agrees most surely, s; 0: none is long enough. */
  spanS = 0;

  /**
   * @param leastS spans are no shorter than this, whole finest means
   * @param mostS nor longer than this
   * @returns whether its mean agrees surely enough
   */
  look(fit: Approach, leastS: number, mostS: number, hover: Hover): boolean {
    const limit = tolerance(fit.level);
    let sure = 0;
    this.spanS = 0;
    for (let s = leastS; s <= mostS; s = s < mostS ? Math.min(mostS, next(s)) : Infinity) {
      const p = fit.meansAgree(limit, s, AHEAD_S, hover);
      if (p < sure) continue;
      sure = p;
      this.spanS = s;
    }
    return (
      sure >= ENTER &&
      fit.meansAgree(limit, this.spanS, AHEAD_S, null) >= COURSE &&
      hoversLittle(hover, fit.level)
    );
  }
}

const next = (s: number): number => BLOCK_S * Math.round((LONGER * s) / BLOCK_S);
