/** Something that is asked of the server: what came, that it takes long, and why it did not come. */
import type { Asked } from '../live/visits.ts';

/** Quicker than this nothing is said of waiting, ms. */
const SLOW_MS = 1000;

export class Asking<T> {
  /** What came last; it stays until something else has come. */
  got = $state.raw<T | null>(null);
  /** Why the last question was not answered. */
  trouble = $state<string | null>(null);
  isSlow = $state(false);
  #number = 0;

  /** Asks; an answer that was overtaken by a later question is dropped. */
  async ask(question: () => Promise<Asked<T>>): Promise<void> {
    const number = ++this.#number;
    const slow = setTimeout(() => {
      if (number === this.#number) this.isSlow = true;
    }, SLOW_MS);
    const answer = await question();
    clearTimeout(slow);
    if (number !== this.#number) return;
    this.isSlow = false;
    this.trouble = answer.trouble;
    if (answer.got !== null) this.got = answer.got;
  }
}
