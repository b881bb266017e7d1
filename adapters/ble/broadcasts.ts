/** Probes that broadcast: their frames become readings, with their keys where they are encrypted. */
import { BTHOME_UUID, BthomeReader, type BthomeRefusal } from './bthome.ts';
import type { ProbeBook } from './probe-book.ts';
import type { Heard } from './radio-messages.ts';

/** Refusals that a person can do something about; the others are counted. */
const TO_TELL: ReadonlySet<BthomeRefusal['kind']> = new Set([
  ...(['key-missing', 'key-wrong', 'address-hidden', 'downgrade', 'version'] as const),
]);
/** Of those, what a person mends by entering the key, another one, or taking it away. */
const NEEDS_KEY: ReadonlySet<BthomeRefusal['kind']> = new Set([
  ...(['key-missing', 'key-wrong', 'downgrade'] as const),
]);
/** After a good frame a bad one is another sender's rather than the probe's trouble, for so long, ms. */
const GOOD_FOR_MS = 60_000;

interface Sender {
  readonly reader: BthomeReader;
  /** When its last good frame came. */
  goodT: number;
  /** When its last frame says that it was measured, ms; null: it does not say. */
  measuredT: number | null;
  /** Why its frames are of no use at the moment. */
  trouble: string | null;
}

export class Broadcasts {
  readonly #book: ProbeBook;
  readonly #keyOf: (id: string) => Uint8Array | null;
  readonly #senders = new Map<string, Sender>();

  /** @param keyOf the key of a probe, where there is one */
  constructor(book: ProbeBook, keyOf: (id: string) => Uint8Array | null) {
    this.#book = book;
    this.#keyOf = keyOf;
  }

  /** Takes what was heard of one that broadcasts. */
  heard(heard: Heard): void {
    for (const { uuid, bytes } of heard.serviceData) {
      if (uuid === BTHOME_UUID) this.#frame(heard, Buffer.from(bytes, 'hex'));
    }
  }

  /** Whether what one broadcasts is read. */
  isGood(id: string, t: number): boolean {
    return Math.abs(t - (this.#senders.get(id)?.goodT ?? -Infinity)) < GOOD_FOR_MS;
  }

  /** As if it had never been heard. */
  forget(id: string): void {
    this.#senders.delete(id);
  }

  /** A key has changed: the next frames are read with the keys as they are now. */
  keysChanged(): void {
    this.#senders.clear();
  }

  /** What stands against reading some of them, as sentences. @param isLinked those are read all the same */
  troubles(isLinked: (id: string) => boolean): string[] {
    return [...this.#senders].flatMap(([id, { trouble }]) => (isLinked(id) ? [] : (trouble ?? [])));
  }

  #frame({ id, address, name, t, signalDbm }: Heard, bytes: Uint8Array): void {
    const sender = this.#sender(id);
    this.#book.heard(id, name);
    this.#book.signal(id, signalDbm, t);
    const frame = sender.reader.read(address ?? id, bytes, t);
    if ('refusal' in frame) {
      // Of one advertisement, which is heard several times: nobody's fault.
      if (frame.kind === 'repeat') return;
      if (!TO_TELL.has(frame.kind) || Math.abs(t - sender.goodT) < GOOD_FOR_MS) {
        this.#book.unusable(id, t);
        return;
      }
      sender.trouble = frame.refusal;
      // It is there, but nothing will come.
      this.#book.link(id, 'lost', NEEDS_KEY.has(frame.kind) ? 'key' : undefined);
      return;
    }
    sender.trouble = null;
    sender.goodT = t;
    this.#book.link(id, 'connected');
    // The time that a frame may hold has whole seconds of a clock that nobody has set: it tells a new
    // measurement from the old one, not when it was.
    if (frame.t !== null && frame.t === sender.measuredT) return;
    sender.measuredT = frame.t;
    frame.values.forEach((values, i) => this.#book.reading(id, i + 1, null, values, t));
  }

  #sender(id: string): Sender {
    let sender = this.#senders.get(id);
    if (sender === undefined) {
      const reader = new BthomeReader({ key: this.#keyOf(id) });
      sender = { reader, goodT: -Infinity, measuredT: null, trouble: null };
      this.#senders.set(id, sender);
    }
    return sender;
  }
}
