/**
 * What is sent in one turn goes out in one write a socket. In some seconds every viewer is told of
 * hundreds of things, and a write costs as much as copying some ten thousand bytes.
 */
import type { Writable } from 'node:stream';

/** More than this does not wait for the end of the turn, bytes. */
const MOST_BYTES = 1 << 18;

export class Together {
  readonly #held = new Set<Writable>();

  /** To be called before something is sent over it: that goes out when this turn is over. */
  hold(socket: Writable): void {
    if (this.#held.has(socket)) {
      if (socket.writableLength <= MOST_BYTES) return;
      socket.uncork();
      socket.cork();
      return;
    }
    socket.cork();
    if (this.#held.size === 0) process.nextTick(() => this.#release());
    this.#held.add(socket);
  }

  #release(): void {
    for (const socket of this.#held) socket.uncork();
    this.#held.clear();
  }
}
