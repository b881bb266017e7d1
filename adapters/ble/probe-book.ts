/**
 * The probes as the server knows them: one for each thing that measures, so a device with two
 * thermometers is two probes. Keeps their ids and names, and passes on what they measure.
 */
import type { AdapterHost, ProbeLink } from '../contract.ts';
import { isEmpty, type Values } from './quantities.ts';
import { decodeText } from './text.ts';

/** One that sent what is no value is spoken of for so long, ms. */
const SPOKEN_OF_MS = 60_000;
/** The signal is told again when it has changed by so much, or after so long. */
const SIGNAL_STEP_DB = 3;
const SIGNAL_MS = 5000;
/** So many devices are kept; what advertises under ever new addresses must not fill the screen. */
export const MOST_DEVICES = 64;
/** More readings a second than this are no measurements. */
const MOST_PER_S = 200;

/** A device: what the radio calls one probe. */
interface Device {
  readonly id: string;
  /** What it calls itself. */
  ownName: string | null;
  /** The same, but unlike those of the others. */
  name: string | null;
  /** Instances that were announced, with the name that was given to them here. */
  readonly instances: Map<number, string | null>;
  link: Pick<ProbeLink, 'state' | 'needs'> | null;
  signalDbm: number | null;
  signalToldT: number;
  /** Values that were none, since it was heard first, and when the last was. */
  unusable: number;
  unusableT: number;
  /** Readings in the second that began at `secondT`. */
  secondT: number;
  inSecond: number;
}

export interface ProbeBookOptions {
  readonly host: AdapterHost;
  /** The name that a probe has now, by a person or by an earlier run; null: none, or none but its id. */
  readonly nameOf: (probe: string) => string | null;
}

export class ProbeBook {
  readonly #options: ProbeBookOptions;
  readonly #devices = new Map<string, Device>();

  constructor(options: ProbeBookOptions) {
    this.#options = options;
  }

  /** Whether it is known, or may still become so. */
  hasRoomFor(id: string): boolean {
    return this.#devices.has(id) || this.#devices.size < MOST_DEVICES;
  }

  /**
   * A probe was heard.
   * @param name as it calls itself: shown, so it is made fit for that
   */
  heard(id: string, name: string | null): void {
    const device = this.#device(id);
    const shown = name === null ? null : decodeText(Buffer.from(name));
    if (shown !== null && shown !== device.ownName) {
      device.ownName = shown;
      device.name = this.#unlikeOthers(id, shown);
      for (const instance of device.instances.keys()) this.#name(device, instance, null);
    }
    if (device.instances.size === 0) this.#announce(device, 1, null);
  }

  /** Passes a reading on. @param label what tells the instance from the others */
  reading(id: string, instance: number, label: string | null, values: Values, t: number): void {
    const device = this.#device(id);
    if (isEmpty(values)) return;
    if (!device.instances.has(instance)) this.#announce(device, instance, label);
    if (Math.abs(t - device.secondT) >= 1000) {
      device.secondT = t;
      device.inSecond = 0;
    }
    device.inSecond += 1;
    if (device.inSecond > MOST_PER_S) this.unusable(id, t);
    else {
      const probe = probeId(id, instance);
      this.#options.host.emit({ type: 'reading', t, probe, ...values });
    }
  }

  /**
   * Says how the link is, for all instances.
   * @param needs what a person has to give before it can be read
   */
  link(id: string, state: ProbeLink['state'], needs?: ProbeLink['needs']): void {
    const device = this.#device(id);
    if (device.link?.state === state && device.link.needs === needs) return;
    device.link = needs === undefined ? { state } : { state, needs };
    for (const instance of device.instances.keys()) this.#tellLink(device, instance);
  }

  /** @param t when */
  signal(id: string, signalDbm: number | null, t: number): void {
    const device = this.#device(id);
    if (signalDbm === null) return;
    const step = Math.abs(signalDbm - (device.signalDbm ?? Infinity));
    if (step < SIGNAL_STEP_DB && Math.abs(t - device.signalToldT) < SIGNAL_MS) return;
    device.signalDbm = signalDbm;
    device.signalToldT = t;
    for (const instance of device.instances.keys()) this.#tellLink(device, instance);
  }

  /** A value came that is none. */
  unusable(id: string, t: number): void {
    const device = this.#device(id);
    device.unusable += 1;
    device.unusableT = t;
  }

  /**
   * A person has forgotten a probe: it is announced anew when it is heard again.
   * @returns whether nothing is left of its device
   */
  forget(id: string, instance: number): boolean {
    const device = this.#devices.get(id);
    if (device?.instances.delete(instance) !== true || device.instances.size > 0) return false;
    this.#devices.delete(id);
    return true;
  }

  /** Whether it has not given itself a name yet. */
  isNameless(id: string): boolean {
    return this.#devices.get(id)?.name === null;
  }

  /** How a person knows it. */
  nameOf(id: string): string {
    const probe = probeId(id, 1);
    return this.#options.nameOf(probe) ?? this.#devices.get(id)?.name ?? probe;
  }

  /** Those that sent values that were none not long ago, and how many so far. */
  *unusables(t: number): Generator<{ id: string; count: number }> {
    for (const { id, unusable, unusableT } of this.#devices.values()) {
      if (Math.abs(t - unusableT) < SPOKEN_OF_MS) yield { id, count: unusable };
    }
  }

  #device(id: string): Device {
    let device = this.#devices.get(id);
    if (device === undefined) {
      device = {
        ...{ id, ownName: null, name: null, link: null },
        instances: new Map<number, string | null>(),
        ...{
          signalDbm: null,
          signalToldT: -Infinity,
          unusable: 0,
          unusableT: -Infinity,
          secondT: 0,
          inSecond: 0,
        },
      };
      this.#devices.set(id, device);
    }
    return device;
  }

  #announce(device: Device, instance: number, label: string | null): void {
    device.instances.set(instance, null);
    if (!this.#name(device, instance, label)) {
      this.#options.host.emit({ type: 'probe', id: probeId(device.id, instance) });
    }
    this.#tellLink(device, instance);
  }

  /** Gives it a name, unless a person has given it one. @returns whether it did */
  #name(device: Device, instance: number, label: string | null): boolean {
    const id = probeId(device.id, instance);
    const given = device.instances.get(instance) ?? null;
    const now = this.#options.nameOf(id);
    if (device.name === null || (now !== null && now !== given)) return false;
    const name = instance === 1 ? device.name : `${device.name}, ${label ?? instance}`;
    if (name === now) return false;
    device.instances.set(instance, name);
    this.#options.host.emit({ type: 'probe', id, name });
    return true;
  }

  /** Two of a kind call themselves the same: all but the first get the end of their address as well. */
  #unlikeOthers(id: string, name: string): string {
    const others = [...this.#devices.values()].filter((other) => other.id !== id);
    return others.some((other) => other.name === name) ? `${name} ${id.slice(-4)}` : name;
  }

  #tellLink({ id, link, signalDbm }: Device, instance: number): void {
    if (link === null) return;
    const signal = signalDbm === null ? {} : { signalDbm };
    this.#options.host.link(probeId(id, instance), { ...link, ...signal });
  }
}

/** Of which device a probe is which instance; null where it is none of Bluetooth. */
export function parseProbeId(probe: string): { id: string; instance: number } | null {
  const [, id, instance = '1'] = /^ble:([^/]+)(?:\/(\d+))?$/.exec(probe) ?? [];
  return id === undefined ? null : { id, instance: Number(instance) };
}

/** The id of a probe: the same after a reconnect and after a restart. */
export function probeId(id: string, instance: number): string {
  return instance === 1 ? `ble:${id}` : `ble:${id}/${instance}`;
}
