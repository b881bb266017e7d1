/** Work that has to be done one after another, in the order in which it came. */

/** What waits at most: pieces, and bytes of them together. */
const MOST = 1000;
const MOST_BYTES = 32 * 1024 * 1024;

export class LineOfWork {
  #last: Promise<unknown> = Promise.resolve();
  #waiting = 0;
  #bytes = 0;

  /**
   * Does it when all that came before is done.
   * @param bytes what it holds until then
   * @returns what it returns; null where too much is waiting already: it is not done then
   */
  async add<T>(bytes: number, work: () => Promise<T>): Promise<T | null> {
    const isEmpty = this.#waiting === 0;
    if (this.#waiting >= MOST || (!isEmpty && this.#bytes + bytes > MOST_BYTES)) return null;
    this.#waiting++;
    this.#bytes += bytes;
    const before = this.#last;
    const done = before.then(work).finally(() => {
      this.#waiting--;
      this.#bytes -= bytes;
    });
    this.#last = done.catch(() => {}); // told to whoever added it
    return done;
  }
}
