/** Wrong codes: how many may be tried, from one address and from all of them together. */

/** Within this, ms. */
const WINDOW_MS = 60_000;
/** From one address: a person mistypes a few times. */
const MOST_OF_ONE = 5;
/** From all of them: a class that joins mistypes too. Eight digits last longer than any visit at this pace. */
const MOST_OF_ALL = 60;
/** Addresses that are remembered. */
const MOST_ADDRESSES = 1000;

export class Tries {
  readonly #now: () => number;
  readonly #wrong = new Map<string, number[]>();
  #all: number[] = [];

  /** @param now ms, of a clock that nobody sets */
  constructor(now: () => number) {
    this.#now = now;
  }

  /** How long this address has to wait before it may try again, ms; 0: not at all. */
  waitMs(address: string): number {
    const own = this.#recent(this.#wrong.get(address) ?? []);
    this.#all = this.#recent(this.#all);
    return Math.max(this.#until(own, MOST_OF_ONE), this.#until(this.#all, MOST_OF_ALL));
  }

  /** That address has tried a wrong one. */
  wrong(address: string): void {
    const own = this.#recent(this.#wrong.get(address) ?? []);
    this.#wrong.delete(address); // the one that was longest ago goes first
    this.#wrong.set(address, [...own, this.#now()]);
    this.#all = [...this.#recent(this.#all), this.#now()];
    const [oldest] = this.#wrong.keys();
    if (this.#wrong.size > MOST_ADDRESSES && oldest !== undefined) this.#wrong.delete(oldest);
  }

  #recent(times: readonly number[]): number[] {
    const since = this.#now() - WINDOW_MS;
    return times.filter((t) => t > since);
  }

  #until(times: readonly number[], most: number): number {
    const first = times.at(-most);
    return first === undefined ? 0 : first + WINDOW_MS - this.#now();
  }
}
