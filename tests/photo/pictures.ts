/**
 * Pictures for tests, made here byte by byte where it matters: with everything that a camera writes.
 * The clauses of T.81, Exif, TIFF and PNG are cited from memory.
 */
import encodeJpeg, { init } from '@jsquash/jpeg/encode.js';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { crc32, deflateSync } from 'node:zlib';

const program = createRequire(import.meta.url).resolve('@jsquash/jpeg/codec/enc/mozjpeg_enc.wasm');
let isReady: Promise<void> | null = null;

type Paint = (x: number, y: number) => readonly [red: number, green: number, blue: number];
export const EVEN: Paint = () => [90, 120, 150];

/** A JPEG of a picture that is painted pixel by pixel. */
export async function jpegOf(
  width: number,
  height: number,
  paint: Paint = EVEN,
  quality = 90,
): Promise<Buffer> {
  isReady ??= init({ wasmBinary: readFileSync(program) });
  await isReady;
  const data = new Uint8ClampedArray(width * height * 4).fill(255);
  for (let i = 0; i < width * height; i++) data.set(paint(i % width, Math.floor(i / width)), 4 * i);
  return Buffer.from(await encodeJpeg({ data, width, height, colorSpace: 'srgb' }, { quality }));
}

/** A segment of a JPEG: its marker, its length, what it holds (ITU-T T.81, B.1.1.4). */
function segment(marker: number, data: Buffer): Buffer {
  const head = Buffer.from([0xff, marker, 0, 0]);
  head.writeUInt16BE(data.length + 2, 2);
  return Buffer.concat([head, data]);
}

/** Words that a camera, or whoever used it, left in a picture: none of them may come out. */
export const SECRETS = ['GPSSECRET-51.0N', 'SERIAL-00998877', 'XMP-home-address', 'said-by-nobody'];

/**
 * An Exif segment (Exif 2.3, 4.5 to 4.6; TIFF 6.0, section 2): the orientation (0x0112), the maker (0x010F),
 * and a GPS directory (0x8825) with an area's name (0x001C).
 */
function exif(orientation: number): Buffer {
  const tiff = Buffer.alloc(26 + 18 + 64);
  tiff.write('MM\0*', 'latin1');
  tiff.writeUInt32BE(8, 4);
  const entry = (at: number, tag: number, type: number, count: number, value: number): void => {
    tiff.writeUInt16BE(tag, at);
    tiff.writeUInt16BE(type, at + 2);
    tiff.writeUInt32BE(count, at + 4);
    if (type === 3) tiff.writeUInt16BE(value, at + 8);
    else tiff.writeUInt32BE(value, at + 8);
  };
  const whole = Buffer.concat([tiff, Buffer.alloc(40)]);
  tiff.writeUInt16BE(3, 8);
  const [gps, serial] = [SECRETS[0] ?? '', SECRETS[1] ?? ''];
  entry(10, 0x010f, 2, serial.length + 1, 80);
  entry(22, 0x0112, 3, 1, orientation);
  entry(34, 0x8825, 4, 1, 50);
  tiff.writeUInt32BE(0, 46);
  tiff.writeUInt16BE(1, 50);
  entry(52, 0x001c, 7, gps.length, 100);
  tiff.writeUInt32BE(0, 64);
  tiff.copy(whole);
  whole.write(serial, 80, 'latin1');
  whole.write(gps, 100, 'latin1');
  return segment(0xe1, Buffer.concat([Buffer.from('Exif\0\0', 'latin1'), whole]));
}

/** The same picture with all that: Exif, XMP, a comment, and something behind its end. */
export function withTraces(jpeg: Buffer, orientation = 1): Buffer {
  return Buffer.concat([
    jpeg.subarray(0, 2),
    exif(orientation),
    segment(0xe1, Buffer.from(`http://ns.adobe.com/xap/1.0/\0<x>${SECRETS[2]}</x>`, 'latin1')),
    segment(0xfe, Buffer.from(SECRETS[3] ?? '', 'latin1')),
    jpeg.subarray(2),
    Buffer.from(SECRETS.join(' ')),
  ]);
}

function chunk(name: string, data: Buffer): Buffer {
  const named = Buffer.concat([Buffer.from(name, 'latin1'), data]);
  const ends = Buffer.alloc(8);
  ends.writeUInt32BE(data.length, 0);
  ends.writeUInt32BE(crc32(named), 4);
  return Buffer.concat([ends.subarray(0, 4), named, ends.subarray(4)]);
}

/**
 * A PNG, 8 bits of red, green and blue (W3C PNG, third edition, 11.2).
 * @param rows its rows as they are compressed; by default as many as it should have, of one color
 */
export function pngOf(width: number, height: number, rows?: Buffer, more: Buffer[] = []): Buffer {
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  head.set([8, 2, 0, 0, 0], 8);
  const plain = rows ?? deflateSync(Buffer.alloc(height * (1 + 3 * width), 0));
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    chunk('IHDR', head),
    ...more,
    chunk('IDAT', plain),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}

/** Chunks of a PNG that hold words: plain, compressed, Exif (11.3.3 and 11.3.5). */
export const wordy = (): Buffer[] => [
  chunk('tEXt', Buffer.from(`Comment\0${SECRETS[3]}`, 'latin1')),
  chunk('zTXt', Buffer.concat([Buffer.from('A\0\0'), deflateSync(Buffer.from(SECRETS[2] ?? ''))])),
  chunk('eXIf', Buffer.from(`MM\0*${SECRETS[0]}`, 'latin1')),
];

/** A JPEG's head that claims a size, and nothing behind it. */
export function claims(width: number, height: number): Buffer {
  const frame = Buffer.from([8, 0, 0, 0, 0, 1, 1, 0x11, 0]);
  frame.writeUInt16BE(height, 1);
  frame.writeUInt16BE(width, 3);
  return Buffer.concat([Buffer.from([0xff, 0xd8]), segment(0xc0, frame), Buffer.alloc(500)]);
}

/** The markers of a JPEG up to its scan, each with what it holds. */
export function segmentsOf(jpeg: Uint8Array): { marker: number; data: Buffer }[] {
  const bytes = Buffer.from(jpeg);
  const found: { marker: number; data: Buffer }[] = [];
  for (let at = 2; bytes[at] === 0xff;) {
    const marker = bytes[at + 1] ?? 0;
    const length = bytes.readUInt16BE(at + 2);
    found.push({ marker, data: bytes.subarray(at + 4, at + 2 + length) });
    if (marker === 0xda) break;
    at += 2 + length;
  }
  return found;
}
