/**
 * What a file says of itself at its head: which kind of picture, and how many pixels. Read before anything
 * is decoded, so that a small file cannot ask for much memory. What is not plainly in order is none.
 * The clauses of T.81 and PNG are cited from memory.
 */

export interface Head {
  kind: 'jpeg' | 'png';
  width: number;
  height: number;
}

const PNG = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
const IHDR = 'IHDR';

/** Null where it is neither a JPEG nor a PNG, or its head is not whole. */
export function headOf(bytes: Buffer): Head | null {
  if (bytes.subarray(0, PNG.length).equals(PNG)) return pngHead(bytes);
  return bytes[0] === 0xff && bytes[1] === 0xd8 ? jpegHead(bytes) : null;
}

/** The first chunk of a PNG holds its size (W3C PNG, third edition, 11.2.1). */
function pngHead(bytes: Buffer): Head | null {
  if (bytes.length < 33 || bytes.toString('latin1', 12, 16) !== IHDR) return null;
  return sized('png', bytes.readUInt32BE(16), bytes.readUInt32BE(20));
}

/**
 * Marker by marker to the frame header, which holds the size (ITU-T T.81, B.1.1.4 and B.2.2). A decoder
 * would pass over what lies between two markers; here that makes it unreadable, so that both find the same
 * header.
 */
function jpegHead(bytes: Buffer): Head | null {
  let at = 2;
  while (at + 4 <= bytes.length && bytes[at] === 0xff) {
    const marker = bytes[at + 1] ?? 0;
    if (marker === 0xff) {
      at++; // a fill byte
      continue;
    }
    const isFrame = marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker);
    if (isFrame) {
      if (at + 9 > bytes.length) return null;
      return sized('jpeg', bytes.readUInt16BE(at + 7), bytes.readUInt16BE(at + 5));
    }
    // A scan before a frame, or a marker without a length: out of order.
    if (marker < 0xc0 || (marker >= 0xd0 && marker <= 0xda)) return null;
    at += 2 + bytes.readUInt16BE(at + 2);
  }
  return null;
}

function sized(kind: Head['kind'], width: number, height: number): Head | null {
  return width > 0 && height > 0 ? { kind, width, height } : null;
}
