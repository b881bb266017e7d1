/**
 * What is to happen when. The virtual radio has no clock: whoever runs it says how far time has come,
 * and everything that was due until then happens, each thing at its own time and in order.
 */

interface Entry {
  readonly t: number;
  readonly order: number;
  work: (() => void) | null;
}

export class Agenda {
  /** A heap: each entry is due before the two below it. */
  readonly #heap: Entry[] = [];
  #order = 0;
  #now: number;

  /** @param now where time begins, ms */
  constructor(now: number) {
    this.#now = now;
  }

  /** How far time has come, ms; inside a work: when it was due. */
  get now(): number {
    return this.#now;
  }

  /** When the next thing is due, ms; infinity if there is none. */
  get next(): number {
    for (let first = this.#heap[0]; first !== undefined; first = this.#heap[0]) {
      if (first.work !== null) return first.t;
      this.#take(); // was called off
    }
    return Infinity;
  }

  /**
   * Puts something down.
   * @param t when, ms; a time that is past means at once, in the next `advance`
   * @returns calls it off
   */
  at(t: number, work: () => void): () => void {
    const entry: Entry = { t: Math.max(t, this.#now), order: this.#order++, work };
    this.#heap.push(entry);
    this.#up(this.#heap.length - 1);
    return () => {
      entry.work = null;
    };
  }

  /** Puts something down that begins after `ms`. */
  after(ms: number, work: () => void): () => void {
    return this.at(this.#now + ms, work);
  }

  /** Lets time go on to `t`, and everything happen that is due until then. */
  advance(t: number): void {
    while (this.next <= t) {
      const entry = this.#take();
      if (entry === undefined) break;
      this.#now = entry.t;
      entry.work?.();
    }
    if (t > this.#now) this.#now = t;
  }

  #take(): Entry | undefined {
    const heap = this.#heap;
    const first = heap[0];
    const last = heap.pop();
    if (last !== undefined && heap.length > 0) {
      heap[0] = last;
      this.#down(0);
    }
    return first;
  }

  #up(from: number): void {
    let i = from;
    while (i > 0) {
      const above = (i - 1) >> 1;
      if (!this.#swapUnlessInOrder(above, i)) return;
      i = above;
    }
  }

  #down(from: number): void {
    const heap = this.#heap;
    let i = from;
    for (;;) {
      const left = 2 * i + 1;
      const right = left + 1;
      if (left >= heap.length) return;
      const least = right < heap.length && this.#before(right, left) ? right : left;
      if (!this.#swapUnlessInOrder(i, least)) return;
      i = least;
    }
  }

  #before(i: number, j: number): boolean {
    const a = this.#heap[i];
    const b = this.#heap[j];
    if (a === undefined || b === undefined) return false;
    return a.t < b.t || (a.t === b.t && a.order < b.order);
  }

  /** True where the two had to be swapped. */
  #swapUnlessInOrder(above: number, below: number): boolean {
    if (!this.#before(below, above)) return false;
    const a = this.#heap[above];
    const b = this.#heap[below];
    if (a === undefined || b === undefined) return false;
    this.#heap[above] = b;
    this.#heap[below] = a;
    return true;
  }
}
