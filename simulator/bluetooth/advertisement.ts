/** What a device says to all: pieces of advertising data (Core Specification Supplement, part A). */
import { joined, textBytes, u16, uuidBytes } from './bytes.ts';

/** What fits into a legacy advertising packet, bytes. */
const ROOM = 31;
const GENERAL_DISCOVERABLE_NO_CLASSIC = 0x06;

export interface Advertisement {
  readonly data: Uint8Array;
  /** What is answered when a scanner asks for more; null: it cannot be asked. */
  readonly response: Uint8Array | null;
}

function piece(type: number, content: Uint8Array | readonly number[]): Uint8Array {
  return joined(content.length + 1, type, content);
}

export function flags(): Uint8Array {
  return piece(0x01, [GENERAL_DISCOVERABLE_NO_CLASSIC]);
}

/** Which services it has: complete lists, those of 16 bits before those of 128. */
export function services(uuids: readonly string[]): Uint8Array {
  const all = uuids.map(uuidBytes);
  const short = all.filter((uuid) => uuid.length === 2);
  const long = all.filter((uuid) => uuid.length === 16);
  return joined(
    short.length === 0 ? [] : piece(0x03, joined(...short)),
    long.length === 0 ? [] : piece(0x07, joined(...long)),
  );
}

export function serviceData(uuid: number, data: Uint8Array): Uint8Array {
  return piece(0x16, joined(u16(uuid), data));
}

/** Its name, or as much of it as there is room for beside what is there already. */
export function name(text: string, taken: number): Uint8Array {
  const room = ROOM - taken - 2;
  if (room < 1) return new Uint8Array(0);
  const bytes = textBytes(text, room);
  const COMPLETE = 0x09;
  const SHORTENED = 0x08;
  return piece(bytes.length === textBytes(text).length ? COMPLETE : SHORTENED, bytes);
}

/**
 * Puts pieces together.
 * @throws RangeError where they do not fit into a packet
 */
export function packet(...pieces: readonly Uint8Array[]): Uint8Array {
  const data = joined(...pieces);
  if (data.length > ROOM) {
    throw new RangeError(`${data.length} bytes of advertising data; a packet takes ${ROOM}`);
  }
  return data;
}
