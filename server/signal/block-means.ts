/**
 * The past of a figure in means over 5, 10, 20, 40, 80 and 160 s, the last 64 of each: five minutes in fine
 * steps and nearly three hours in coarse ones, in memory and work that do not grow. Nothing is summed up for
 * longer than a block lasts, so no rounding builds up and no absurd value leaves a trace.
 */

/** Length of the finest blocks, s. */
export const BLOCK_S = 5;
/** Levels; a block of one level is two of the level before. */
export const LEVELS = 6;
/** Blocks that are kept of each level. */
export const KEPT = 64;
/** A finest block with fewer seconds than this is not known. */
const LEAST_SECONDS = 2;

export class BlockMeans {
  readonly #rings = Array.from({ length: LEVELS }, () => new Float64Array(KEPT));
  readonly #counts = new Float64Array(LEVELS);
  #sum = 0;
  #n = 0;
  #seconds = 0;

  /** Takes one second's value, NaN where there is none. True when a finest block has ended. */
  add(value: number): boolean {
    if (value === value) {
      this.#sum += value;
      this.#n++;
    }
    if (++this.#seconds < BLOCK_S) return false;
    this.#push(0, this.#n >= LEAST_SECONDS ? this.#sum / this.#n : NaN);
    this.#sum = 0;
    this.#n = 0;
    this.#seconds = 0;
    return true;
  }

  /** Takes a finest block's mean, NaN where it is not known. */
  take(mean: number): void {
    this.#push(0, mean);
  }

  #push(level: number, value: number): void {
    const ring = this.#rings[level];
    if (ring === undefined) return;
    const count = this.count(level);
    const before = ring[(count - 1 + KEPT) % KEPT] ?? NaN;
    ring[count % KEPT] = value;
    this.#counts[level] = count + 1;
    if (count % 2 === 0) return;
    // Of a pair of which one is not known, the other stands for both.
    if (before !== before) this.#push(level + 1, value);
    else this.#push(level + 1, value === value ? (before + value) / 2 : before);
  }

  /** How many blocks of a level have ended since the last `clear`. */
  count(level: number): number {
    return this.#counts[level] ?? 0;
  }

  /** Length of a level's blocks, s. */
  lengthS(level: number): number {
    return BLOCK_S * 2 ** level;
  }

  /** Copies the last `n` (at most `KEPT`) blocks of a level, oldest first, NaN where not known. */
  copyLast(level: number, n: number, to: Float64Array): void {
    const ring = this.#rings[level];
    const count = this.count(level);
    for (let i = 0; i < n; i++) to[i] = ring?.[(count - n + i + KEPT) % KEPT] ?? NaN;
  }

  /** The `back`th last block of a level (0: the last); NaN where not known. */
  last(level: number, back = 0): number {
    const count = this.count(level);
    if (back >= count || back >= KEPT) return NaN;
    return this.#rings[level]?.[(count - 1 - back) % KEPT] ?? NaN;
  }

  /**
   * How alike the last `seconds` are to those `lagS` before, −1 to 1: the best of three like lags; NaN
   * where too little is kept.
   */
  likeness(seconds: number, lagS: number): number {
    let level = 0;
    while (level < LEVELS - 1 && 1.1 * (seconds + lagS) > KEPT * this.lengthS(level)) level++;
    const n = Math.min(this.count(level), KEPT);
    const lengthS = this.lengthS(level);
    let best = NaN;
    for (let lag = Math.round(lagS / lengthS) - 1, i = 0; i < 3; i++, lag++) {
      const m = Math.min(Math.round(seconds / lengthS), n - lag);
      if (lag < 3 || m < (0.7 * seconds) / lengthS) continue;
      const r = this.#correlation(level, m, lag);
      if (!(r <= best)) best = r;
    }
    return best;
  }

  #correlation(level: number, m: number, lag: number): number {
    let [sa, sb, saa, sbb, sab, k] = [0, 0, 0, 0, 0, 0];
    for (let i = 0; i < m; i++) {
      const a = this.last(level, i);
      const b = this.last(level, i + lag);
      if (a !== a || b !== b) continue;
      sa += a;
      sb += b;
      saa += a * a;
      sbb += b * b;
      sab += a * b;
      k++;
    }
    return (sab - (sa * sb) / k) / Math.sqrt((saa - (sa * sa) / k) * (sbb - (sb * sb) / k));
  }

  /**
   * The mean over about `seconds` that ended `agoS` ago, in the finest steps that are kept for so long;
   * NaN where nothing of them is known.
   */
  mean(seconds: number, agoS = 0): number {
    let level = 0;
    while (level < LEVELS - 1 && agoS + seconds > KEPT * this.lengthS(level)) level++;
    const first = Math.round(agoS / this.lengthS(level));
    const wanted = Math.round(seconds / this.lengthS(level));
    let sum = 0;
    let n = 0;
    for (let back = first; back < first + wanted; back++) {
      const mean = this.last(level, back);
      if (mean !== mean) continue;
      sum += mean;
      n++;
    }
    return sum / n;
  }

  /**
   * Forgets all but the last `seconds`, as far as whole finest blocks of them are kept: nothing older
   * is left. With none to keep, the next block begins now.
   * @returns how many seconds are left, those of the block that is open included
   */
  keepLast(seconds: number): number {
    if (seconds <= 0 || seconds < this.#seconds) {
      this.clear();
      return 0;
    }
    const whole = Math.floor((seconds - this.#seconds) / BLOCK_S);
    const n = Math.min(whole, this.count(0), KEPT);
    const kept = new Float64Array(n);
    this.copyLast(0, n, kept);
    this.#counts.fill(0);
    for (const value of kept) this.#push(0, value);
    return n * BLOCK_S + this.#seconds;
  }

  /** Multiplies all that is kept. */
  rescale(ratio: number): void {
    for (const ring of this.#rings) for (let i = 0; i < KEPT; i++) ring[i] = (ring[i] ?? 0) * ratio;
    this.#sum *= ratio;
  }

  clear(): void {
    this.#counts.fill(0);
    this.#sum = 0;
    this.#n = 0;
    this.#seconds = 0;
  }
}
