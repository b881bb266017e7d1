/**
 * A picture as it comes, decoded and encoded anew: what goes into the record holds pixels and nothing
 * else, no place, no time, no camera, no comment. The codecs are WebAssembly, in a memory of their own.
 */
import decodeJpeg, { init as initJpegDecoder } from '@jsquash/jpeg/decode.js';
import encodeJpeg, { init as initJpegEncoder } from '@jsquash/jpeg/encode.js';
import decodePng, { init as initPngDecoder } from '@jsquash/png/decode.js';
import { readFileSync } from 'node:fs';
import { createRequire as requireFrom } from 'node:module';
import { MOST_PHOTO_BYTES } from '../visit-log/photo-pieces.ts';
import { MOST_PIXELS, type Reencoded } from './limits.ts';
import { headOf } from './picture.ts';
import { type Pixels, shrunk } from './pixels.ts';
import { sent } from '../words/sent.ts';

/** What becomes of it: its longer side, and its quality; where that is too many bytes, the next one. */
const LONGEST = 1280;
const QUALITIES = [80, 50];
/** Where no quality is poor enough, it gets smaller by so much. */
const SMALLER = 0.7;

const UNREADABLE = sent`This is no picture that can be read: send a JPEG or a PNG that is whole. Nothing was added.`;

/** @returns a JPEG of at most `MOST_PHOTO_BYTES`, or why there is none, as a sentence */
export async function reencode(bytes: Buffer): Promise<Reencoded> {
  const head = headOf(bytes);
  if (head === null) return { refusal: UNREADABLE };
  if (head.width * head.height > MOST_PIXELS) {
    return {
      refusal: sent`This picture has ${head.width} × ${head.height} pixels, too many to be taken: make it smaller than ${MOST_PIXELS / 1e6} million. Nothing was added.`,
    };
  }
  await ready();
  const whole = await decoded(bytes, head.kind);
  if (whole === null) return { refusal: UNREADABLE };
  for (let longest = LONGEST; ; longest *= SMALLER) {
    const pixels = shrunk(whole, longest);
    for (const quality of QUALITIES) {
      const jpeg = new Uint8Array(await encodeJpeg(imageOf(pixels), { quality }));
      if (jpeg.length > MOST_PHOTO_BYTES) continue;
      return { jpeg, width: pixels.width, height: pixels.height };
    }
  }
}

async function decoded(bytes: Buffer, kind: 'jpeg' | 'png'): Promise<Pixels | null> {
  const own = new Uint8Array(bytes).buffer; // of a copy: the whole of it is the picture
  try {
    // Upright, as the camera was held.
    const pixels: unknown =
      kind === 'png' ? await decodePng(own) : await decodeJpeg(own, { preserveOrientation: true });
    return isPixels(pixels) ? pixels : null;
  } catch {
    return null;
  }
}

function isPixels(value: unknown): value is Pixels {
  if (typeof value !== 'object' || value === null) return false;
  if (!('width' in value && 'height' in value && 'data' in value)) return false;
  const { width, height, data } = value;
  return (
    typeof width === 'number' &&
    typeof height === 'number' &&
    data instanceof Uint8ClampedArray &&
    data.length === width * height * 4
  );
}

/** What the codecs hand pixels over in, and take them: browsers have it, Node has not. */
class ImageData {
  readonly data: Uint8ClampedArray;
  readonly width: number;
  readonly height: number;
  readonly colorSpace = 'srgb';
  constructor(data: Uint8ClampedArray, width: number, height: number) {
    this.data = data;
    this.width = width;
    this.height = height;
  }
}
const imageOf = ({ data, width, height }: Pixels): ImageData => new ImageData(data, width, height);

let isReady: Promise<void> | null = null;
/** The programs of the codecs, from where they are installed. */
function ready(): Promise<void> {
  isReady ??= (async () => {
    Object.assign(globalThis, { ImageData });
    const { resolve } = requireFrom(import.meta.url);
    const program = (path: string): Buffer => readFileSync(resolve(path));
    const quiet = { print: () => {}, printErr: () => {} };
    const wasm = (name: string): object => ({ ...quiet, wasmBinary: program(name) });
    await initJpegDecoder(wasm('@jsquash/jpeg/codec/dec/mozjpeg_dec.wasm'));
    await initJpegEncoder(wasm('@jsquash/jpeg/codec/enc/mozjpeg_enc.wasm'));
    await initPngDecoder(program('@jsquash/png/codec/pkg/squoosh_png_bg.wasm'));
  })();
  return isReady;
}
