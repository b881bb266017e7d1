/**
 * Frames of the logical link (L2CAP basic mode: length, channel, payload) in and out of the data
 * packets of HCI, which may be shorter than a frame.
 */
import { joined, readU16, u16 } from './bytes.ts';
import { PACKET } from './hci.ts';

/** Fixed channels of Low Energy. */
export const CHANNEL = { att: 4, signaling: 5, security: 6 } as const;

/** Boundary flags of data packets. */
const FIRST_FROM_HOST = 0b00;
const CONTINUED = 0b01;
const FIRST_TO_HOST = 0b10;

/** Cuts a frame into data packets for the host, each with at most `most` bytes. */
export function toDataPackets(
  handle: number,
  channel: number,
  payload: Uint8Array,
  most: number,
): Uint8Array[] {
  const frame = joined(u16(payload.length), u16(channel), payload);
  const packets: Uint8Array[] = [];
  for (let at = 0; at < frame.length; at += most) {
    const piece = frame.subarray(at, at + most);
    const flags = at === 0 ? FIRST_TO_HOST : CONTINUED;
    packets.push(joined(PACKET.data, u16(handle | (flags << 12)), u16(piece.length), piece));
  }
  return packets;
}

/** A data packet from the host, taken apart; null where it is none or is shorter than it says. */
export function readDataPacket(
  packet: Uint8Array,
): { handle: number; first: boolean; piece: Uint8Array } | null {
  const length = readU16(packet, 3);
  if (packet[0] !== PACKET.data || packet.length < 5 + length) return null;
  const head = readU16(packet, 1);
  return {
    handle: head & 0xfff,
    first: ((head >> 12) & 0b11) === FIRST_FROM_HOST,
    piece: packet.subarray(5, 5 + length),
  };
}

/** Puts the pieces of one connection together again. */
export class Reassembly {
  #so: Uint8Array = new Uint8Array(0);

  /** @returns the frame, once it is whole */
  take(first: boolean, piece: Uint8Array): { channel: number; payload: Uint8Array } | null {
    this.#so = first ? piece : joined(this.#so, piece);
    const length = readU16(this.#so, 0);
    if (this.#so.length < 4 || this.#so.length < 4 + length) return null;
    const payload = this.#so.slice(4, 4 + length);
    const channel = readU16(this.#so, 2);
    this.#so = new Uint8Array(0);
    return { channel, payload };
  }
}
