/** A finding that has to hold for a while before it is said, and to be gone for one before it is not. */
export class Held {
  is = false;
  #seconds = 0;
  readonly #onS: number;
  readonly #offS: number;

  /** @param onS and `offS`: for so many seconds in a row, at least one */
  constructor(onS: number, offS: number) {
    this.#onS = onS;
    this.#offS = offS;
  }

  /** Takes one second. @returns whether it is said now */
  second(seen: boolean): boolean {
    if (seen === this.is) this.#seconds = 0;
    else if (++this.#seconds >= (seen ? this.#onS : this.#offS)) {
      this.is = seen;
      this.#seconds = 0;
    }
    return this.is;
  }

  clear(): void {
    this.is = false;
    this.#seconds = 0;
  }
}
