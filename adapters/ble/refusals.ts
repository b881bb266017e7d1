/**
 * What a linked probe refuses. The library keeps that to itself: a refused subscription never answers,
 * and a probe that wants to be paired with stops all that was asked of it. So its answers are looked at
 * on their way in, where that can be done (Linux); elsewhere such calls end by time-out.
 */
import type { EventEmitter } from 'node:events';
import { inner, isEmitter } from './inner-parts.ts';

/** Attribute protocol: the channel, and an answer of five bytes: this, request, handle u16, reason. */
const CHANNEL = 4;
const ERROR = 0x01;
const ERROR_BYTES = 5;
/** To find what a subscription is written to, and to write it. */
const SUBSCRIBING: ReadonlySet<number> = new Set([0x08, 0x12]);
/** Authentication, authorisation, length of the key, encryption: it wants to be paired with. */
const PAIRING: ReadonlySet<number> = new Set([0x05, 0x08, 0x0c, 0x0f]);

export class Refusals {
  readonly #stream: EventEmitter | null;
  readonly #client: object | null;
  /** What it refused because it wants to be paired with. */
  #unpaired: Uint8Array | null = null;
  #hasGivenUp = false;
  #refused: ((text: string) => void) | null = null;
  /** Whether what is asked is to subscribe: listings, too, end with a refusal. */
  isSubscribing = false;

  /** @param noble the library's central @param peripheral the id of one that is linked */
  constructor(noble: unknown, peripheral: string) {
    const bindings = inner(noble, '_bindings');
    const handles = inner(bindings, '_handles');
    const handle: unknown = handles === null ? null : Reflect.get(handles, peripheral);
    const stream = inner(inner(bindings, '_aclStreams'), String(handle));
    this.#client = inner(inner(bindings, '_gatts'), String(handle));
    this.#stream = stream !== null && isEmitter(stream) ? stream : null;
    this.#stream?.on('data', this.#data);
    this.#stream?.on('encrypt', this.#paired);
    this.#stream?.on('encryptFail', this.giveUpPairing);
  }

  /** Whether it has refused something because it wants to be paired with. */
  get wantsPairing(): boolean {
    return this.#unpaired !== null;
  }

  /** Has `refused` called, with why, when it refuses what is asked now; null: nobody waits any more. */
  whileAsking(refused: ((text: string) => void) | null): void {
    this.#refused = refused;
  }

  /**
   * Nothing has come of pairing. The library would wait for it for ever, and ask nothing else: it is
   * given the refusal once more, as one that is final.
   */
  readonly giveUpPairing = (): void => {
    const refusal = this.#unpaired;
    if (refusal === null || this.#hasGivenUp || this.#client === null) return;
    this.#hasGivenUp = true;
    Reflect.set(this.#client, '_security', 'medium');
    this.#stream?.emit('data', CHANNEL, refusal);
  };

  /** The link has ended. */
  end(): void {
    this.#refused = null;
    this.#stream?.off('data', this.#data);
    this.#stream?.off('encrypt', this.#paired);
    this.#stream?.off('encryptFail', this.giveUpPairing);
  }

  readonly #data = (channel: unknown, bytes: unknown): void => {
    if (channel !== CHANNEL || !(bytes instanceof Uint8Array)) return;
    if (bytes[0] !== ERROR || bytes.length !== ERROR_BYTES) return;
    const [, request = 0, , , reason = 0] = bytes;
    const pairing = PAIRING.has(reason);
    if (pairing) this.#unpaired = bytes;
    // Unless it is final, the library asks to pair, and asks again when that has been done.
    if (pairing && !this.#hasGivenUp) return;
    if (!this.isSubscribing || !SUBSCRIBING.has(request)) return;
    this.#refused?.(`it refused (0x${reason.toString(16)})`);
  };

  readonly #paired = (): void => {
    this.#unpaired = null;
  };
}
