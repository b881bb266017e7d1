/** A device in the air: whether it is heard, what it advertises, and its side of a link. */
import type { ProbeReading } from '../probe.ts';
import type { Random } from '../random.ts';
import type { Advertisement } from './advertisement.ts';
import type { Agenda } from './agenda.ts';
import { Attributes } from './attributes.ts';
import { AttServer } from './att-server.ts';
import { hexBytes, readU16, uuidBytes } from './bytes.ts';
import type { Device } from './device.ts';
import { STATUS } from './hci.ts';
import { CHANNEL } from './l2cap.ts';
import type { Far, Link } from './link.ts';
import type { DeviceOrder } from './orders.ts';
import type { Plan } from './plan.ts';

const ADVERTISING_MS = 200;
/** Added to each interval by chance, so that two devices do not collide for ever. */
const DELAY_MS = 10;
const RSSI_DBM = -60;
const RSSI_SCATTER = 2;
/** Security manager: pairing fails, because it is not supported. */
const PAIRING_REQUEST = 0x01;
const PAIRING_FAILED = [0x05, 0x05];

export class Peripheral implements Far {
  readonly address: string;
  readonly addressType: 'public' | 'random';
  readonly #device: Device;
  readonly #agenda: Agenda;
  readonly #random: Random;
  readonly #plan: Plan;
  readonly #attributes: Attributes;
  #link: Link | null = null;
  #server: AttServer | null = null;
  #away = false;
  #muted = false;
  #deaf = false;
  #hidden = false;
  #aloof = false;
  #failures = 0;
  #advertised: Uint8Array | null = null;
  #comeBack: (() => void) | null = null;

  /** @param advertise is called with each advertising event that can be heard */
  constructor(
    plan: Plan,
    device: Device,
    agenda: Agenda,
    random: Random,
    advertise: (peripheral: Peripheral) => void,
  ) {
    this.address = plan.address;
    this.addressType = plan.addressType ?? 'random';
    this.#plan = plan;
    this.#device = device;
    this.#agenda = agenda;
    this.#random = random;
    this.#attributes = new Attributes(device.services);
    const intervalMs = plan.advertisingMs ?? ADVERTISING_MS;
    const next = (): void => {
      if (!this.#away && !this.#hidden && this.#link === null) advertise(this);
      agenda.after(intervalMs + random.between(0, DELAY_MS), next);
    };
    agenda.after(random.between(0, intervalMs), next);
  }

  get connectable(): boolean {
    return this.#device.connectable;
  }

  /** Whether a connection is made with it when it is asked to. */
  get answers(): boolean {
    return this.connectable && !this.#aloof;
  }

  /** What it says to all now. */
  advertisement(): Advertisement {
    const own = this.#device.advertisement();
    return this.#advertised === null ? own : { ...own, data: this.#advertised };
  }

  /** How strongly it is heard this time, dBm. */
  rssiDbm(): number {
    const mean = this.#plan.rssiDbm ?? RSSI_DBM;
    const heard = Math.round(mean + RSSI_SCATTER * this.#random.normal());
    return Math.min(Math.max(heard, -127), 20);
  }

  /** A link to it begins. False where it fails to be established. */
  connect(link: Link): boolean {
    this.#link = link;
    if (this.#failures > 0) {
      this.#failures--;
      return false;
    }
    this.#server = new AttServer(this.#attributes, this.#device.mtu, (pdu) =>
      link.send(CHANNEL.att, pdu),
    );
    return true;
  }

  receive(channel: number, payload: Uint8Array): void {
    if (this.#deaf) return;
    if (channel === CHANNEL.att) this.#server?.receive(payload);
    if (channel === CHANNEL.security && payload[0] === PAIRING_REQUEST) {
      this.#link?.send(CHANNEL.security, Uint8Array.from(PAIRING_FAILED));
    }
  }

  ended(): void {
    this.#link = null;
    this.#server = null;
  }

  /** Takes what the physical simulation says, and tells it where somebody wants to know. */
  take(reading: ProbeReading): void {
    for (const characteristic of this.#device.take(reading)) {
      const value = characteristic.value();
      if (this.#muted || this.#deaf || value === null) continue;
      this.#server?.tell(characteristic, value);
    }
  }

  /** @throws RangeError where the order cannot be followed */
  follow(order: DeviceOrder): void {
    switch (order.do) {
      case 'away':
        return this.#leave(order.forMs);
      case 'back':
        return this.#return();
      case 'mute':
      case 'unmute':
        this.#muted = order.do === 'mute';
        return;
      case 'deaf':
      case 'hearing':
        this.#deaf = order.do === 'deaf';
        return;
      case 'hide':
      case 'show':
        this.#hidden = order.do === 'hide';
        return;
      case 'aloof':
      case 'approachable':
        this.#aloof = order.do === 'aloof';
        return;
      case 'drop':
        this.#link?.endByFar(order.reason ?? STATUS.remoteEnded);
        return;
      case 'fail':
        this.#failures = order.times;
        return;
      case 'tell':
        return this.#tell(order.uuid, order.instance ?? 0, hexBytes(order.hex));
      case 'frame':
        this.#link?.send(order.channel, hexBytes(order.hex));
        return;
      case 'spoil':
        this.#link?.spoil(order.how, order.packets);
        return;
      case 'advertise':
        this.#advertised = order.hex === null ? null : hexBytes(order.hex);
        return;
    }
  }

  #leave(forMs: number | undefined): void {
    this.#away = true;
    this.#link?.outOfRange();
    this.#comeBack?.();
    this.#comeBack = forMs === undefined ? null : this.#agenda.after(forMs, () => this.#return());
  }

  #return(): void {
    this.#away = false;
    this.#link?.inRange();
  }

  #tell(uuid: string, instance: number, value: Uint8Array): void {
    const type = readU16(uuidBytes(uuid), 0);
    const of = this.#attributes.all.filter(
      (each) => each.kind === 'value' && readU16(each.type, 0) === type,
    )[instance]?.of;
    if (of === undefined || of === null) {
      throw new RangeError(`${this.address} has no characteristic "${uuid}" number ${instance}`);
    }
    this.#server?.tell(of, value);
  }
}
