/** One linked probe, in the radio process: finds its characteristics, reads them, listens to them. */
import { errorText } from './error-text.ts';
import {
  isCharacteristic,
  isDescriptor,
  isRawCharacteristic,
  isRawService,
  isService,
  listOf,
  type Noble,
  type NobleCharacteristic,
  type NobleService,
  type Peripheral,
  type RawCharacteristic,
  type RawService,
} from './noble-api.ts';
import { once } from './once.ts';
import type { Found } from './radio-messages.ts';
import { Refusals } from './refusals.ts';
import { normalUuid } from './uuid.ts';

/** Each call of the library may take so long, ms; an ATT exchange takes a few hundred at the worst. */
const CALL_MS = 5000;
/** Services with more characteristics than this are no probe's. */
const MOST = 64;
/** Descriptors that are of use: user description, presentation, valid range, measurement. */
const DESCRIPTORS = new Set(['2901', '2904', '2906', '290c']);

/** Of the properties of a characteristic, as it lies in the probe. */
const READS = 0x02;
const NOTIFIES = 0x10 | 0x20;

/** The probe answers only to a computer that it is paired with. */
export class WantsPairing extends Error {
  override readonly name = 'WantsPairing';
}

export class RadioLink {
  readonly #noble: Noble;
  readonly #peripheral: Peripheral;
  readonly #value: (key: string, bytes: Uint8Array) => void;
  readonly #lost = new AbortController();
  readonly #refusals: Refusals;
  readonly #characteristics = new Map<string, NobleCharacteristic>();

  /** @param value takes what the probe sends by itself */
  constructor(
    noble: Noble,
    peripheral: Peripheral,
    value: (key: string, bytes: Uint8Array) => void,
  ) {
    this.#noble = noble;
    this.#peripheral = peripheral;
    this.#value = value;
    this.#refusals = new Refusals(noble, peripheral.id);
  }

  /** The link has ended: what is waited for fails at once. */
  lost(): void {
    this.#lost.abort();
    this.#refusals.end();
    for (const characteristic of this.#characteristics.values()) {
      characteristic.removeAllListeners();
    }
  }

  /** Lists the characteristics of the services; must be done anew after every connect. */
  async discover(wanted: readonly string[]): Promise<Found[]> {
    const all: Found[] = [];
    for (const { service, uuid } of await this.#services(wanted)) {
      for (const { characteristic, found } of await this.#characteristicsOf(service)) {
        const key = `${service.uuid}/${characteristic.uuid}`;
        this.#characteristics.set(key, characteristic);
        all.push({ key, service: uuid, ...found });
      }
    }
    return all;
  }

  /** The values of a characteristic's descriptors, by UUID. */
  async describe(key: string): Promise<Record<string, string>> {
    const characteristic = this.#of(key);
    const [given] = await this.#once(
      characteristic,
      'descriptorsDiscover',
      'listing descriptors',
      () => characteristic.discoverDescriptors(),
    );
    const values: Record<string, string> = {};
    for (const descriptor of listOf(given, isDescriptor)) {
      const uuid = normalUuid(descriptor.uuid);
      if (uuid === null || !DESCRIPTORS.has(uuid)) continue;
      const [bytes] = await this.#once(descriptor, 'valueRead', 'reading a descriptor', () =>
        descriptor.readValue(),
      );
      values[uuid] = hexOf(bytes);
    }
    return values;
  }

  /** Has the probe send new values by itself. Where it refuses that unseen, this ends by time-out. */
  async subscribe(key: string): Promise<void> {
    const characteristic = this.#of(key);
    characteristic.removeAllListeners('data');
    characteristic.on('data', (bytes: unknown, isNotification: unknown) => {
      if (isNotification === true && bytes instanceof Uint8Array) this.#value(key, bytes);
    });
    this.#refusals.isSubscribing = true;
    try {
      await this.#once(characteristic, 'notify', 'subscribing', () => characteristic.subscribe());
    } finally {
      this.#refusals.isSubscribing = false;
    }
  }

  /** @returns the bytes as text; empty where the probe has refused it */
  async read(key: string): Promise<string> {
    const characteristic = this.#of(key);
    const [bytes] = await this.#once(
      characteristic,
      'read',
      'reading a value',
      () => characteristic.read(),
      ([, isNotification]) => isNotification !== true,
    );
    const hex = hexOf(bytes);
    if (hex === '' && this.#refusals.wantsPairing) throw new WantsPairing('it refused to be read');
    return hex;
  }

  /** @returns dBm, or null where it is not known */
  async signal(): Promise<number | null> {
    // The adapter is asked, not the probe: other calls may be under way.
    const until = this.#lost.signal;
    const options = { what: 'asking for the signal', limitMs: CALL_MS, until };
    const [rssi] = await once(this.#peripheral, 'rssiUpdate', options, () =>
      this.#peripheral.updateRssi(),
    );
    return dbm(rssi);
  }

  #of(key: string): NobleCharacteristic {
    const characteristic = this.#characteristics.get(key);
    if (characteristic === undefined) throw new Error(`it has no characteristic ${key}`);
    return characteristic;
  }

  async #once(
    emitter: Parameters<typeof once>[0],
    event: string,
    what: string,
    call: () => void,
    isAnswer?: (given: readonly unknown[]) => boolean,
  ): Promise<unknown[]> {
    const until = this.#lost.signal;
    const refused = (fail: ((text: string) => void) | null): void =>
      this.#refusals.whileAsking(fail);
    const options = { what, limitMs: CALL_MS, until, refused, ...(isAnswer && { isAnswer }) };
    try {
      return await once(emitter, event, options, call);
    } catch (error) {
      if (until.aborted || !this.#refusals.wantsPairing) throw error;
      this.#refusals.giveUpPairing();
      throw new WantsPairing(errorText(error));
    }
  }

  /** The wanted services, each instance of one that is there several times. */
  async #services(wanted: readonly string[]) {
    const peripheral = this.#peripheral;
    let raw: RawService[] = [];
    const onRaw = (_: unknown, services: unknown): void =>
      void (raw = listOf(services, isRawService));
    peripheral.on('servicesDiscovered', onRaw);
    const [given] = await this.#once(peripheral, 'servicesDiscover', 'listing services', () =>
      peripheral.discoverServices([]),
    ).finally(() => peripheral.off('servicesDiscovered', onRaw));
    const services: { service: NobleService; uuid: string }[] = [];
    for (const service of listOf(given, isService).slice(0, MOST)) {
      const uuid = normalUuid(service.uuid);
      if (uuid === null || !wanted.includes(uuid)) continue;
      const same = raw.filter((each) => each.uuid === service.uuid);
      if (same.length < 2) services.push({ service, uuid });
      else {
        for (const one of numbered(same)) {
          services.push({ service: this.#noble.addService(peripheral.id, one), uuid });
        }
      }
    }
    return services;
  }

  /** The characteristics of a service, each instance of one that is there several times. */
  async #characteristicsOf(service: NobleService) {
    let raw: RawCharacteristic[] = [];
    const onRaw = (given: unknown): void => void (raw = listOf(given, isRawCharacteristic));
    service.on('characteristicsDiscovered', onRaw);
    const [given] = await this.#once(
      service,
      'characteristicsDiscover',
      'listing characteristics',
      () => service.discoverCharacteristics([]),
    ).finally(() => service.off('characteristicsDiscovered', onRaw));
    const plain = listOf(given, isCharacteristic).slice(0, MOST);
    const several = new Set(raw.map(({ uuid }) => uuid)).size < raw.length;
    // The library knows characteristics by UUID, so of several it reaches only the last. Given to it
    // anew under names of their own, it reaches each.
    const characteristics = several
      ? this.#noble.addCharacteristics(
          this.#peripheral.id,
          service.uuid,
          numbered(raw.slice(0, MOST)),
        )
      : plain;
    return characteristics.flatMap((characteristic) => {
      const uuid = normalUuid(characteristic.uuid.replace(/#\d+$/, ''));
      if (uuid === null) return [];
      return [{ characteristic, found: { uuid, ...abilities(characteristic.properties) } }];
    });
  }
}

/** Gives each but the first of one UUID a name of its own: `2a6e`, `2a6e#2`. */
function numbered<T extends { uuid: string }>(all: readonly T[]): T[] {
  const seen = new Map<string, number>();
  return all.map((one) => {
    const count = (seen.get(one.uuid) ?? 0) + 1;
    seen.set(one.uuid, count);
    return count === 1 ? one : { ...one, uuid: `${one.uuid}#${count}` };
  });
}

function abilities(properties: string[] | number): { notifies: boolean; reads: boolean } {
  if (typeof properties === 'number') {
    return { notifies: (properties & NOTIFIES) !== 0, reads: (properties & READS) !== 0 };
  }
  return {
    notifies: properties.includes('notify') || properties.includes('indicate'),
    reads: properties.includes('read'),
  };
}

function hexOf(bytes: unknown): string {
  return bytes instanceof Uint8Array ? Buffer.from(bytes).toString('hex') : '';
}

/** Signal strength as the library gives it: 127 stands for "not known". */
export function dbm(rssi: unknown): number | null {
  return typeof rssi === 'number' && rssi >= -128 && rssi <= 20 ? rssi : null;
}
