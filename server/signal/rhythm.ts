/** How often a place is heard: a slow mean of the gaps between readings. Constant work a second. */
export class Rhythm {
  #since = NaN;
  #gapS = NaN;

  /** Takes one second. */
  second(heard: boolean): void {
    this.#since++;
    if (!heard) return;
    if (this.#since === this.#since) {
      // A gap that is far too long is a lost reading, not another rhythm.
      const gap = this.#gapS === this.#gapS ? Math.min(this.#since, 3 * this.#gapS) : this.#since;
      this.#gapS = this.#gapS === this.#gapS ? this.#gapS + 0.15 * (gap - this.#gapS) : gap;
    }
    this.#since = 0;
  }

  /** Usual seconds from one reading to the next, at least 1; 1 while it is not known. */
  get intervalS(): number {
    return Math.max(1, this.#gapS === this.#gapS ? this.#gapS : 1);
  }
}
