/**
 * One run of the Bluetooth adapter, from its start to its stop: keeps the radio scanning, links the
 * probes that want a link, reads those that broadcast, and says how it all is.
 */
import type { AdapterHost } from '../contract.ts';
import { Broadcasts } from './broadcasts.ts';
import type { Clock, TimerHandle } from './clock.ts';
import type { DescribedProbe } from './described.ts';
import type { Layout } from './layout.ts';
import { LinkedProbe } from './linked-probe.ts';
import { ProbeBook } from './probe-book.ts';
import { type Radio, RadioError, type RadioListener } from './radio-host.ts';
import type { Heard, Said, Settings, Wanted } from './radio-messages.ts';
import { RadioWatch } from './radio-watch.ts';
import { layoutOf, wantedOf } from './recognise.ts';
import { Teller } from './teller.ts';
import { Turns } from './turns.ts';

const TICK_MS = 250;
/** A probe that has failed so often in a row is spoken of. */
const FAILED_OFTEN = 3;

export interface BluetoothOptions {
  readonly host: AdapterHost;
  readonly clock: Clock;
  readonly platform: string;
  readonly adapterIndex: number | null;
  readonly pollMs: number;
  readonly descriptions: readonly DescribedProbe[];
  readonly keyOf: (id: string) => Uint8Array | null;
  readonly nameOf: (probe: string) => string | null;
  /** What is wrong with the keys, as a sentence, or null. */
  readonly keysTrouble: string | null;
  readonly makeRadio: (listener: RadioListener, settings: () => Settings) => Radio;
}

export class Bluetooth implements RadioListener {
  readonly #options: BluetoothOptions;
  readonly #clock: Clock;
  readonly #radio: Radio;
  readonly #watch: RadioWatch;
  readonly #book: ProbeBook;
  readonly #broadcasts: Broadcasts;
  readonly #teller: Teller;
  readonly #turns = new Turns();
  readonly #layouts = new Map<string, Layout>();
  readonly #links = new Map<string, LinkedProbe>();
  readonly #wanted: Wanted;
  #linking: string | null = null;
  #timer: TimerHandle | null = null;

  constructor(options: BluetoothOptions) {
    this.#options = options;
    this.#clock = options.clock;
    this.#watch = new RadioWatch();
    this.#radio = options.makeRadio(this, () => ({
      adapterIndex: options.adapterIndex,
      extended: this.#watch.extended,
    }));
    this.#teller = new Teller(options.host, options.platform);
    this.#book = new ProbeBook({ host: options.host, nameOf: options.nameOf });
    this.#broadcasts = new Broadcasts(this.#book, options.keyOf);
    this.#wanted = wantedOf(options.descriptions);
  }

  /** @returns when it is known how the radio is */
  start(): Promise<void> {
    this.#radio.start();
    this.#timer = this.#clock.setTimer(() => this.#tick(), TICK_MS);
    return this.#teller.known;
  }

  async stop(): Promise<void> {
    this.#teller.silence();
    if (this.#timer !== null) this.#clock.clearTimer(this.#timer);
    await this.#radio.stop();
  }

  keysChanged(): void {
    this.#broadcasts.keysChanged();
  }

  begun(): void {
    this.#watch.begun(this.#clock.now());
  }

  ended(why: string | null): void {
    this.#watch.ended(why);
    this.#allLost();
    this.#tellStatus();
  }

  said(message: Said): void {
    const now = this.#clock.now();
    switch (message.say) {
      case 'state':
        this.#watch.state(message.state, now);
        this.#look(now);
        this.#tellStatus();
        break;
      case 'absent':
        this.#watch.absent(message.why, message.text);
        this.#tellStatus();
        break;
      case 'loaded':
        this.#watch.loaded(now);
        break;
      case 'scanning':
        this.#watch.scanning(message.on, now);
        break;
      case 'heard':
        this.#watch.heard(now);
        this.#heard(message);
        this.#linkNext(now);
        break;
      case 'value':
        this.#links.get(message.id)?.value(message.key, bytesOf(message.bytes), message.t);
        break;
      case 'gone':
        this.#lost(message.id);
        break;
      case 'late':
        this.#teller.remark(
          `${message.count} values were left out: a probe that did not answer held the radio up.`,
          now,
        );
        break;
      case 'fault':
        this.#watch.fault(now);
        break;
      case 'pulse':
      case 'answer':
        break; // the host's own business
    }
  }

  #tick(): void {
    const now = this.#clock.now();
    this.#timer = this.#clock.setTimer(() => this.#tick(), TICK_MS);
    this.#look(now);
    this.#linkNext(now);
    for (const [id, link] of this.#links) {
      if (id !== this.#linking && !link.tick()) this.#giveUp(id);
    }
    this.#tellStatus();
  }

  /** Does what the state of the radio asks for. */
  #look(now: number): void {
    const todo = this.#watch.next(now, this.#linking !== null, this.#links.size);
    if (todo === 'scan') this.#radio.tell({ do: 'scan', wanted: this.#wanted });
    if (todo === 'replace') this.#radio.replace();
  }

  #heard(heard: Heard): void {
    const { id, t } = heard;
    if (!this.#book.hasRoomFor(id)) {
      this.#teller.remark('More probes are heard than can be kept: the newest are left out.', t);
      return;
    }
    if (this.#broadcasts.heard(heard)) return;
    if (!this.#layouts.has(id)) {
      const layout = layoutOf(heard, this.#options.descriptions, this.#options.pollMs);
      if (layout === null) return;
      this.#layouts.set(id, layout);
    }
    const first = this.#turns.heard(id, t);
    this.#book.heard(id, heard.name ?? this.#layouts.get(id)?.name ?? null);
    this.#book.signal(id, heard.signalDbm, t);
    if (first) this.#book.link(id, 'connecting');
  }

  #linkNext(now: number): void {
    if (this.#linking !== null || !this.#watch.isOn) return;
    const id = this.#turns.next(now);
    const layout = id === null ? undefined : this.#layouts.get(id);
    if (id !== null && layout !== undefined) void this.#link(id, layout);
  }

  async #link(id: string, layout: Layout): Promise<void> {
    this.#linking = id;
    this.#turns.taken(id, this.#clock.now());
    this.#book.link(id, 'connecting');
    const link = new LinkedProbe(id, layout, this.#radio, this.#clock, {
      values: ({ instance, label }, values, t) =>
        this.#book.reading(id, instance, label, values, t),
      unusable: () => this.#book.unusable(id, this.#clock.now()),
      signal: (dbm) => this.#book.signal(id, dbm, this.#clock.now()),
      isNameless: () => this.#book.isNameless(id),
      named: (kind) => this.#book.heard(id, kind),
    });
    this.#links.set(id, link);
    try {
      await link.setUp();
      // Its link may have ended while the last answer was on its way.
      if (this.#links.get(id) === link) this.#book.link(id, 'connected');
    } catch (error) {
      this.#links.delete(id);
      if (!(error instanceof RadioError)) throw error;
      const { down, hung } = error;
      this.#book.link(id, 'lost');
      // What the radio went down of by itself is not held against the probe.
      if (hung || !down) this.#turns.failed(id, this.#clock.now(), hung);
      if (hung || this.#turns.failures(id) >= FAILED_OFTEN) this.#remarkFailure(id, error.message);
      if (!down) await this.#disconnect(id);
    } finally {
      this.#linking = null;
      this.#watch.linked(this.#clock.now());
      this.#look(this.#clock.now());
    }
  }

  #remarkFailure(id: string, why: string): void {
    const text =
      `${this.#book.nameOf(id)} is heard but cannot be linked (${why}): ` +
      'move it nearer, or see to its battery.';
    this.#teller.remark(text, this.#clock.now());
  }

  /** A link that is up but of no use. */
  #giveUp(id: string): void {
    this.#lost(id);
    void this.#disconnect(id);
  }

  async #disconnect(id: string): Promise<void> {
    try {
      await this.#radio.ask({ do: 'disconnect', id });
    } catch (error) {
      // Without an end to it the probe does not advertise, and the radio would refuse to link it again.
      if (!(error instanceof RadioError && error.down)) this.#radio.replace();
    }
  }

  #lost(id: string): void {
    // While it is being linked, the orders that are under way fail, and that is seen to there.
    if (id === this.#linking || !this.#links.delete(id)) return;
    this.#turns.lost(id, this.#clock.now());
    this.#book.link(id, 'lost');
  }

  #allLost(): void {
    for (const id of this.#links.keys()) this.#book.link(id, 'lost');
    this.#links.clear();
    this.#turns.allLost();
  }

  #tellStatus(): void {
    const now = this.#clock.now();
    const { keysTrouble } = this.#options;
    const unusable = [...this.#book.unusables(now)].map(
      ({ id, count }) =>
        `${this.#book.nameOf(id)} has sent values that are none (${count} so far): ` +
        'not known to it, or beyond what can be; they are left out.',
    );
    const troubles = [
      ...(keysTrouble === null ? [] : [keysTrouble]),
      ...this.#broadcasts.troubles(),
      ...unusable,
    ];
    this.#teller.tell(this.#watch.radio, troubles, now);
  }
}

function bytesOf(hex: string): Buffer {
  return Buffer.from(hex, 'hex');
}
