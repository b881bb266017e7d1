/** How many lines an adapter may hand over: what is over is dropped and counted. */

const WINDOW_MS = 1000;
/** So many over-full windows in a row are no burst any more. */
const FLOOD_WINDOWS = 10;
/** So many windows' worth of lines between two turns of the event loop come out of an endless loop. */
const RUNAWAY_WINDOWS = 50;

export class LineBudget {
  readonly linesPerS: number;
  #windowStart = -Infinity;
  #inWindow = 0;
  #overFull = 0;
  #sinceTurn = 0;
  #dropped = 0;

  /** @param linesPerS lines a second; Infinity: no limit. */
  constructor(linesPerS: number) {
    this.linesPerS = linesPerS;
  }

  /** Lines dropped so far. */
  get dropped(): number {
    return this.#dropped;
  }

  /** Whether it has been too much for ten seconds without a pause. */
  get flooded(): boolean {
    return this.#overFull >= FLOOD_WINDOWS;
  }

  /** Whether lines keep coming while nothing else gets a turn. */
  get runaway(): boolean {
    return this.#sinceTurn > RUNAWAY_WINDOWS * this.linesPerS;
  }

  /** Accounts for one line. @returns whether there is room for it. */
  take(now: number): boolean {
    this.#look(now);
    this.#inWindow += 1;
    this.#sinceTurn += 1;
    if (this.#inWindow <= this.linesPerS) return true;
    this.#dropped += 1;
    return false;
  }

  #look(now: number): void {
    const age = now - this.#windowStart;
    if (age >= 0 && age < WINDOW_MS) return;
    this.#overFull = this.#inWindow > this.linesPerS ? this.#overFull + 1 : 0;
    this.#windowStart = now;
    this.#inWindow = 0;
  }

  /** Tells that the event loop has turned: others had their chance. To be called every second. */
  turned(now: number): void {
    this.#look(now);
    this.#sinceTurn = 0;
  }
}
