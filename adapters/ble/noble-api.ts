/**
 * The part of the Bluetooth library (@abandonware/noble) that is used, and how it is loaded. Its own
 * types are of no help: they leave out half of this, and the library is optional, so the program must
 * be checkable where it is not installed.
 */
import { EventEmitter } from 'node:events';
import { errorText } from './error-text.ts';
import type { Said, Settings } from './radio-messages.ts';

/** What is advertised. One object a peripheral, which the library goes on changing. */
export interface NobleAdvertisement {
  localName?: string | undefined;
  serviceUuids?: string[] | undefined;
  serviceData?: { uuid: string; data: Uint8Array }[] | undefined;
  manufacturerData?: Uint8Array | undefined;
}

/** A service as it lies in the probe; only where the library speaks to the adapter itself (Linux). */
export interface RawService {
  uuid: string;
  startHandle: number;
  endHandle: number;
}
/** The same of a characteristic. */
export interface RawCharacteristic {
  uuid: string;
  startHandle: number;
  valueHandle: number;
  endHandle: number;
  properties: number;
}

export interface NobleDescriptor extends EventEmitter {
  uuid: string;
  readValue(): void;
}

export interface NobleCharacteristic extends EventEmitter {
  uuid: string;
  /** Words; a number where it was made of a `RawCharacteristic`. */
  properties: string[] | number;
  read(): void;
  subscribe(): void;
  discoverDescriptors(): void;
}

export interface NobleService extends EventEmitter {
  uuid: string;
  discoverCharacteristics(uuids: string[]): void;
}

export interface Peripheral extends EventEmitter {
  id: string;
  address: string;
  addressType?: string | undefined;
  /** 0 and 1 as well. */
  connectable: boolean | number;
  advertisement: NobleAdvertisement;
  rssi: number;
  state: string;
  connect(parameters: { timeout: number }): void;
  cancelConnect(): void;
  disconnect(): void;
  discoverServices(uuids: string[]): void;
  updateRssi(): void;
}

export interface Noble extends EventEmitter {
  startScanning(services: string[], duplicates: boolean): void;
  addService(peripheral: string, service: RawService): NobleService;
  addCharacteristics(
    peripheral: string,
    service: string,
    characteristics: RawCharacteristic[],
  ): NobleCharacteristic[];
}

/** The members of a list that the library hands out, those left out that are not what they should be. */
export function listOf<T>(given: unknown, is: (one: unknown) => one is T): T[] {
  return Array.isArray(given) ? given.filter(is) : [];
}

function has(one: unknown, methods: string[], numbers: string[]): boolean {
  return (
    typeof one === 'object' &&
    one !== null &&
    typeof Reflect.get(one, 'uuid') === 'string' &&
    methods.every((name) => typeof Reflect.get(one, name) === 'function') &&
    numbers.every((name) => typeof Reflect.get(one, name) === 'number')
  );
}
export function isService(one: unknown): one is NobleService {
  return one instanceof EventEmitter && has(one, ['discoverCharacteristics'], []);
}
export function isCharacteristic(one: unknown): one is NobleCharacteristic {
  return one instanceof EventEmitter && has(one, ['read', 'subscribe', 'discoverDescriptors'], []);
}
export function isDescriptor(one: unknown): one is NobleDescriptor {
  return one instanceof EventEmitter && has(one, ['readValue'], []);
}
export function isRawService(one: unknown): one is RawService {
  return has(one, [], ['startHandle', 'endHandle']);
}
export function isRawCharacteristic(one: unknown): one is RawCharacteristic {
  return has(one, [], ['startHandle', 'valueHandle', 'endHandle', 'properties']);
}

const MODULE = '@abandonware/noble/with-custom-binding.js';
const USED = ['on', 'startScanning', 'addService', 'addCharacteristics'];

function isNoble(value: unknown): value is Noble {
  return (
    typeof value === 'object' &&
    value !== null &&
    USED.every((name) => typeof Reflect.get(value, name) === 'function')
  );
}

/** Loads the library and makes its central; or says in its place why there is none. */
export async function loadNoble({
  adapterIndex,
  extended,
}: Settings): Promise<Noble | Extract<Said, { say: 'absent' }>> {
  try {
    const loaded: unknown = await import(MODULE);
    const make: unknown =
      typeof loaded === 'object' && loaded !== null ? Reflect.get(loaded, 'default') : null;
    if (typeof make !== 'function') throw new Error('the library is not what was expected');
    const deviceId = adapterIndex === null ? {} : { deviceId: adapterIndex };
    const noble: unknown = Reflect.apply(make, undefined, [{ extended, ...deviceId }]);
    if (!isNoble(noble)) throw new Error('the library is not what was expected');
    return noble;
  } catch (error) {
    return { say: 'absent', why: whyAbsent(error), text: errorText(error).slice(0, 1000) };
  }
}

function whyAbsent(error: unknown): Extract<Said, { say: 'absent' }>['why'] {
  const text = errorText(error);
  // Linux says so where its kernel has no Bluetooth, as soon as the adapter's socket is asked for.
  if (/EAFNOSUPPORT|address family not supported/i.test(text)) return 'no-bluetooth';
  if (/Cannot find (?:package|module) '@abandonware\/noble/.test(text)) return 'not-installed';
  // Its compiled part: left out where there was no compiler, or compiled for another Node.
  if (/Cannot find module|No native build|NODE_MODULE_VERSION|dlopen|\.node\b/.test(text)) {
    return 'not-built';
  }
  return 'other';
}
