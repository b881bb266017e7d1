/**
 * The mean of a fluctuating figure and how sure that mean is, when neighbours resemble each other. A
 * figure may jitter from second to second and wander over minutes at the same time; then one reading
 * resembles the next but little, and a mean over minutes is far less sure than that makes it look. So
 * how a mean scatters is taken from means of longer and longer pieces of the record, 32 to 64 of them:
 * m pieces count as m (1 − r)/(1 + r) independent ones, r being the correlation of each with the one
 * before (Zwiers and von Storch, J. Climate 8, 1995, 336, after Bartlett). Constant work a reading.
 */

/** So many pieces at most: when they are full, each two become one. */
const PIECES = 64;

export class MeanScatter {
  #first = NaN;
  #n = 0;
  // Sums of differences from the first value: large figures that hardly move lose no digits.
  #sum = 0;
  #square = 0;
  /** Means of the complete pieces, how many there are, and of how many readings each is. */
  readonly #pieces = new Float64Array(PIECES);
  #m = 0;
  #length = 1;
  /** Of the piece that is open. */
  #open = 0;
  #openN = 0;

  add(x: number): void {
    if (this.#n === 0) this.#first = x;
    const d = x - this.#first;
    this.#sum += d;
    this.#square += d * d;
    this.#n++;
    this.#open += d;
    if (++this.#openN < this.#length) return;
    this.#pieces[this.#m++] = this.#open / this.#length;
    this.#open = 0;
    this.#openN = 0;
    if (this.#m === PIECES) this.#halve();
  }

  #halve(): void {
    const p = this.#pieces;
    for (let i = 0; i < PIECES / 2; i++) p[i] = ((p[2 * i] ?? 0) + (p[2 * i + 1] ?? 0)) / 2;
    this.#m = PIECES / 2;
    this.#length *= 2;
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
    const variance = this.#variance;
    const m = this.#m;
    if (n < 3 || !(variance > 0)) return 1;
    let mean = 0;
    for (let i = 0; i < m; i++) mean += (this.#pieces[i] ?? 0) / m;
    let square = 0;
    let product = 0;
    let before = 0;
    for (let i = 0; i < m; i++) {
      const d = (this.#pieces[i] ?? 0) - mean;
      square += d * d;
      product += d * before;
      before = d;
    }
    if (!(square > 0)) return 1;
    const seen = (product / square) * (m / (m - 1));
    const r = Math.min(0.9999, Math.max(0, seen));
    const ofMean = ((square / (m - 1) / m) * (1 + r)) / (1 - r);
    return Math.min(1, variance / (n * ofMean));
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
