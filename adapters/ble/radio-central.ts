/** The radio itself, in its own process: scans, links, and says what comes of it. */
import { errorText } from './error-text.ts';
import { companyOf } from './manufacturer.ts';
import type { Noble, NobleAdvertisement, Peripheral } from './noble-api.ts';
import { NoAnswer, once } from './once.ts';
import { dbm, RadioLink, WantsPairing } from './radio-link.ts';
import { scansExtended } from './scan-ability.ts';
import type { Answer, Heard, Order, Said, Wanted } from './radio-messages.ts';
import { normalUuid } from './uuid.ts';

/** What blocks a connect cannot be ended from here; this is for systems on which it does not block. */
const CONNECT_MS = 5000;
const DISCONNECT_MS = 4000;
/** A link without a word for so long is lost, in units of 10 ms. The library's own 420 ms are too few. */
const SUPERVISION = 400;
/** An advertisement that says the same again is not told more often, ms. */
const SAME_AGAIN_MS = 400;
/** After a standstill longer than this, values that have queued up cannot be dated, ms. */
const STANDSTILL_MS = 1000;
/** The queue counts as worked off when so many turns of the event loop brought nothing. */
const EMPTY_TURNS = 3;
const DRAIN_LIMIT_MS = 250;
/** So many addresses are kept; more than this come only of those that change theirs all the time. */
const MOST_HEARD = 1024;

type Asked = Extract<Order, { ask: number }>;

export class Central {
  readonly #noble: Noble;
  readonly #say: (message: Said) => void;
  readonly #peripherals = new Map<string, Peripheral>();
  readonly #links = new Map<string, RadioLink>();
  /** When and how each was told last. */
  readonly #told = new Map<string, { t: number; text: string }>();
  readonly #connecting = new Set<string>();
  #wanted: Wanted = { services: [], companies: [] };
  #state = 'unknown';
  /** While a queue is worked off after a standstill: how many values it has brought. */
  #late: { count: number; sinceLast: number } | null = null;

  constructor(noble: Noble, say: (message: Said) => void) {
    this.#noble = noble;
    this.#say = say;
    noble.on('scanStart', () => say({ say: 'scanning', on: true }));
    noble.on('scanStop', () => say({ say: 'scanning', on: false }));
    noble.on('warning', (text: unknown) => say({ say: 'fault', text: errorText(text) }));
    noble.on('discover', (peripheral: Peripheral) => this.#heard(peripheral));
  }

  /** Says how the computer's Bluetooth is, from now on; the library wakes up by this. */
  onState(also: () => void): void {
    this.#noble.on('stateChange', (state: unknown) => {
      also();
      this.#state = String(state).slice(0, 40);
      if (state === 'poweredOn') void this.#sayPoweredOn();
      else this.#say({ say: 'state', state: this.#state });
    });
  }

  async #sayPoweredOn(): Promise<void> {
    const extended = await scansExtended(this.#noble);
    if (this.#state === 'poweredOn') this.#say({ say: 'state', state: this.#state, extended });
  }

  carryOut(order: Order): void {
    if (order.do === 'scan') {
      this.#wanted = order.wanted;
      this.#noble.startScanning([], true);
      return;
    }
    const answer = (found: Partial<Answer>): void =>
      this.#say({ say: 'answer', ask: order.ask, error: null, ...found });
    this.#do(order).then(answer, (error: unknown) =>
      answer({ error: errorText(error).slice(0, 1000), ...whyNot(error) }),
    );
  }

  async #do(order: Asked): Promise<Partial<Answer>> {
    if (order.do === 'connect') return this.#connect(order.id);
    if (order.do === 'disconnect') return this.#disconnect(order.id);
    const link = this.#links.get(order.id);
    if (link === undefined) throw new Error('there is no link to it');
    switch (order.do) {
      case 'discover':
        return { found: await link.discover(order.services) };
      case 'describe':
        return { descriptors: await link.describe(order.key) };
      case 'subscribe':
        await link.subscribe(order.key);
        return {};
      case 'read':
        return this.#read(await link.read(order.key));
      case 'signal':
        return { signalDbm: await link.signal() };
    }
  }

  async #connect(id: string): Promise<Partial<Answer>> {
    const peripheral = this.#peripherals.get(id);
    if (peripheral === undefined) throw new Error('it has not been heard');
    const options = { what: 'connecting', limitMs: CONNECT_MS };
    this.#connecting.add(id);
    let blockedMs = 0;
    const call = (): void => {
      const before = performance.now();
      peripheral.connect({ timeout: SUPERVISION });
      blockedMs = performance.now() - before;
    };
    try {
      const answered = once(peripheral, 'connect', options, call);
      if (blockedMs > STANDSTILL_MS) this.#drain();
      const [error] = await answered;
      if (error !== undefined && error !== null) throw new Error(errorText(error));
    } catch (error) {
      if (peripheral.state === 'connecting') peripheral.cancelConnect();
      throw error;
    } finally {
      this.#connecting.delete(id);
    }
    this.#links.get(id)?.lost();
    const link = new RadioLink(this.#noble, peripheral, (key, bytes) =>
      this.#value(id, key, bytes),
    );
    this.#links.set(id, link);
    return {};
  }

  #read(value: string): Partial<Answer> {
    if (this.#late !== null) throw new Error('the radio was held up');
    return { value, t: Date.now() };
  }

  async #disconnect(id: string): Promise<Partial<Answer>> {
    const peripheral = this.#peripherals.get(id);
    // Where there is no link, the library would end that of handle 0, and never answer.
    if (peripheral?.state !== 'connected') return {};
    const options = { what: 'disconnecting', limitMs: DISCONNECT_MS };
    await once(peripheral, 'disconnect', options, () => peripheral.disconnect());
    return {};
  }

  #value(id: string, key: string, bytes: Uint8Array): void {
    if (this.#late !== null) {
      this.#late.count += 1;
      this.#late.sinceLast = 0;
      return;
    }
    const hex = Buffer.from(bytes).toString('hex').slice(0, 1024);
    this.#say({ say: 'value', id, key, t: Date.now(), bytes: hex });
  }

  /** What has come in while a connect blocked this process has no time: it is counted, not told. */
  #drain(): void {
    const drain = (this.#late ??= { count: 0, sinceLast: 0 });
    const until = performance.now() + DRAIN_LIMIT_MS;
    const turn = (): void => {
      drain.sinceLast += 1;
      if (drain.sinceLast <= EMPTY_TURNS && performance.now() < until) {
        setImmediate(turn);
        return;
      }
      this.#late = null;
      if (drain.count > 0) this.#say({ say: 'late', count: drain.count });
    };
    setImmediate(turn);
  }

  #heard(peripheral: Peripheral): void {
    const id = peripheral.id.toLowerCase();
    const heard = advertised(id, peripheral);
    if (!this.#peripherals.has(id)) {
      if (!isWanted(heard, this.#wanted) || this.#peripherals.size >= MOST_HEARD) return;
      this.#watch(id, peripheral);
    }
    this.#peripherals.set(id, peripheral);
    if (this.#late !== null) return;
    const text = JSON.stringify([heard.services, heard.serviceData, heard.manufacturerData]);
    const last = this.#told.get(id);
    if (last?.text === text && heard.t - last.t < SAME_AGAIN_MS && heard.t >= last.t) return;
    this.#told.set(id, { t: heard.t, text });
    this.#say(heard);
  }

  #watch(id: string, peripheral: Peripheral): void {
    peripheral.on('connect', (error: unknown) => {
      // Came after it was given up: a link that nobody knows of would keep the probe from advertising.
      const unwanted = !this.#connecting.has(id) && !this.#links.has(id);
      if (unwanted && (error === undefined || error === null)) peripheral.disconnect();
    });
    peripheral.on('disconnect', (reason: unknown) => {
      this.#links.get(id)?.lost();
      this.#links.delete(id);
      this.#say({ say: 'gone', id, reason: typeof reason === 'number' ? reason : null });
    });
  }
}

function whyNot(error: unknown): Pick<Answer, 'why'> {
  if (error instanceof NoAnswer) return { why: 'no-answer' };
  return error instanceof WantsPairing ? { why: 'pairing' } : {};
}

/** A copy of what is advertised: the library goes on changing its own. */
function advertised(id: string, peripheral: Peripheral): Heard {
  const { advertisement, address } = peripheral;
  const manufacturer = advertisement.manufacturerData;
  return {
    say: 'heard',
    id,
    address: /^(?:[\da-f]{2}:){5}[\da-f]{2}$/i.test(address) ? address.toLowerCase() : null,
    passing: peripheral.addressType === 'random' && !/^[c-f]/i.test(address), // static ones begin so
    t: Date.now(),
    name: advertisement.localName?.slice(0, 300) ?? null,
    signalDbm: dbm(peripheral.rssi),
    connectable: Boolean(peripheral.connectable), // a number where it scans in the newer way
    services: (advertisement.serviceUuids ?? [])
      .flatMap((uuid) => paddedUuid(uuid) ?? [])
      .slice(0, 64),
    serviceData: dataOf(advertisement),
    manufacturerData: manufacturer === undefined ? null : hex(manufacturer),
  };
}

function dataOf({ serviceData = [] }: NobleAdvertisement): Heard['serviceData'] {
  return serviceData
    .flatMap(({ uuid, data }) => {
      const normal = paddedUuid(uuid);
      return normal === null ? [] : [{ uuid: normal, bytes: hex(data) }];
    })
    .slice(0, 64);
}

/** The library leaves leading zeros out of short UUIDs. */
function paddedUuid(uuid: string): string | null {
  return normalUuid(uuid.length < 4 ? uuid.padStart(4, '0') : uuid);
}

function hex(bytes: Uint8Array): string {
  return Buffer.from(bytes).toString('hex').slice(0, 1024);
}

function isWanted({ services, serviceData, manufacturerData }: Heard, wanted: Wanted): boolean {
  const company = companyOf(manufacturerData);
  return (
    services.some((uuid) => wanted.services.includes(uuid)) ||
    serviceData.some(({ uuid }) => wanted.services.includes(uuid)) ||
    (company !== null && wanted.companies.includes(company))
  );
}
