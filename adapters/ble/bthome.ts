/**
 * Probes that broadcast in BTHome v2 (service data of UUID 0xFCD2), plain or encrypted: no connection
 * is needed. Frame: device information, then objects, or ciphertext, counter and tag.
 */
import { decrypt, KEY_BYTES, parseAddress, takeApart } from './bthome-cipher.ts';
import { type Objects, readObjects } from './bthome-objects.ts';
import { readNumber } from './numbers.ts';

export { parseKey } from './bthome-cipher.ts';

/** The service data that a BTHome frame is. */
export const BTHOME_UUID = 'fcd2';

const VERSION = 2;
/** Bits of device information; its highest three are the version. */
const ENCRYPTED = 0b1;
const ADDRESS_INCLUDED = 0b10;
const TRIGGERED = 0b100;
const ADDRESS_BYTES = 6;

/** For so long a packet of the last one's number, or of an older one, is a repeat, ms. */
const REPEAT_MS = 4000;
/** Numbers wrap at 256; one so far ahead of the last is rather behind it. */
const PACKETS = 256;
const AHEAD = 64;
/** An advertisement goes out on three channels at once, and may be heard on each. */
const SAME_ADVERTISEMENT_MS = 100;
/** A counter below it has begun anew: it has wrapped, or the battery was changed. */
const COUNTER_RESTART = 100;

/** A frame that was read. */
export interface BthomeFrame extends Objects {
  /** The probe sends when something changes, not in a rhythm of its own. */
  triggered: boolean;
}

/** A frame that was not, and why: a sentence for people, and a kind for programs. */
export interface BthomeRefusal {
  refusal: string;
  kind:
    | 'repeat'
    | 'key-missing'
    | 'key-wrong'
    | 'address-hidden'
    | 'replay'
    | 'downgrade'
    | 'malformed'
    | 'version';
}

/** Reads the frames of one probe, and knows which of them are repeats or recordings. */
export class BthomeReader {
  readonly #key: Uint8Array | null;
  /** The last frame that was taken; `t` is when it was heard, or heard again. */
  #last: { bytes: Uint8Array; payload: Uint8Array; t: number; packet: number | null } | null = null;
  /** The counter of the last frame that was decrypted. */
  #counter: number | null = null;

  /**
   * @param options.key of 16 bytes, where the probe encrypts; null: it does not
   * @throws RangeError where the key has another length
   */
  constructor({ key }: { key: Uint8Array | null }) {
    if (key !== null && key.length !== KEY_BYTES) {
      throw new RangeError(`A key has ${KEY_BYTES} bytes, not ${key.length}.`);
    }
    this.#key = key;
  }

  /**
   * Reads one frame.
   * @param address the probe's, as it is written; any other text where the system hides it
   * @param serviceData what follows the UUID in the service data
   * @param t when it was heard, ms
   */
  read(address: string, serviceData: Uint8Array, t: number): BthomeFrame | BthomeRefusal {
    const information = serviceData[0];
    if (information === undefined) return refuse('malformed', address);
    const version = information >> 5;
    if (version !== VERSION) return refuse('version', address, `version ${version}`);
    const start = (information & ADDRESS_INCLUDED) === 0 ? 1 : 1 + ADDRESS_BYTES;
    if (serviceData.length < start) return refuse('malformed', address);

    const payload =
      (information & ENCRYPTED) === 0
        ? this.#plain(address, serviceData, start, t)
        : this.#decrypted(address, serviceData, start);
    if ('refusal' in payload) return payload;
    const objects = readObjects(payload);
    if (this.#isOld(objects.packet, t)) {
      const last = this.#last;
      // As long as it is repeated, it is the same reading.
      if (last?.packet === objects.packet && isSame(last.payload, payload)) last.t = t;
      return refuse('repeat', address);
    }
    const [bytes, kept] = [serviceData.slice(), payload.slice()];
    this.#last = { bytes, payload: kept, t, packet: objects.packet };
    return { ...objects, triggered: (information & TRIGGERED) !== 0 };
  }

  #plain(
    address: string,
    serviceData: Uint8Array,
    start: number,
    t: number,
  ): Uint8Array | BthomeRefusal {
    if (this.#key !== null) return refuse('downgrade', address);
    if (isSame(this.#last?.bytes, serviceData) && this.#since(t) <= SAME_ADVERTISEMENT_MS) {
      return refuse('repeat', address);
    }
    return serviceData.subarray(start);
  }

  #decrypted(address: string, serviceData: Uint8Array, start: number): Uint8Array | BthomeRefusal {
    const sealed = takeApart(serviceData[0] ?? 0, serviceData.subarray(start));
    if (sealed === null) return refuse('malformed', address);
    if (this.#key === null) return refuse('key-missing', address);
    // A frame that is heard again is the same reading, however late: a new one has a new counter.
    if (isSame(this.#last?.bytes, serviceData)) return refuse('repeat', address);
    const counter = readNumber(sealed.counter, 0, 'uint32') ?? 0;
    if (this.#counter !== null && counter < this.#counter && counter >= COUNTER_RESTART) {
      return refuse('replay', address, `frame ${counter} after frame ${this.#counter}`);
    }
    // Sent backwards, as all of Bluetooth's numbers are.
    const sender =
      start === 1 ? parseAddress(address) : serviceData.slice(1, 1 + ADDRESS_BYTES).reverse();
    if (sender === null) return refuse('address-hidden', address);
    const payload = decrypt(this.#key, sender, sealed);
    if (payload === null) return refuse('key-wrong', address);
    this.#counter = counter;
    return payload;
  }

  /** How long ago the last frame was heard, ms; where the clock was set back: long. */
  #since(t: number): number {
    const since = t - (this.#last?.t ?? -Infinity);
    return since < 0 ? Infinity : since;
  }

  /**
   * Whether a packet is the last one again, or one from before it that has come late. Only for a while:
   * a probe may number its packets anew, and one that never changes its number has other figures in it.
   */
  #isOld(packet: number | null, t: number): boolean {
    const last = this.#last?.packet ?? null;
    if (packet === null || last === null || this.#since(t) > REPEAT_MS) return false;
    const ahead = (packet - last + PACKETS) % PACKETS;
    return ahead === 0 || ahead >= AHEAD;
  }
}

function isSame(a: Uint8Array | undefined, b: Uint8Array): boolean {
  return a?.length === b.length && a.every((byte, i) => byte === b[i]);
}

/** @param given what was met, where the sentence quotes it */
function refuse(kind: BthomeRefusal['kind'], address: string, given = ''): BthomeRefusal {
  return { kind, refusal: `The probe ${address} ${wording(kind, given)}.` };
}

function wording(kind: BthomeRefusal['kind'], given: string): string {
  switch (kind) {
    case 'repeat':
      return 'has sent the same packet again; it is counted once';
    case 'key-missing':
      return 'sends encrypted readings: enter its key, 32 hexadecimal digits';
    case 'key-wrong':
      return 'cannot be decrypted with the key that was entered: compare it with the key of the probe';
    case 'address-hidden':
      return (
        'cannot be decrypted, since this system hides the address that goes with its key: ' +
        'let the probe send its address along, or switch its encryption off'
      );
    case 'replay':
      return `has sent ${given}: it may be a recording of somebody else's and is passed over`;
    case 'downgrade':
      return (
        'has a key, but this frame is plain and may be of another sender; it is passed over: ' +
        'take the key away if the encryption of the probe was switched off'
      );
    case 'malformed':
      return 'sends a frame that is cut short; it is passed over';
    case 'version':
      return `sends BTHome in ${given}, and only version 2 is read: set the probe to version 2`;
  }
}
