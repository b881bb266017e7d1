/**
 * One run of the Bluetooth adapter, from its start to its stop: keeps the radio scanning, links the
 * probes that want a link, reads those that broadcast, and says how it all is.
 */
import type { AdapterHost } from '../contract.ts';
import { Broadcasts } from './broadcasts.ts';
import type { Clock, TimerHandle } from './clock.ts';
import type { DescribedProbe } from './described.ts';
import { Links } from './links.ts';
import { MOST_DEVICES, parseProbeId, ProbeBook } from './probe-book.ts';
import type { Radio, RadioListener } from './radio-host.ts';
import type { Heard, Said, Settings, Wanted } from './radio-messages.ts';
import { RadioWatch } from './radio-watch.ts';
import { isBroadcast, layoutOf, wantedOf } from './recognise.ts';
import { Teller } from './teller.ts';

const TICK_MS = 250;
const FULL =
  `${MOST_DEVICES} Bluetooth probes are known, and there is no room for the others that are heard: ` +
  'forget some that are not here, and those appear by themselves.';

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
  readonly #links: Links;
  readonly #wanted: Wanted;
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
    this.#links = new Links({
      ...{ radio: this.#radio, clock: this.#clock, book: this.#book },
      connected: () => {
        this.#watch.connected(this.#clock.now());
        this.#look(this.#clock.now());
      },
    });
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

  /** A person has forgotten a probe: when it is heard again, it comes back as a new one. */
  forget(probe: string): void {
    const forgotten = parseProbeId(probe);
    if (forgotten === null || !this.#book.forget(forgotten.id, forgotten.instance)) return;
    this.#broadcasts.forget(forgotten.id);
    this.#links.forget(forgotten.id);
  }

  keysChanged(): void {
    this.#broadcasts.keysChanged();
  }

  begun(): void {
    this.#watch.begun(this.#clock.now());
  }

  ended(why: string | null): void {
    this.#watch.ended(why);
    this.#links.allLost();
    this.#tellStatus();
  }

  said(message: Said): void {
    const now = this.#clock.now();
    switch (message.say) {
      case 'state':
        this.#watch.state(message.state, message.extended ?? false, now);
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
        this.#linkNext();
        break;
      case 'value':
        this.#links.value(message.id, message.key, bytesOf(message.bytes), message.t);
        break;
      case 'gone':
        this.#links.lost(message.id);
        break;
      case 'late':
        this.#teller.remark(
          `${lateValues(message.count)} left out: a probe that did not answer held the radio up.`,
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
    this.#linkNext();
    this.#links.tick();
    this.#tellStatus();
  }

  /** Does what the state of the radio asks for. */
  #look(now: number): void {
    const todo = this.#watch.next(now, this.#links.isConnecting, this.#links.count);
    if (todo === 'scan') this.#radio.tell({ do: 'scan', wanted: this.#wanted });
    if (todo === 'replace') this.#radio.replace();
  }

  #heard(heard: Heard): void {
    const { id, t } = heard;
    const { descriptions, pollMs } = this.#options;
    const broadcasts = isBroadcast(heard);
    const layout = this.#links.layoutOf(id) ?? layoutOf(heard, descriptions, pollMs);
    if (!broadcasts && layout === null) return;
    if (!this.#book.hasRoomFor(id)) {
      this.#teller.remark(FULL, t);
      return;
    }
    // One that can be read in both ways is read in one: the figures are the same, and would come twice.
    if (broadcasts && !this.#links.has(id)) this.#broadcasts.heard(heard);
    if (layout === null || this.#broadcasts.isGood(id, t)) return;
    this.#book.heard(id, heard.name ?? layout.name);
    this.#book.signal(id, heard.signalDbm, t);
    if (heard.connectable && this.#links.heard(heard, layout)) this.#book.link(id, 'connecting');
  }

  #linkNext(): void {
    if (this.#watch.isOn) this.#links.next();
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
      ...this.#links.troubles(),
      ...this.#broadcasts.troubles((id) => this.#links.has(id)),
      ...unusable,
    ];
    this.#teller.tell(this.#watch.radio, troubles, now);
  }
}

function bytesOf(hex: string): Buffer {
  return Buffer.from(hex, 'hex');
}

function lateValues(count: number): string {
  return count === 1 ? '1 value was' : `${count} values were`;
}
