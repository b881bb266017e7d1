/**
 * How a figure hovers about its course: the variance of its means over 5, 10, 20, … s, learnt from the
 * record itself. What neighboring means of a length differ by says how much less the mean over twice
 * that length varies (half their mean squared difference is the Allan variance, IEEE 1139), so the
 * variances of all longer means add up from the longest: no model of the hover is needed, whether it is
 * a probe's noise, a broad swing or both. Constant work a block.
 *
 * Little is known of long means early on: each length is first taken to vary as the one before suggests
 * and as a usual machine does, and is believed itself as it is seen more often.
 */
import { BLOCK_S, LEVELS } from './block-means.ts';

/**
 * Allan variance of a usual machine's means of 5, 10, 20, … s, in the square of the part of the level by
 * which it hovers: a broad swing of two to three minutes. Probes add noise, which each doubling halves.
 * (Shape and size are ours, after one laboratory machine's record; no source.)
 */
const USUAL = 0.005;
const SHAPE = [0.1, 0.25, 0.6, 1, 0.5, 0.2] as const;
/** But where shorter means hardly hover, those twice as long do so no more than by this factor. */
const GROWTH = 0.7;
/** Beforehand counts as so many differences seen. */
const BELIEVED = 2.5;
/** A part of what is seen is kept each time, up to so many differences. */
const KEEP = 0.02;
const MOST = 12;
/** Of what was seen before a change so much stays. */
const STAYS = 2;
/** Parameters of a course, of which what it leaves is too small. */
const PARAMETERS = 2.5;

export class Hover {
  /** Of the differences in the present stretch: mean of half their squares, and how many. */
  readonly #seen = new Float64Array(LEVELS);
  readonly #count = new Float64Array(LEVELS);
  /** The same of stretches before. */
  readonly #kept = new Float64Array(LEVELS);
  readonly #keptCount = new Float64Array(LEVELS);
  /** Variance of means of each level, and of twice the coarsest. */
  readonly #variance = new Float64Array(LEVELS + 1);
  #level = 0;
  #base = 0;

  /** The next stretches are looked at from the shortest on; `level` is that of the figure. */
  begin(base: number, level: number, keep: boolean): void {
    if (base !== this.#base) this.#keptCount.fill(0);
    else if (keep) this.#keep();
    this.#base = base;
    this.#level = Math.abs(level);
    this.#count.fill(0);
    this.#sumUp();
  }

  /**
   * Takes what a course leaves of `n` means of a level, oldest first, NaN where not known: it is longer
   * than what was seen so far.
   */
  see(level: number, rest: Float64Array, n: number): void {
    for (let j = level, step = 1; j < LEVELS; j++, step *= 2) {
      const blocks = n / step;
      if (blocks < 4) break;
      let sum = 0;
      let pairs = 0;
      for (let end = n; end >= 2 * step; end -= step) {
        let d = 0;
        for (let i = 1; i <= step; i++) d += (rest[end - i] ?? NaN) - (rest[end - step - i] ?? NaN);
        if (d !== d) continue;
        sum += (d * d) / (step * step);
        pairs++;
      }
      if (pairs === 0) continue;
      this.#seen[j] = (((0.5 * sum) / pairs) * blocks) / (blocks - PARAMETERS);
      this.#count[j] = pairs;
    }
    this.#sumUp();
  }

  #mix(level: number, believed: number): number {
    const count = this.#count[level] ?? 0;
    const kept = this.#keptCount[level] ?? 0;
    const sum =
      BELIEVED * believed + kept * (this.#kept[level] ?? 0) + count * (this.#seen[level] ?? 0);
    return sum / (BELIEVED + kept + count);
  }

  /** V(T) = A(T)/2 + V(2T), from the coarsest down. */
  #sumUp(): void {
    const usual = (USUAL * this.#level) ** 2;
    let believed = 0;
    for (let level = this.#base; level < LEVELS; level++) {
      const most = level > this.#base ? GROWTH * believed : Infinity;
      believed = this.#mix(level, Math.min(believed / 2 + (SHAPE[level] ?? 0) * usual, most));
      this.#variance[level] = believed / 2;
    }
    // Beyond the coarsest it halves with each doubling: A/2 (1/2 + 1/4 + …).
    let sum = this.#variance[LEVELS - 1] ?? 0;
    this.#variance[LEVELS] = sum;
    for (let level = LEVELS - 1; level >= this.#base; level--) {
      sum += this.#variance[level] ?? 0;
      this.#variance[level] = sum;
    }
    for (let level = this.#base - 1; level >= 0; level--) this.#variance[level] = sum;
  }

  /** Variance of the means of a level. */
  varianceOfBlock(level: number): number {
    return this.#variance[level] ?? 0;
  }

  /** Variance of the mean over `seconds`, in the square of the figure's unit. */
  varianceOf(seconds: number): number {
    const place = Math.max(this.#base, Math.log2(seconds / BLOCK_S));
    if (place >= LEVELS) return (this.#variance[LEVELS] ?? 0) * 2 ** (LEVELS - place);
    const level = Math.floor(place);
    const [a, b] = [this.#variance[level] ?? 0, this.#variance[level + 1] ?? 0];
    return a * (b / a) ** (place - level) || 0;
  }

  /**
   * So much would single means of a level vary, were they independent, that their mean over any part
   * of `lengthS` varied no less than it does.
   */
  asIfWhite(level: number, lengthS: number): number {
    let most = 0;
    for (let l = level; l < LEVELS; l++) {
      if (l > level && BLOCK_S * 2 ** (l + 1) > lengthS) break;
      most = Math.max(most, (this.#variance[l] ?? 0) * 2 ** (l - level));
    }
    return most;
  }

  /** Standard deviation about the course, of means over a block. */
  get sd(): number {
    return Math.sqrt(this.#variance[this.#base] ?? 0);
  }

  /** Standard deviation of what hovers within about a minute. */
  get quickSd(): number {
    return Math.sqrt(Math.max(0, (this.#variance[1] ?? 0) - (this.#variance[4] ?? 0)));
  }

  rescale(ratio: number): void {
    for (let i = 0; i < LEVELS; i++) {
      this.#seen[i] = (this.#seen[i] ?? 0) * ratio * ratio;
      this.#kept[i] = (this.#kept[i] ?? 0) * ratio * ratio;
    }
    for (let i = 0; i <= LEVELS; i++) this.#variance[i] = (this.#variance[i] ?? 0) * ratio * ratio;
  }

  /** What is seen is kept little by little. */
  #keep(): void {
    for (let i = 0; i < LEVELS; i++) {
      const count = (this.#count[i] ?? 0) * KEEP;
      if (count === 0) continue;
      const kept = this.#keptCount[i] ?? 0;
      this.#kept[i] = (count * (this.#seen[i] ?? 0) + kept * (this.#kept[i] ?? 0)) / (count + kept);
      this.#keptCount[i] = Math.min(count + kept, MOST);
    }
  }

  /** Another stretch begins: some of what was seen is kept. */
  restart(): void {
    for (let i = 0; i < LEVELS; i++) this.#keptCount[i] = Math.min(this.#keptCount[i] ?? 0, STAYS);
    this.#count.fill(0);
  }
}
