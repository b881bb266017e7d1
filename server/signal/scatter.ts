/**
 * The mean of a fluctuating figure and how sure that mean is, when neighbours resemble each other:
 * n readings count as n (1 − r)/(1 + r) independent ones, r being the correlation of each reading with
 * the one before (Zwiers and von Storch, J. Climate 8, 1995, 336, after Bartlett). Constant work a
 * reading.
 */
export class MeanScatter {
  #first = NaN;
  #last = 0;
  #n = 0;
  // Sums of differences from the first value: large figures that hardly move lose no digits.
  #sum = 0;
  #square = 0;
  #product = 0;

  add(x: number): void {
    if (this.#n === 0) this.#first = x;
    const d = x - this.#first;
    this.#sum += d;
    this.#square += d * d;
    if (this.#n > 0) this.#product += d * this.#last;
    this.#last = d;
    this.#n++;
  }

  get n(): number {
    return this.#n;
  }

  get mean(): number {
    return this.#first + this.#sum / this.#n;
  }

  /** How many independent readings these are worth: 2 to n. */
  get effectiveN(): number {
    const n = this.#n;
    return Math.min(n, Math.max(2, n * this.#worth));
  }

  /** How many independent readings each of these is worth, 0 to 1. */
  get #worth(): number {
    const n = this.#n;
    const mean = this.#sum / n;
    const variance = this.#square / n - mean * mean;
    if (n < 3 || !(variance > 0)) return 1;
    const covariance = this.#product / (n - 1) - mean * mean;
    const r = Math.min(0.9999, Math.max(0, covariance / variance));
    return (1 - r) / (1 + r);
  }

  /** Standard uncertainty of the mean; 0 where there is no scatter to judge by. */
  get u(): number {
    return Math.sqrt(this.#variance / this.effectiveN);
  }

  /** That of the mean of `n` readings that scatter as these do: of few, also of a single one. */
  uOfMean(n: number): number {
    return Math.sqrt(this.#variance / Math.min(n, Math.max(1, n * this.#worth)));
  }

  get #variance(): number {
    const n = this.#n;
    if (n < 2) return 0;
    const mean = this.#sum / n;
    return Math.max(0, this.#square / n - mean * mean) * (n / (n - 1));
  }
}
