/** The links to probes: which there are, which is being made, and which comes next. */
import type { Clock } from './clock.ts';
import type { Layout } from './layout.ts';
import { LinkedProbe } from './linked-probe.ts';
import type { ProbeBook } from './probe-book.ts';
import { type Radio, RadioError } from './radio-host.ts';
import type { Heard } from './radio-messages.ts';
import { Turns } from './turns.ts';

/** A probe that has failed so often in a row is spoken of. */
const FAILED_OFTEN = 3;
/** One that is heard no more often than this is hard to link, ms. */
const SELDOM_MS = 3000;

export interface LinksOptions {
  readonly radio: Radio;
  readonly clock: Clock;
  readonly book: ProbeBook;
  /** A connect has ended, in whatever way, and the scan with it. */
  readonly connected: () => void;
}

export class Links {
  readonly #options: LinksOptions;
  readonly #clock: Clock;
  readonly #radio: Radio;
  readonly #book: ProbeBook;
  readonly #turns = new Turns();
  readonly #layouts = new Map<string, Layout>();
  readonly #links = new Map<string, LinkedProbe>();
  /** Why those cannot be linked that cannot, as a sentence. */
  readonly #troubles = new Map<string, string>();
  /** Those whose address will change. */
  readonly #passing = new Set<string>();
  #linking: { readonly id: string; connecting: boolean; forgotten: boolean } | null = null;

  constructor(options: LinksOptions) {
    this.#options = options;
    this.#clock = options.clock;
    this.#radio = options.radio;
    this.#book = options.book;
  }

  /** How many there are, the one that is being made included. */
  get count(): number {
    return this.#links.size;
  }

  /** Whether a probe is being connected: the radio does nothing else meanwhile. */
  get isConnecting(): boolean {
    return this.#linking?.connecting === true;
  }

  /** Whether one is linked, or being linked. */
  has(id: string): boolean {
    return this.#links.has(id);
  }

  /** What stands against linking some of those that are heard, or keeping them, as sentences. */
  troubles(): string[] {
    const away = new Set(this.#turns.away(this.#clock.now()));
    const passing = [...this.#passing].map((id): [string, string] => [
      id,
      `${this.#book.nameOf(id)} changes its address from time to time, and is then a new probe ` +
        'without a place: switch that (its privacy) off in the probe, or place it again.',
    ]);
    return [...this.#troubles, ...passing].flatMap(([id, text]) => (away.has(id) ? [] : [text]));
  }

  /** How a probe is read, where that is known already. */
  layoutOf(id: string): Layout | null {
    return this.#layouts.get(id) ?? null;
  }

  /** A probe that can be linked was heard. @returns whether for the first time */
  heard({ id, t, passing = false }: Heard, layout: Layout): boolean {
    this.#layouts.set(id, layout);
    if (passing) this.#passing.add(id);
    return this.#turns.heard(id, t);
  }

  /** Links the next probe, if it is the time for one. */
  next(): void {
    if (this.#linking !== null) return;
    const id = this.#turns.next(this.#clock.now());
    const layout = id === null ? undefined : this.#layouts.get(id);
    if (id !== null && layout !== undefined) void this.#link(id, layout);
  }

  /** Reads what is due; to be called a few times a second. */
  tick(): void {
    for (const id of this.#turns.away(this.#clock.now())) this.#book.link(id, 'lost');
    for (const [id, link] of this.#links) {
      if (id === this.#linking?.id || link.tick()) continue;
      // It is up, but of no use.
      this.lost(id);
      void this.#disconnect(id);
    }
  }

  /** Takes what a linked probe has sent by itself. */
  value(id: string, key: string, bytes: Uint8Array, t: number): void {
    this.#links.get(id)?.value(key, bytes, t);
  }

  /** A link has ended. */
  lost(id: string): void {
    // While it is being made, the orders that are under way fail, and that is seen to there.
    if (id === this.#linking?.id || !this.#links.delete(id)) return;
    this.#turns.lost(id, this.#clock.now());
    this.#book.link(id, 'lost');
  }

  /** All have ended, through no fault of the probes. */
  allLost(): void {
    for (const id of this.#links.keys()) this.#book.link(id, 'lost');
    this.#links.clear();
    this.#turns.allLost();
  }

  /** Ends the link to a probe, which is as if it had never been heard. */
  forget(id: string): void {
    this.#layouts.delete(id);
    this.#troubles.delete(id);
    this.#passing.delete(id);
    this.#turns.forget(id);
    const linked = this.#links.delete(id);
    // While it is being linked the radio answers nothing else: that link is ended afterwards.
    if (this.#linking?.id === id) this.#linking.forgotten = true;
    else if (linked) void this.#disconnect(id);
  }

  async #link(id: string, layout: Layout): Promise<void> {
    const linking = { id, connecting: true, forgotten: false };
    this.#linking = linking;
    this.#turns.taken(id, this.#clock.now());
    this.#book.link(id, 'connecting');
    const link = this.#probeOver(id, layout);
    this.#links.set(id, link);
    try {
      try {
        await link.connect();
      } finally {
        linking.connecting = false;
        this.#options.connected();
      }
      await link.setUp();
      this.#troubles.delete(id);
      // Its link may have ended while the last answer was on its way, or a person has forgotten it.
      if (this.#links.get(id) === link) this.#book.link(id, 'connected');
      else if (linking.forgotten) await this.#disconnect(id);
    } catch (error) {
      if (!(error instanceof RadioError)) throw error;
      if (this.#links.get(id) === link) {
        this.#links.delete(id);
        this.#book.link(id, 'lost');
      }
      if (!linking.forgotten) this.#failed(id, error);
      if (!error.down) await this.#disconnect(id);
    } finally {
      this.#linking = null;
      this.#turns.ended(this.#clock.now());
    }
  }

  /** What it sends counts as long as it is the one that is linked. */
  #probeOver(id: string, layout: Layout): LinkedProbe {
    const tell = (what: () => void): void => {
      if (this.#links.get(id) === link) what();
    };
    const link: LinkedProbe = new LinkedProbe(id, layout, this.#radio, this.#clock, {
      values: ({ instance, label }, values, t) =>
        tell(() => this.#book.reading(id, instance, label, values, t)),
      unusable: () => tell(() => this.#book.unusable(id, this.#clock.now())),
      signal: (dbm) => tell(() => this.#book.signal(id, dbm, this.#clock.now())),
      isNameless: () => this.#book.isNameless(id),
      named: (kind) => tell(() => this.#book.heard(id, kind)),
    });
    return link;
  }

  #failed(id: string, { down, hung, message, why }: RadioError): void {
    // What the radio went down of by itself is not held against the probe.
    if (down && !hung) return;
    const pairing = why === 'pairing';
    this.#turns.failed(id, this.#clock.now(), hung || pairing);
    if (!hung && !pairing && this.#turns.failures(id) < FAILED_OFTEN) return;
    const name = this.#book.nameOf(id);
    const everyMs = this.#turns.rhythmOf(id) ?? 0;
    const what =
      everyMs > SELDOM_MS
        ? `it is heard only every ${Math.round(everyMs / 1000)} s: have it advertise every second`
        : 'move it nearer, or see to its battery';
    this.#troubles.set(
      id,
      pairing
        ? `${name} answers only to a computer that it is paired with, and Plateau does not pair: ` +
            'switch that off in the probe, or use one that is open.'
        : `${name} is heard but cannot be linked (${message}): ${what}.`,
    );
  }

  async #disconnect(id: string): Promise<void> {
    try {
      await this.#radio.ask({ do: 'disconnect', id });
    } catch (error) {
      // Without an end to it the probe does not advertise, and the radio would refuse to link it again.
      if (!(error instanceof RadioError && error.down)) this.#radio.replace();
    }
  }
}
