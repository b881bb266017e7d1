/**
 * A picture encoded anew: only pixels come out, upright and small, whatever went in. That it is the same
 * picture is checked in a browser (tests/browser/photo.test.ts), by a decoder of others. The clauses of T.81 and T.871 are cited
 * from memory.
 */
import { execFileSync } from 'node:child_process';
import { join, resolve } from 'node:path';
import { deflateSync } from 'node:zlib';
import { beforeAll, describe, expect, test } from 'vitest';
import { headOf } from '../../server/photo/picture.ts';
import { shrunk } from '../../server/photo/pixels.ts';
import { reencodeAside } from '../../server/photo/photos.ts';
import { reencode } from '../../server/photo/reencode.ts';
import { MOST_PHOTO_BYTES } from '../../server/visit-log/photo-pieces.ts';
import { claims, jpegOf, pngOf, SECRETS, segmentsOf, withTraces, wordy } from './pictures.ts';

const made = async (bytes: Buffer) => {
  const result = await reencode(bytes);
  if ('refusal' in result) throw new Error(result.refusal);
  return result;
};
const refusal = async (bytes: Buffer): Promise<string> => {
  const result = await reencode(bytes);
  return 'refusal' in result ? result.refusal : 'it was taken';
};

/**
 * What a JPEG needs to be drawn (ITU-T T.81, table B.1): frame, Huffman and quantization tables, restart
 * interval, scan; and the JFIF head (ITU-T T.871, 10.1), which is 14 bytes without a thumbnail.
 */
const NEEDED = [0xc0, 0xc2, 0xc4, 0xdb, 0xdd, 0xda, 0xe0];

function expectNothingElse(jpeg: Uint8Array): void {
  const segments = segmentsOf(jpeg);
  expect(segments.map(({ marker }) => marker).filter((m) => !NEEDED.includes(m))).toEqual([]);
  for (const { marker, data } of segments) if (marker === 0xe0) expect(data.length).toBe(14);
  const text = Buffer.from(jpeg).toString('latin1');
  for (const word of [...SECRETS, 'Exif', 'MM\0*', 'http:', 'GPS'])
    expect(text).not.toContain(word);
  expect(Buffer.from(jpeg.subarray(-2)).toString('hex')).toBe('ffd9'); // nothing behind its end
}

describe('what a camera wrote does not come out', () => {
  test('of a JPEG: place, camera, XMP, comment, what lies behind its end', async () => {
    const traced = withTraces(await jpegOf(640, 480));
    // They are in there, where a reader of Exif finds them.
    for (const word of SECRETS) expect(traced.toString('latin1')).toContain(word);
    expect(() => expectNothingElse(traced)).toThrow();
    const { jpeg, width, height } = await made(traced);
    expectNothingElse(jpeg);
    expect([width, height]).toEqual([640, 480]);
  });

  test('of a PNG: words, compressed ones, Exif', async () => {
    const { jpeg, width, height } = await made(pngOf(80, 60, undefined, wordy()));
    expectNothingElse(jpeg);
    expect([width, height]).toEqual([80, 60]);
  });
});

test.each([
  [1, [200, 100]],
  [3, [200, 100]],
  [6, [100, 200]],
  [8, [100, 200]],
])('held as Exif says (%i), it comes out upright', async (orientation, size) => {
  const { width, height } = await made(withTraces(await jpegOf(200, 100), orientation));
  expect([width, height]).toEqual(size);
});

describe('what comes out is small', () => {
  test('its longer side is 1280 pixels at most, its shape stays', async () => {
    const { width, height } = await made(await jpegOf(3000, 2000));
    expect([width, height]).toEqual([1280, 853]);
  });

  test('noise, of which nothing can be left out, gets poorer and smaller until it fits', async () => {
    let seed = 1;
    const noise = (): number => (seed = (seed * 48_271) % 2_147_483_647) & 255;
    const { jpeg } = await made(await jpegOf(1280, 1280, () => [noise(), noise(), noise()], 95));
    expect(jpeg.length).toBeLessThanOrEqual(MOST_PHOTO_BYTES);
    expect(headOf(Buffer.from(jpeg))).toMatchObject({ kind: 'jpeg' });
  });

  test('a pixel is the mean of those that it covers; what is see-through lies on white', () => {
    const data = new Uint8ClampedArray([
      ...[0, 0, 0, 255, 100, 200, 40, 255],
      ...[200, 100, 0, 255, 0, 0, 0, 0],
    ]);
    const [red, green, blue, opacity] = shrunk({ width: 2, height: 2, data }, 1).data;
    // By hand: (0 + 100 + 200 + 255) / 4, and so on.
    expect([red, green, blue, opacity]).toEqual([139, 139, 74, 255]);
  });
});

describe('what asks for too much is refused in a sentence', () => {
  test.each([
    ['a JPEG', claims(60_000, 60_000)],
    ['a PNG', pngOf(60_000, 60_000, deflateSync(Buffer.alloc(1000)))],
    ['a PNG that claims 2^31 on a side', pngOf(2 ** 31, 1, Buffer.alloc(10))],
  ])('%s of more pixels than are taken, before anything is decoded', async (_, bytes) => {
    const before = process.memoryUsage().rss;
    expect(await refusal(bytes)).toMatch(
      /^This picture has \d+ × \d+ pixels, too many .* 16 million/,
    );
    expect(process.memoryUsage().rss - before).toBeLessThan(50e6);
  });

  test('a PNG whose few rows unpack to a quarter of a gigabyte', async () => {
    const bomb = deflateSync(Buffer.alloc(2 ** 28));
    expect(bomb.length).toBeLessThan(2e6);
    const before = process.memoryUsage().rss;
    const result = await reencode(pngOf(10, 10, bomb));
    // Its first rows are a picture; the rest is not unpacked.
    if ('refusal' in result) expect(result.refusal).toMatch(/no picture that can be read/);
    else expect([result.width, result.height]).toEqual([10, 10]);
    expect(process.memoryUsage().rss - before).toBeLessThan(100e6);
  }, 60_000);

  test('a second frame, larger than the first that was looked at', async () => {
    const jpeg = await jpegOf(64, 64);
    const large = claims(60_000, 60_000).subarray(2, 15);
    const two = Buffer.concat([
      jpeg.subarray(0, 2),
      claims(10, 10).subarray(2, 15),
      large,
      jpeg.subarray(2),
    ]);
    expect(await refusal(two)).toMatch(/no picture that can be read/);
  });

  test.each<[string, () => Buffer | Promise<Buffer>]>([
    ['nothing', () => Buffer.alloc(0)],
    ['text', () => Buffer.from('GIF89a and more')],
    ['a page', () => Buffer.from('<svg xmlns="http://www.w3.org/2000/svg"/>')],
    ['only a beginning', async () => (await jpegOf(64, 64)).subarray(0, 100)],
    [
      'a JPEG with junk between its segments',
      async () => {
        const jpeg = await jpegOf(64, 64);
        return Buffer.concat([jpeg.subarray(0, 2), Buffer.from('junk'), jpeg.subarray(2)]);
      },
    ],
    ['a JPEG of no height', () => claims(10, 0)],
    ['a PNG without rows', () => pngOf(10, 10, Buffer.alloc(0))],
  ])('%s', async (_, bytes) => {
    expect(await refusal(await bytes())).toBe(
      'This is no picture that can be read: send a JPEG or a PNG that is whole. Nothing was added.',
    );
  });
});

describe('in a thread', () => {
  beforeAll(() => {
    execFileSync(process.execPath, ['server/launch.mjs', '--version']); // builds
  });
  const FILE = join(resolve('.'), 'build/server/photo.mjs');

  test('it is the same, and the next one as well', async () => {
    const picture = withTraces(await jpegOf(300, 200));
    const { jpeg } = await made(picture);
    for (let i = 0; i < 2; i++) {
      const aside = await reencodeAside(FILE, picture);
      expect('jpeg' in aside && Buffer.from(aside.jpeg).equals(jpeg)).toBe(true);
    }
  });

  test('one that takes too long is ended with a sentence', async () => {
    const picture = await jpegOf(1500, 1500);
    expect(await reencodeAside(FILE, picture, { longestMs: 1 })).toEqual({
      refusal: expect.stringMatching(/^This picture takes too long/) as string,
    });
  });

  test('whatever comes gives a picture or a sentence', async () => {
    const picture = await jpegOf(64, 64, (x, y) => [x * 4, y * 4, 0]);
    let seed = 7;
    const next = (n: number): number => (seed = (seed * 48_271) % 2_147_483_647) % n;
    for (let i = 0; i < 200; i++) {
      const spoilt = Buffer.from(picture);
      for (let k = next(6) + 1; k > 0; k--) spoilt[next(spoilt.length)] = next(256);
      const result = await reencode(
        spoilt.subarray(0, next(2) ? spoilt.length : next(spoilt.length)),
      );
      if ('jpeg' in result) expectNothingElse(result.jpeg);
      else expect(result.refusal).toMatch(/Nothing was added\.$/);
    }
  });
});
