/**
 * How often a place is heard: the longest of its last gaps, so that a slow probe that takes a fast
 * one's place is believed at once, and a single lost reading is soon forgotten. Constant work a second.
 */
const GAPS = 3;

export class Rhythm {
  readonly #gaps = new Float64Array(GAPS).fill(NaN);
  #n = 0;
  #sinceS = NaN;

  /**
   * Takes one second.
   * @param passedS how long ago the second before was: more than 1 where seconds were passed over
   */
  second(heard: boolean, passedS: number): void {
    this.#sinceS += passedS;
    if (!heard) return;
    if (this.#sinceS === this.#sinceS) this.#gaps[this.#n++ % GAPS] = this.#sinceS;
    this.#sinceS = 0;
  }

  /** Usual seconds from one reading to the next, at least 1; 1 while it is not known. */
  get intervalS(): number {
    let longest = 1;
    for (const gap of this.#gaps) if (gap > longest) longest = gap;
    // Silent for twice as long as ever: it is slower than it was.
    return this.#sinceS > 2 * longest ? this.#sinceS : longest;
  }
}
