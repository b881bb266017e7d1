/** The Bluetooth adapter with a radio of the test: probes on strings, and a clock to be turned. */
import { type BleOptions, createBleAdapter } from '../../adapters/ble/index.ts';
import {
  type Asked,
  type Radio,
  RadioError,
  type RadioListener,
} from '../../adapters/ble/radio-host.ts';
import type { Answer, Heard, Order, Said, Settings } from '../../adapters/ble/radio-messages.ts';
import { type FakeClock, fakeClock, settle } from './fake-clock.ts';
import { recordingHost } from './recording-host.ts';

/** One characteristic of a fake probe. */
export interface FakeCharacteristic {
  service: string;
  uuid: string;
  /** Bytes that a read gives. */
  hex: string;
  notifies?: boolean;
  reads?: boolean;
  descriptors?: Record<string, string>;
}

export interface FakeProbe {
  id: string;
  name?: string | null;
  services?: string[];
  characteristics?: FakeCharacteristic[];
  /** What a connect does; default: `link`. */
  connect?: 'link' | 'refuse' | 'hang';
  /** How long that takes; default: 300 ms. */
  connectMs?: number;
  /** How long a read takes; default: no time. */
  readMs?: number;
  /** Orders that fail, or never answer. */
  refuses?: Asked['do'][];
  /** Why, and how long that takes; default: it is not known, no time. */
  refusal?: { why: Answer['why']; ms: number };
  /** The characteristic, by its place, that only those can have who have paired with it. */
  locked?: string;
}

export const TEMPERATURE: FakeCharacteristic = {
  ...{ service: '181a', uuid: '2a6e', hex: '6408', notifies: true, reads: true }, // 21.48 °C
};
export const HUMIDITY: FakeCharacteristic = {
  ...{ service: '181a', uuid: '2a6f', hex: '8813', notifies: true, reads: true }, // 50.00 %
};

/** A probe of the Environmental Sensing Service, with the last digits of its address. */
export function probe(digits: string, more: Partial<FakeProbe> = {}): FakeProbe {
  return {
    id: `00aa0101${digits}`,
    name: 'Air probe',
    services: ['181a'],
    characteristics: [TEMPERATURE, HUMIDITY],
    ...more,
  };
}

/** An address as it is printed. */
const printed = (id: string): string => id.replace(/..(?=.)/g, '$&:');

const CONNECT_MS = 300;
const HUNG_MS = 7000;
const NEW_PROCESS_MS = 2000;

export class FakeRadio implements Radio {
  /** What has been asked, as `connect 00aa01010001`, `scan`, `replace`. */
  readonly orders: { t: number; text: string }[] = [];
  readonly probes = new Map<string, FakeProbe>();
  readonly linked = new Set<string>();
  connecting = 0;
  mostConnecting = 0;
  /** What a new process says of the system's Bluetooth. */
  state = 'poweredOn';
  /** Whether the adapter scans in the new way. */
  extended = false;
  /** Whether a scan comes of an order to scan. */
  scans = true;
  /** Says first of all that there is no radio. */
  absent: Extract<Said, { say: 'absent' }> | null = null;
  settings: () => Settings;
  readonly #listener: RadioListener;
  readonly #clock: FakeClock;
  #process = 0;

  constructor(listener: RadioListener, settings: () => Settings, clock: FakeClock) {
    this.#listener = listener;
    this.settings = settings;
    this.#clock = clock;
  }

  start(): void {
    this.#process += 1;
    this.#listener.begun();
    if (this.absent !== null) return this.say(this.absent);
    this.say({ say: 'loaded' });
    const { state, extended } = this;
    if (state !== '') this.say({ say: 'state', state, extended });
  }

  say(message: Said): void {
    this.#listener.said(message);
  }

  tell(order: Extract<Order, { do: 'scan' }>): void {
    this.#note(order.do);
    this.say({ say: 'scanning', on: false }); // as the real one does while it begins
    if (this.scans) this.say({ say: 'scanning', on: true });
  }

  replace(): void {
    this.#note('replace');
    this.end(null);
  }

  /** The process ends. */
  end(why: string | null): void {
    this.#process += 1;
    this.linked.clear();
    this.connecting = 0;
    this.#listener.ended(why);
    this.#clock.setTimer(() => this.start(), NEW_PROCESS_MS);
  }

  async stop(): Promise<void> {
    this.#note('stop');
  }

  async ask(order: Asked): Promise<Answer> {
    this.#note(`${order.do} ${order.id}${'key' in order ? ` ${order.key}` : ''}`);
    const asked = this.probes.get(order.id);
    if (asked === undefined) throw new RadioError('it has not been heard');
    if (order.do === 'connect') return this.#connect(asked);
    await Promise.resolve();
    if (order.do === 'disconnect') {
      if (this.linked.delete(order.id)) this.say({ say: 'gone', id: order.id, reason: 22 });
      return answer({});
    }
    if (!this.linked.has(order.id)) throw new RadioError('there is no link to it');
    if ('key' in order && order.key === asked.locked && order.do !== 'describe') {
      throw new RadioError('it refused', { why: 'pairing' });
    }
    if (asked.refuses?.includes(order.do) === true) {
      const { why, ms } = asked.refusal ?? { why: undefined, ms: 0 };
      if (ms > 0) await new Promise<void>((resolve) => void this.#clock.setTimer(resolve, ms));
      throw new RadioError('it did not end within 5 s', { why });
    }
    if (order.do === 'read' && asked.readMs !== undefined) {
      await new Promise<void>((resolve) => void this.#clock.setTimer(resolve, asked.readMs ?? 0));
    }
    return answer(this.#answer(asked, order));
  }

  #answer({ characteristics = [] }: FakeProbe, order: Asked): Partial<Answer> {
    const found = characteristics.map(({ service, uuid, notifies, reads }, i) => ({
      ...{ key: `${i}`, service, uuid, notifies: notifies ?? false, reads: reads ?? true },
    }));
    if (order.do === 'discover') {
      return { found: found.filter(({ service }) => order.services.includes(service)) };
    }
    const one = 'key' in order ? characteristics[Number(order.key)] : undefined;
    if (order.do === 'describe') return { descriptors: one?.descriptors ?? {} };
    if (order.do === 'read') return { value: one?.hex ?? '', t: this.#clock.now() };
    if (order.do === 'signal') return { signalDbm: -55 };
    return {};
  }

  async #connect(asked: FakeProbe): Promise<Answer> {
    const process = this.#process;
    this.connecting += 1;
    this.mostConnecting = Math.max(this.mostConnecting, this.connecting);
    const hangs = asked.connect === 'hang';
    await new Promise<void>((resolve) => {
      this.#clock.setTimer(resolve, hangs ? HUNG_MS : (asked.connectMs ?? CONNECT_MS));
    });
    if (process !== this.#process) {
      throw new RadioError('the radio was started anew', { down: true });
    }
    if (hangs) {
      this.end('It did not answer.');
      throw new RadioError('the radio did not answer for 7 s', { down: true, hung: true });
    }
    this.connecting -= 1;
    if (asked.connect === 'refuse') throw new RadioError('it refused');
    this.linked.add(asked.id);
    this.say({ say: 'scanning', on: false });
    return answer({});
  }

  #note(text: string): void {
    this.orders.push({ t: this.#clock.now(), text });
  }
}

function answer(found: Partial<Answer>): Answer {
  return { say: 'answer', ask: 0, error: null, ...found };
}

/** A started adapter, its host and its radio. */
export async function bleStage(
  options: Partial<BleOptions> = {},
  prepare?: (r: FakeRadio) => void,
) {
  const clock = fakeClock();
  const host = recordingHost();
  let made: FakeRadio | null = null;
  const adapter = createBleAdapter({
    radioFile: '',
    clock,
    platform: 'linux',
    makeRadio(listener, settings) {
      made = new FakeRadio(listener, settings, clock);
      prepare?.(made);
      return made;
    },
    ...options,
  });
  void adapter.start(host);
  await settle();
  const radio: FakeRadio | null = made;
  if (radio === null) throw new Error('no radio was made');
  return new Stage(clock, host, adapter, radio);
}

export class Stage {
  readonly clock: FakeClock;
  readonly host: ReturnType<typeof recordingHost>;
  readonly adapter: ReturnType<typeof createBleAdapter>;
  readonly radio: FakeRadio;

  constructor(clock: FakeClock, host: Stage['host'], adapter: Stage['adapter'], radio: FakeRadio) {
    this.clock = clock;
    this.host = host;
    this.adapter = adapter;
    this.radio = radio;
  }

  /** Puts probes into the world: they can be heard and linked from now on. */
  add(...probes: FakeProbe[]): void {
    for (const one of probes) this.radio.probes.set(one.id, one);
  }

  /** A probe advertises, once. */
  advertise({ id, name = null, services = [] }: FakeProbe, more: Partial<Heard> = {}): void {
    this.radio.say({
      ...{ say: 'heard', id, address: printed(id), t: this.clock.now(), name, services },
      ...{ signalDbm: -60, connectable: true, serviceData: [], manufacturerData: null },
      ...more,
    });
  }

  /** A probe broadcasts a BTHome frame. */
  broadcast(id: string, bytes: string, more: Partial<Heard> = {}): void {
    const serviceData = [{ uuid: 'fcd2', bytes }];
    this.advertise({ id }, { connectable: false, serviceData, ...more });
  }

  /** Lets time pass; all probes in reach that are not linked advertise every half second. */
  async pass(ms: number): Promise<void> {
    for (let passed = 0; passed < ms; passed += 500) {
      for (const one of this.radio.probes.values()) {
        if (!this.radio.linked.has(one.id)) this.advertise(one);
      }
      await this.clock.advance(Math.min(500, ms - passed));
    }
  }

  /** A linked probe sends a value by itself. @param key the place of its characteristic */
  notify({ id }: FakeProbe, key: string, bytes: string): void {
    this.radio.say({ say: 'value', id, key, t: this.clock.now(), bytes });
  }

  /** The link of a probe ends. */
  drop({ id }: FakeProbe, reason = 8): void {
    this.radio.linked.delete(id);
    this.radio.say({ say: 'gone', id, reason });
  }

  readings(id: string) {
    return this.host.readings().filter(({ probe }) => probe === id);
  }
  /** The states of a link, one after another. */
  links(id: string): string[] {
    const told = this.host.links.filter(({ probe }) => probe === id).map(({ link }) => link.state);
    return told.filter((state, i) => state !== told[i - 1]);
  }
  orders(word: string): string[] {
    return this.radio.orders.filter(({ text }) => text.startsWith(word)).map(({ text }) => text);
  }
  status() {
    return this.host.statuses.at(-1);
  }
  /** What a probe was called last. */
  name(id: string): string | undefined {
    const named = this.host.lines.flatMap((line) =>
      line.type === 'probe' && line.id === id ? (line.name ?? []) : [],
    );
    return named.at(-1);
  }
}
