/**
 * The attribute protocol (ATT; Core, volume 3, part F) as a server speaks it over one connection: one
 * request at a time is answered, notifications go to whoever has subscribed.
 */
import {
  type Attribute,
  type Attributes,
  type Characteristic,
  PRIMARY_SERVICE,
  PROPERTY,
  sameBytes,
} from './attributes.ts';
import { joined, type Piece, readU16, u16, uuidBytes } from './bytes.ts';

const OP = {
  error: 0x01,
  mtuRequest: 0x02,
  mtuResponse: 0x03,
  findInformation: 0x04,
  information: 0x05,
  readByType: 0x08,
  valuesOfType: 0x09,
  read: 0x0a,
  value: 0x0b,
  readBlob: 0x0c,
  blob: 0x0d,
  readByGroup: 0x10,
  groups: 0x11,
  write: 0x12,
  written: 0x13,
  notification: 0x1b,
  indication: 0x1d,
  confirmation: 0x1e,
  writeCommand: 0x52,
} as const;

const ERROR = {
  invalidHandle: 0x01,
  readNotPermitted: 0x02,
  writeNotPermitted: 0x03,
  invalidPdu: 0x04,
  authentication: 0x05,
  notSupported: 0x06,
  invalidOffset: 0x07,
  notFound: 0x0a,
  unlikely: 0x0e,
  unsupportedGroup: 0x10,
} as const;

/** Of a connection before anything else was agreed upon, bytes. */
const LEAST_MTU = 23;
const NOTIFY = 0b01;
const INDICATE = 0b10;
/** The longest request that is of use here, by its kind. */
const SHORTEST: Readonly<Record<number, number>> = {
  [OP.mtuRequest]: 3,
  [OP.findInformation]: 5,
  [OP.readByType]: 7,
  [OP.read]: 3,
  [OP.readBlob]: 5,
  [OP.readByGroup]: 7,
  [OP.write]: 3,
  [OP.writeCommand]: 3,
};

export class AttServer {
  readonly #attributes: Attributes;
  readonly #ownMtu: number;
  readonly #send: (pdu: Uint8Array) => void;
  readonly #subscribed = new Map<number, number>();
  /** Indications that wait for the confirmation of the one before; null: none is under way. */
  #indications: Uint8Array[] | null = null;
  #mtu = LEAST_MTU;

  /**
   * @param ownMtu the longest packet that the server takes, bytes
   * @param send sends to the client
   */
  constructor(attributes: Attributes, ownMtu: number, send: (pdu: Uint8Array) => void) {
    this.#attributes = attributes;
    this.#ownMtu = ownMtu;
    this.#send = send;
  }

  /** Takes what the client has sent. */
  receive(pdu: Uint8Array): void {
    const op = pdu[0];
    if (op === undefined) return;
    if (pdu.length < (SHORTEST[op] ?? 1)) return this.#refuse(op, 0, ERROR.invalidPdu);
    const handle = readU16(pdu, 1);
    switch (op) {
      case OP.mtuRequest:
        this.#send(joined(OP.mtuResponse, u16(this.#ownMtu)));
        this.#mtu = Math.max(Math.min(handle, this.#ownMtu), LEAST_MTU);
        return;
      case OP.findInformation:
        return this.#findInformation(handle, readU16(pdu, 3));
      case OP.readByType:
        return this.#readByType(handle, readU16(pdu, 3), pdu.subarray(5));
      case OP.readByGroup:
        return this.#readByGroup(handle, readU16(pdu, 3), pdu.subarray(5));
      case OP.read:
        return this.#read(op, handle, 0);
      case OP.readBlob:
        return this.#read(op, handle, readU16(pdu, 3));
      case OP.write:
      case OP.writeCommand:
        return this.#write(op, handle, pdu.subarray(3));
      case OP.confirmation:
        return this.#confirmed();
      default:
        // Commands have bit 6 set and are never answered; what is odd is an answer itself.
        if ((op & 0x40) === 0 && op % 2 === 0) this.#refuse(op, 0, ERROR.notSupported);
    }
  }

  /**
   * Tells the client a value, if it has subscribed to it.
   * @returns whether it had
   */
  tell(characteristic: Characteristic, value: Uint8Array): boolean {
    const handle = this.#attributes.valueHandle(characteristic);
    if (handle === null) return false;
    const bits = this.#subscribed.get(handle) ?? 0;
    const told = joined(u16(handle), value.subarray(0, this.#mtu - 3));
    if ((bits & NOTIFY) !== 0) {
      this.#send(joined(OP.notification, told));
      return true;
    }
    if ((bits & INDICATE) === 0) return false;
    const indication = joined(OP.indication, told);
    if (this.#indications === null) {
      this.#indications = [];
      this.#send(indication);
    } else {
      this.#indications.push(indication);
    }
    return true;
  }

  #confirmed(): void {
    const next = this.#indications?.shift();
    if (next === undefined) this.#indications = null;
    else this.#send(next);
  }

  #refuse(op: number, handle: number, error: number): void {
    this.#send(joined(OP.error, op, u16(handle), error));
  }

  #findInformation(from: number, to: number): void {
    const found = this.#attributes.all.filter(({ handle }) => handle >= from && handle <= to);
    const width = found[0]?.type.length;
    if (width === undefined) return this.#refuse(OP.findInformation, from, ERROR.notFound);
    const entries = found.map(({ handle, type }) => joined(u16(handle), type));
    this.#send(joined(OP.information, width === 2 ? 1 : 2, ...this.#alike(entries)));
  }

  #readByType(from: number, to: number, type: Uint8Array): void {
    const found = this.#attributes.ofType(type, from, to);
    const first = found[0];
    if (first === undefined) return this.#refuse(OP.readByType, from, ERROR.notFound);
    const error = this.#whyUnreadable(first);
    if (error !== null) return this.#refuse(OP.readByType, first.handle, error);
    const entries = found
      .filter((each) => this.#whyUnreadable(each) === null)
      .map((each) => joined(u16(each.handle), this.#valueOf(each) ?? []).subarray(0, 255));
    const alike = this.#alike(entries);
    this.#send(joined(OP.valuesOfType, alike[0]?.length ?? 0, ...alike));
  }

  #readByGroup(from: number, to: number, type: Uint8Array): void {
    if (!sameBytes(type, uuidBytes(PRIMARY_SERVICE))) {
      return this.#refuse(OP.readByGroup, from, ERROR.unsupportedGroup);
    }
    const found = this.#attributes.ofType(type, from, to);
    if (found.length === 0) return this.#refuse(OP.readByGroup, from, ERROR.notFound);
    const alike = this.#alike(
      found.map(({ handle, end, fixed }) => joined(u16(handle), u16(end), fixed ?? [])),
    );
    this.#send(joined(OP.groups, alike[0]?.length ?? 0, ...alike));
  }

  /** As many from the front as are of the same length and fit into one packet, the first cut to fit. */
  #alike(entries: readonly Uint8Array[]): Piece[] & Uint8Array[] {
    const room = this.#mtu - 2;
    const width = Math.min(entries[0]?.length ?? 0, room);
    const other = entries.findIndex((each) => Math.min(each.length, room) !== width);
    const most = Math.min(Math.floor(room / width), other < 0 ? entries.length : other);
    return entries.slice(0, most).map((each) => each.subarray(0, width));
  }

  #read(op: number, handle: number, offset: number): void {
    const attribute = this.#attributes.at(handle);
    if (attribute === null) return this.#refuse(op, handle, ERROR.invalidHandle);
    const error = this.#whyUnreadable(attribute);
    if (error !== null) return this.#refuse(op, handle, error);
    const value = this.#valueOf(attribute) ?? new Uint8Array(0);
    if (offset > value.length) return this.#refuse(op, handle, ERROR.invalidOffset);
    const answer = op === OP.read ? OP.value : OP.blob;
    this.#send(joined(answer, value.subarray(offset, offset + this.#mtu - 1)));
  }

  #whyUnreadable(attribute: Attribute): number | null {
    const { kind, of } = attribute;
    if (kind !== 'value' || of === null) return null;
    if ((of.properties & PROPERTY.read) === 0) return ERROR.readNotPermitted;
    if (of.secured === true) return ERROR.authentication;
    return of.value() === null ? ERROR.unlikely : null;
  }

  #valueOf({ kind, of, fixed, handle }: Attribute): Uint8Array | null {
    // The value stands right before what subscribes to it.
    if (kind === 'subscription') return Uint8Array.from(u16(this.#subscribed.get(handle - 1) ?? 0));
    return kind === 'value' ? (of?.value() ?? null) : fixed;
  }

  #write(op: number, handle: number, value: Uint8Array): void {
    const error = this.#take(handle, value);
    if (op === OP.writeCommand) return;
    if (error === null) this.#send(Uint8Array.of(OP.written));
    else this.#refuse(op, handle, error);
  }

  /** @returns why not, or null */
  #take(handle: number, value: Uint8Array): number | null {
    const attribute = this.#attributes.at(handle);
    if (attribute === null) return ERROR.invalidHandle;
    const { kind, of } = attribute;
    if (of?.secured === true) return ERROR.authentication;
    if (kind === 'subscription') {
      this.#subscribed.set(handle - 1, readU16(value, 0));
      return null;
    }
    if (kind !== 'value' || of?.write === undefined) return ERROR.writeNotPermitted;
    of.write(value);
    return null;
  }
}
