/** Bytes as Bluetooth lays them down: the least significant first. */

/** Pieces of a packet: a byte, several, or bytes that are there already. */
export type Piece = number | readonly number[] | Uint8Array;

/** All pieces one after another. */
export function joined(...pieces: readonly Piece[]): Uint8Array {
  const length = pieces.reduce<number>((sum, p) => sum + (typeof p === 'number' ? 1 : p.length), 0);
  const bytes = new Uint8Array(length);
  let at = 0;
  for (const piece of pieces) {
    if (typeof piece === 'number') {
      bytes[at++] = piece;
    } else {
      bytes.set(piece, at);
      at += piece.length;
    }
  }
  return bytes;
}

/**
 * A whole number in so many bytes; negative ones in two's complement. What does not fit is cut off at
 * the top, as a sender's register would.
 */
export function whole(value: number, bytes: number): number[] {
  const out: number[] = [];
  let rest = value;
  for (let i = 0; i < bytes; i++) {
    const byte = ((rest % 256) + 256) % 256;
    out.push(byte);
    rest = (rest - byte) / 256;
  }
  return out;
}
export const u16 = (value: number): number[] => [value & 0xff, (value >> 8) & 0xff];

/** Reads 16 bits; what is not there counts as zero. */
export function readU16(bytes: Uint8Array, at: number): number {
  return (bytes[at] ?? 0) | ((bytes[at + 1] ?? 0) << 8);
}

export function hexText(bytes: Uint8Array): string {
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** @throws RangeError where it is no even number of hexadecimal digits */
export function hexBytes(text: string): Uint8Array {
  if (!/^(?:[\da-f]{2})*$/i.test(text)) throw new RangeError(`"${text}" is no hexadecimal bytes`);
  return Uint8Array.from({ length: text.length / 2 }, (_, i) =>
    parseInt(text.slice(2 * i, 2 * i + 2), 16),
  );
}

/**
 * A UUID in the order of the air. Of 16 bits as four digits, of 128 as 32, with hyphens or without.
 * @throws RangeError for any other length
 */
export function uuidBytes(uuid: string): Uint8Array {
  const bytes = hexBytes(uuid.replaceAll('-', '')).reverse();
  if (bytes.length !== 2 && bytes.length !== 16) {
    throw new RangeError(`the UUID "${uuid}" has neither 4 nor 32 digits`);
  }
  return bytes;
}

/**
 * An address such as `f0:1a:b0:00:00:01` in the order of the air.
 * @throws RangeError where it is none
 */
export function addressBytes(address: string): Uint8Array {
  const bytes = hexBytes(address.replaceAll(':', '')).reverse();
  if (bytes.length !== 6) throw new RangeError(`"${address}" is no address of six bytes`);
  return bytes;
}
export function addressText(bytes: Uint8Array): string {
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0'))
    .reverse()
    .join(':');
}

const utf8 = new TextEncoder();
/** Text, cut to at most so many bytes, never within a letter. */
export function textBytes(text: string, most = Infinity): Uint8Array {
  let kept = text;
  while (utf8.encode(kept).length > most) kept = [...kept].slice(0, -1).join('');
  return utf8.encode(kept);
}
