/** A probe that is linked: what it sends by itself, and what has to be read of it. */
import type { Clock } from './clock.ts';
import type { Describe, Layout, Stream } from './layout.ts';
import type { Values } from './quantities.ts';
import { type Asked, type Radio, RadioError } from './radio-host.ts';
import type { Answer } from './radio-messages.ts';
import { decodeText } from './text.ts';

/**
 * A characteristic that sends by itself is read all the same when it has been silent so long, ms: some
 * send only what has changed, and the same figure read again is news, too.
 */
const QUIET_MS = 5000;
/** The signal is asked for so often, and where it was not to be had, ms. */
const SIGNAL_MS = 5000;
const NO_SIGNAL_MS = 60_000;
/** A name may come with a later advertisement; without one the probe is called by its kind, ms. */
const NAMELESS_MS = 5000;
/** Some refuse to be read until they have measured for the first time; that takes no longer, ms. */
const FIRST_MS = 30_000;
/** So many reads that fail in a row, and the link is of no use. */
const MOST_FAILURES = 2;
/** It takes the radio's time from the others: longer than this no probe is waited for, ms. */
const SET_UP_MS = 30_000;
/** One refusal may look like silence; so many in a row are none. */
const MOST_SILENCES = 2;

/** Where what a linked probe sends goes to. */
export interface ProbeOutput {
  values(stream: Stream, values: Values, t: number): void;
  /** A value came that is none: cut, beyond what can be, or "not known". */
  unusable(): void;
  signal(dbm: number | null): void;
  /** Whether it is still without a name, and what it calls its kind. */
  readonly isNameless: () => boolean;
  named(kind: string): void;
}

interface Reader {
  readonly stream: Stream;
  /** False where it was not to be had. */
  notifies: boolean;
  /** When a value came last, or was last asked for. */
  lastT: number;
  /** How many values it has sent by itself. */
  sent: number;
  /** Until then it may refuse to be read: it has not measured yet. */
  expectedT: number;
}

export class LinkedProbe {
  readonly #id: string;
  readonly #layout: Layout;
  readonly #radio: Radio;
  readonly #clock: Clock;
  readonly #output: ProbeOutput;
  readonly #readers = new Map<string, Reader>();
  #busy = true;
  #failures = 0;
  /** While it is set up: how long that may take. */
  #setUpUntilT = Infinity;
  /** How often in a row it has not answered. */
  #silences = 0;
  #signalDueT = 0;
  #nameKey: string | null = null;
  #nameDueT = 0;

  constructor(id: string, layout: Layout, radio: Radio, clock: Clock, output: ProbeOutput) {
    this.#id = id;
    this.#layout = layout;
    this.#radio = radio;
    this.#clock = clock;
    this.#output = output;
  }

  /** @throws RadioError */
  async connect(): Promise<void> {
    await this.#ask({ do: 'connect' });
  }

  /**
   * Finds what it has, and begins to listen.
   * @throws RadioError
   */
  async setUp(): Promise<void> {
    this.#setUpUntilT = this.#clock.now() + SET_UP_MS;
    const { found = [] } = await this.#ask({
      do: 'discover',
      services: [...this.#layout.services],
    });
    const streams = await this.#layout.streams(found, this.#describe);
    const expectedT = this.#clock.now() + FIRST_MS;
    for (const stream of streams) {
      if (!stream.notifies && !stream.reads) continue;
      const reader = { stream, notifies: stream.notifies, lastT: -Infinity, sent: 0, expectedT };
      this.#readers.set(stream.key, reader);
    }
    let why = new RadioError('it has nothing that can be read');
    for (const reader of this.#readers.values()) {
      try {
        await this.#begin(reader);
      } catch (error) {
        if (!this.#isRefusal(error)) throw error;
        // The others may be open.
        this.#readers.delete(reader.stream.key);
        why = error;
      }
    }
    if (this.#readers.size === 0) throw why;
    this.#setUpUntilT = Infinity;
    this.#nameKey = this.#layout.nameKey(found);
    this.#nameDueT = this.#clock.now() + NAMELESS_MS;
    this.#busy = false;
  }

  async #askName(key: string): Promise<void> {
    this.#nameKey = null;
    if (!this.#output.isNameless()) return;
    const { value = '' } = await this.#ask({ do: 'read', key });
    const kind = decodeText(Buffer.from(value, 'hex'));
    if (kind !== null) this.#output.named(kind);
  }

  async #begin(reader: Reader): Promise<void> {
    const { key, reads } = reader.stream;
    if (reader.notifies) {
      try {
        await this.#ask({ do: 'subscribe', key });
      } catch (error) {
        // Some offer it and refuse it, and on some systems that is not seen but as silence.
        if (!reads || !this.#isRefusal(error)) throw error;
        reader.notifies = false;
      }
    }
    // The first figure now: one that sends only what changes may have nothing to send for long.
    if (reads && reader.lastT === -Infinity) await this.#read(reader);
  }

  /** Takes what the probe has sent by itself. */
  value(key: string, bytes: Uint8Array, t: number): void {
    const reader = this.#readers.get(key);
    if (reader === undefined) return;
    reader.sent += 1;
    this.#take(reader, bytes, t);
  }

  /**
   * Reads what is due; to be called a few times a second.
   * @returns false where the link is of no use any more
   */
  tick(): boolean {
    const now = this.#clock.now();
    if (!this.#busy) {
      void this.#readDue();
      if (now >= this.#signalDueT) void this.#askSignal(now);
    }
    return this.#failures < MOST_FAILURES;
  }

  async #readDue(): Promise<void> {
    this.#busy = true;
    try {
      const nameKey = this.#nameKey;
      if (nameKey !== null && this.#clock.now() >= this.#nameDueT) await this.#askName(nameKey);
      for (const reader of this.#readers.values()) {
        const { reads, everyMs } = reader.stream;
        const limitMs = reader.notifies ? Math.max(QUIET_MS, everyMs) : everyMs;
        // Each read takes time, in which the others may have spoken.
        if (reads && isOver(reader.lastT, limitMs, this.#clock.now())) await this.#read(reader);
      }
    } catch {
      // The radio says itself when the link is gone; this is for one that only seems to be there.
      this.#failures += 1;
    } finally {
      this.#busy = false;
    }
  }

  async #askSignal(now: number): Promise<void> {
    this.#signalDueT = now + NO_SIGNAL_MS;
    try {
      const { signalDbm = null } = await this.#ask({ do: 'signal' });
      this.#output.signal(signalDbm);
      this.#signalDueT = now + SIGNAL_MS;
    } catch {
      // Not every adapter knows.
    }
  }

  async #read(reader: Reader): Promise<void> {
    const { sent } = reader;
    reader.lastT = this.#clock.now();
    const { value = '', t = this.#clock.now() } = await this.#ask({
      do: 'read',
      key: reader.stream.key,
    });
    this.#failures = 0;
    // What it has sent meanwhile is the same figure, or a newer one.
    if (reader.sent !== sent) return;
    // The library gives no bytes for a read that was refused.
    if (value === '' && t < reader.expectedT) return;
    this.#take(reader, Buffer.from(value, 'hex'), t);
  }

  #take(reader: Reader, bytes: Uint8Array, t: number): void {
    reader.lastT = this.#clock.now();
    const values = reader.stream.decode(bytes);
    if (values === null) return this.#output.unusable();
    reader.expectedT = t;
    this.#output.values(reader.stream, values, t);
  }

  readonly #describe: Describe = async (key) => {
    try {
      const { descriptors = {} } = await this.#ask({ do: 'describe', key });
      const entries = Object.entries(descriptors);
      return Object.fromEntries(entries.map(([uuid, hex]) => [uuid, Buffer.from(hex, 'hex')]));
    } catch (error) {
      if (!this.#isRefusal(error)) throw error;
      return {}; // It is read without them.
    }
  };

  async #ask(order: WithoutId<Asked>): Promise<Answer> {
    if (this.#clock.now() >= this.#setUpUntilT) {
      throw new RadioError('it answers too slowly', { why: 'no-answer' });
    }
    try {
      const answer = await this.#radio.ask({ ...order, id: this.#id });
      this.#silences = 0;
      return answer;
    } catch (error) {
      const isSilent = error instanceof RadioError && error.why === 'no-answer';
      this.#silences = isSilent ? this.#silences + 1 : 0;
      throw error;
    }
  }

  /** Whether an error is of what was asked only, and the link is still good for the rest. */
  #isRefusal(error: unknown): error is RadioError {
    if (!(error instanceof RadioError) || error.down) return false;
    return this.#silences < MOST_SILENCES && this.#clock.now() < this.#setUpUntilT;
  }
}

type WithoutId<T> = T extends unknown ? Omit<T, 'id'> : never;

/** Whether `ms` have passed since; also where the clock was set back. */
function isOver(sinceT: number, ms: number, now: number): boolean {
  return now - sinceT >= ms || now < sinceT;
}
