/**
 * BTHome v2. The frames, and what they say, are those of the tests of the format's reference parser
 * (bthome-ble 3.20.0, d55bd3aea0); the first encrypted frame is the format's own published example.
 * What the reference parser does not test is marked "ours".
 */
import { createCipheriv } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { BthomeReader, parseKey } from '../../../adapters/ble/bthome.ts';
import { hex } from './bytes.ts';

const ADDRESS = '54:48:E6:8F:80:A5';
const KEY = hex('231d39c1d7cc1ab1aee224cd096db932');
const T = 1_777_885_200_000;

const plain = () => new BthomeReader({ key: null });
const keyed = () => new BthomeReader({ key: KEY });
const read = (bytes: string, reader = plain(), t = T) => reader.read(ADDRESS, hex(bytes), t);

/** A frame as a probe of that address and key sends it. */
function sealed(objects: string, counter: number): string {
  const counterBytes = Buffer.alloc(4);
  counterBytes.writeUInt32LE(counter);
  const address = hex(ADDRESS.replaceAll(':', ''));
  const head = Buffer.concat([address, hex('D2 FC 41'), counterBytes]);
  const cipher = createCipheriv('aes-128-ccm', KEY, head, { authTagLength: 4 });
  const bytes = Buffer.concat([cipher.update(hex(objects)), cipher.final()]);
  const frame = Buffer.concat([hex('41'), bytes, counterBytes, cipher.getAuthTag()]);
  return frame.toString('hex');
}

describe('a frame', () => {
  test.each([
    ['40 02 CA 09 03 BF 13', [{ temperatureC: 25.06, humidityPct: 50.55 }]],
    ['40 01 5D 02 5D 09 03 B7 18', [{ batteryPct: 93, temperatureC: 23.97, humidityPct: 63.27 }]],
    ['40 04 13 8A 01', [{ pressurePa: 100_883 }]],
    ['40 08 CA 06', [{ dewPointC: 17.38 }]],
    ['40 62 40 99 DF FF', [{ velocityMs: -2.123456 }]],
    ['40 45 11 01', [{ temperatureC: 27.3 }]],
    ['40 57 EA', [{ temperatureC: -22 }]],
    ['40 58 EA', [{ temperatureC: -7.7 }]],
    // A packet number, then humidity in whole per cent and a temperature in tenths.
    [
      '40 00 2E 01 64 1E 01 2E 34 45 16 01',
      [{ batteryPct: 100, humidityPct: 52, temperatureC: 27.8 }],
    ],
    // Power beside voltages, which are passed over; ids in any order.
    ['40 00 01 0B 00 00 00 4A 0D 09 01 33 0C E9 0C', [{ powerW: 0, batteryPct: 51 }]],
    ['40 03 BF 13 02 CA 09', [{ temperatureC: 25.06, humidityPct: 50.55 }]],
    // Nothing of use in it: a volume flow; a direction and rain; a channel; a speed of turning; light.
    ['40 49 DC 87', []],
    ['40 5E 3F 75 5F 11 D5', []],
    ['40 60 01', []],
    ['40 61 AC 0D', []],
    ['40 64 02', []],
    // 133.90 m/s is a good figure, and no air in or around a house.
    ['40 44 4E 34', []],
    // Ours: 5.00 m/s; 12.34 W; −12.34 W.
    ['40 44 F4 01', [{ velocityMs: 5 }]],
    ['40 0B D2 04 00', [{ powerW: 12.34 }]],
    ['40 5C 2E FB FF FF', [{ powerW: -12.34 }]],
  ])('%s', (bytes, values) => {
    expect(read(bytes)).toMatchObject({ values });
  });

  test('has the number of its packet', () => {
    expect(read('40 00 09 01 5D 02 5D 09 03 B7 18')).toEqual({
      values: [{ batteryPct: 93, temperatureC: 23.97, humidityPct: 63.27 }],
      packet: 9,
      t: null,
      triggered: false,
    });
  });

  test('may tell its time, and that it has no rhythm', () => {
    expect(read('44 50 5D 39 61 64')).toEqual({
      values: [],
      packet: null,
      t: Date.UTC(2023, 4, 14, 19, 41, 17),
      triggered: true,
    });
  });

  test.each(['00 00 00 00', '80 43 6D 38', 'FF FF FF FF'])(
    'has no time where the clock of the probe is not set (%s; ours)',
    (seconds) => {
      expect(read(`40 02 CA 09 50 ${seconds}`)).toMatchObject({
        values: [{ temperatureC: 25.06 }],
        t: null,
      });
    },
  );

  test('tells several of a kind apart by their order', () => {
    expect(read('40 02 CA 09 02 CF 09')).toMatchObject({
      values: [{ temperatureC: 25.06 }, { temperatureC: 25.11 }],
    });
    expect(read('40 02 CA 09 02 CF 09 02 CF 08 03 B7 18 03 B7 17 01 5D')).toMatchObject({
      values: [
        { temperatureC: 25.06, humidityPct: 63.27, batteryPct: 93 },
        { temperatureC: 25.11, humidityPct: 60.71 },
        { temperatureC: 22.55 },
      ],
    });
  });

  test('whose first figure is impossible does not give its place to the second (ours)', () => {
    expect(read('40 02 FF 7F 02 CF 09')).toMatchObject({ values: [{}, { temperatureC: 25.11 }] });
    expect(read('40 02 CF 09 02 FF 7F')).toMatchObject({ values: [{ temperatureC: 25.11 }] });
  });

  test('is good up to what is not known, or cut', () => {
    expect(read('40 01 5D FE 5D 09 03 B7 18')).toMatchObject({ values: [{ batteryPct: 93 }] });
    expect(read('40 02 CA 09 03 BF')).toMatchObject({ values: [{ temperatureC: 25.06 }] });
    expect(read('40')).toMatchObject({ values: [] });
  });

  test('may hold text and raw bytes, which say how long they are (ours)', () => {
    for (const id of ['53', '54']) {
      expect(read(`40 ${id} 03 02 02 02 02 CA 09`)).toMatchObject({
        values: [{ temperatureC: 25.06 }],
      });
      expect(read(`40 ${id} 00 02 CA 09`)).toMatchObject({ values: [{ temperatureC: 25.06 }] });
      expect(read(`40 ${id}`)).toMatchObject({ values: [] });
      expect(read(`40 ${id} FF 02 CA 09`)).toMatchObject({ values: [] });
    }
  });

  /** Every published id with its length, and no other: the table of the reference parser. */
  const LENGTHS = [
    '00-1 01-1 02-2 03-2 04-3 05-3 06-2 07-2 08-2 09-1 0A-3 0B-3 0C-2 0D-2 0E-2 0F-1',
    '10-1 11-1 12-2 13-2 14-2 15-1 16-1 17-1 18-1 19-1 1A-1 1B-1 1C-1 1D-1 1E-1 1F-1',
    '20-1 21-1 22-1 23-1 24-1 25-1 26-1 27-1 28-1 29-1 2A-1 2B-1 2C-1 2D-1 2E-1 2F-1',
    '3A-1 3C-2 3D-2 3E-4 3F-2 40-2 41-2 42-3 43-2 44-2 45-2 46-1 47-2 48-2 49-2 4A-2 4B-3 4C-4',
    '4D-4 4E-4 4F-4 50-4 51-2 52-2 55-4 56-2 57-1 58-1 59-1 5A-2 5B-4 5C-4 5D-2 5E-2 5F-2 60-1',
    '61-2 62-4 63-4 64-1',
    // Type and versions of the device: from the format's page, as quoted in public firmware.
    'F0-2 F1-4 F2-3',
  ]
    .join(' ')
    .split(' ')
    .map((entry) => entry.split('-'));

  test('can be read on after any object that is known, and after no other (text: above)', () => {
    const lengths = new Map(
      LENGTHS.map(([id, length]) => [parseInt(id ?? '', 16), Number(length)]),
    );
    expect(lengths.size).toBe(91);
    for (let id = 0; id <= 0xff; id++) {
      if (id === 0x53 || id === 0x54) continue;
      const length = lengths.get(id);
      // 0xFE is no id: a length that is one too short ends there, one too long eats the dew point.
      const filler = 'FE'.repeat(length ?? 1);
      const frame = `40 ${id.toString(16).padStart(2, '0')} ${filler} 08 CA 06`;
      const answer = read(frame);
      const dewPoints = ('values' in answer ? answer.values : []).map((each) => each.dewPointC);
      const found = dewPoints.includes(17.38);
      expect(found, `0x${id.toString(16)}`).toBe(length !== undefined);
    }
  });
});

test('the frame that the documents put together is what they say', () => {
  const README = readFileSync(new URL('../../../adapters/ble/README.md', import.meta.url), 'utf8');
  const rows = README.slice(README.indexOf('**To broadcast**')).matchAll(/^\| `([\dA-F ]+)`/gm);
  const bytes = [...rows].map(([, cell]) => cell).join(' ');
  expect(bytes.slice(0, 5)).toBe('D2 FC');
  expect(read(bytes.slice(6))).toMatchObject({
    packet: 9,
    values: [{ batteryPct: 93, temperatureC: 25.06, humidityPct: 50.55, velocityMs: 5 }],
  });
});

describe('a frame is refused', () => {
  test.each([
    ['', 'malformed'],
    ['E1 02 00 0C 04 04 13 8A 01', 'version'],
    ['00', 'version'],
    ['42 A5 80 8F E6 48', 'malformed'],
    ['41', 'malformed'],
    ['41 00 11 22 33 78 23 72 14 00', 'malformed'],
    ['41 A4 72 66 C9 5F 73 00 11 22 33 78 23 72 14', 'key-missing'],
  ])('%s: %s', (bytes, kind) => {
    const answer = read(bytes);
    expect(answer).toMatchObject({ kind });
    expect(answer).toMatchObject({
      refusal: expect.stringMatching(/^The probe 54:48:E6:8F:80:A5 [^]{20,}[^.]\.$/),
    });
  });

  test('with a sentence that says what to do', () => {
    expect(read('E1')).toMatchObject({
      refusal: `The probe ${ADDRESS} sends BTHome in version 7, and only version 2 is read: set the probe to version 2.`,
    });
    expect(read('41 A4 72 66 C9 5F 73 00 11 22 33 78 23 72 14')).toMatchObject({
      refusal: `The probe ${ADDRESS} sends encrypted readings: enter its key, 32 hexadecimal digits.`,
    });
  });
});

describe('the address in the frame', () => {
  test('stands before the objects', () => {
    expect(read('42 A5 80 8F E6 48 54 02 CA 09')).toMatchObject({
      values: [{ temperatureC: 25.06 }],
    });
  });
});

describe('packets', () => {
  const packet = (n: number) => `40 00 ${n.toString(16).padStart(2, '0')} 02 CA 09`;
  const answers = (packets: [number, number][]) => {
    const reader = plain();
    return packets.map(([n, t]) => 'values' in read(packet(n), reader, T + t));
  };

  test('are taken as they come, over the end of their numbers', () => {
    expect(
      answers([
        [254, 0],
        [255, 100],
        [0, 200],
        [1, 300],
        [64, 400],
      ]),
    ).toEqual([true, true, true, true, true]);
  });

  test('are taken once within four seconds', () => {
    const reader = plain();
    expect(read(packet(9), reader)).toHaveProperty('values');
    expect(read(packet(9), reader, T + 4000)).toMatchObject({ kind: 'repeat' });
    expect(read(packet(9), reader, T + 8001)).toHaveProperty('values');
  });

  test('are taken once however long they are repeated (ours)', () => {
    const reader = plain();
    expect(read(packet(9), reader)).toHaveProperty('values');
    for (let t = 1000; t <= 60_000; t += 1000) {
      expect(read(packet(9), reader, T + t)).toMatchObject({ kind: 'repeat' });
    }
    expect(read(packet(10), reader, T + 60_100)).toHaveProperty('values');
  });

  test('that never change their number are other ones where they hold other figures (ours)', () => {
    const reader = plain();
    expect(read('40 00 09 02 CA 09', reader)).toHaveProperty('values');
    expect(read('40 00 09 02 CB 09', reader, T + 3000)).toMatchObject({ kind: 'repeat' });
    expect(read('40 00 09 02 CC 09', reader, T + 4001)).toHaveProperty('values');
  });

  test('that were encrypted anew are the same ones (ours)', () => {
    const reader = keyed();
    const packetNine = (counter: number): string => sealed('00 09 02 CA 09', counter);
    expect(read(packetNine(200), reader)).toHaveProperty('values');
    for (let i = 1; i <= 10; i += 1) {
      expect(read(packetNine(200 + i), reader, T + 1000 * i)).toMatchObject({ kind: 'repeat' });
    }
  });

  test('that are older are passed over within four seconds', () => {
    expect(
      answers([
        [10, 0],
        [9, 1000],
        [10 + 64, 2000],
        [10 + 63, 3000],
        [9, 6999],
        [9, 7001],
      ]),
    ).toEqual([true, false, false, true, false, true]);
  });

  test('are taken where the clock of this computer was set back (ours)', () => {
    expect(
      answers([
        [9, 0],
        [9, -1000],
      ]),
    ).toEqual([true, true]);
  });

  test('are compared with what was heard, not with what the radio has put there since (ours)', () => {
    const reader = plain();
    const buffer = hex('40 02 CA 09');
    expect(reader.read(ADDRESS, buffer, T)).toHaveProperty('values');
    buffer[2] = 0xcb;
    expect(reader.read(ADDRESS, buffer, T + 8)).toHaveProperty('values');
  });

  test('without a number are taken once where they are heard on several channels (ours)', () => {
    const reader = plain();
    expect(read('40 02 CA 09', reader)).toHaveProperty('values');
    expect(read('40 02 CA 09', reader, T + 8)).toMatchObject({ kind: 'repeat' });
    expect(read('40 02 CB 09', reader, T + 16)).toHaveProperty('values');
    expect(read('40 02 CB 09', reader, T + 250)).toHaveProperty('values');
  });
});

describe('encryption', () => {
  /** Counters are in the order in which they are sent, lowest byte first. */
  const PUBLISHED = '41 E445F3C9962B 33221100 6C7C4519'; // counter 1,122,867
  const NEXT = '41 3E932CC7175F 34221100 553876AF';
  const BEFORE = '41 723D3035FB88 32221100 9E7414C0';
  const LAST_OF_ALL = '41 BA0DB07AEEF6 FFFFFFFF 21FD4600';
  const FIRST_OF_ALL = '41 DE40B50E6766 00000000 D7CB95DE';
  const values = [{ temperatureC: 25.06, humidityPct: 50.55 }];
  const others = [{ temperatureC: 25.07, humidityPct: 50.55 }];

  test.each([
    [PUBLISHED, values],
    ['41 A47266C95F73 00112233 78237214', values],
    [NEXT, values],
    [BEFORE, values],
    [LAST_OF_ALL, others],
    [FIRST_OF_ALL, others],
  ])('%s', (frame, expected) => {
    expect(read(frame, keyed())).toMatchObject({ values: expected });
  });

  test('a frame that holds a switch only is decrypted, and nothing of use is in it', () => {
    expect(read('41 87B9 00112233 72B0231F', keyed())).toMatchObject({ values: [] });
  });

  test('frames are taken in the order of their counters', () => {
    const reader = keyed();
    expect(read(PUBLISHED, reader)).toMatchObject({ values });
    expect(read(NEXT, reader, T + 1000)).toMatchObject({ values });
  });

  test('a frame from before the last is a recording', () => {
    const reader = keyed();
    read(PUBLISHED, reader);
    expect(read(BEFORE, reader, T + 60_000)).toEqual({
      kind: 'replay',
      refusal: `The probe ${ADDRESS} has sent frame 1122866 after frame 1122867: it may be a recording of somebody else's and is passed over.`,
    });
    expect(read(NEXT, reader, T + 61_000)).toMatchObject({ values });
  });

  test('the same frame is a repeat, however late', () => {
    const reader = keyed();
    read(PUBLISHED, reader);
    expect(read(PUBLISHED, reader, T + 3_600_000)).toMatchObject({ kind: 'repeat' });
  });

  test('a counter that begins anew is taken', () => {
    const reader = keyed();
    expect(read(LAST_OF_ALL, reader)).toMatchObject({ values: others });
    expect(read(FIRST_OF_ALL, reader, T + 1000)).toMatchObject({ values: others });
    expect(read(PUBLISHED, reader, T + 2000)).toMatchObject({ values });
  });

  test('a frame that somebody forged does not spoil the counter (ours)', () => {
    const reader = keyed();
    read(PUBLISHED, reader);
    expect(read('41 3E932CC7175F FFFFFFFF 553876AF', reader, T + 1)).toMatchObject({
      kind: 'key-wrong',
    });
    expect(read(NEXT, reader, T + 1000)).toMatchObject({ values });
  });

  test('a plain frame of a probe that has a key may be of anybody', () => {
    const reader = keyed();
    read(PUBLISHED, reader);
    expect(read('40 04 13 8A 01', reader, T + 1000)).toMatchObject({ kind: 'downgrade' });
    expect(read(NEXT, reader, T + 2000)).toMatchObject({ values });
    expect(read('40 04 13 8A 01', keyed())).toMatchObject({ kind: 'downgrade' });
  });

  test('another key, another address and any other byte do not fit', () => {
    const wrong = new BthomeReader({ key: hex('814aac74c4f17b6c1581e1ab87816b99') });
    const frame = hex('41 D2FCEFE52EB212D6 00112233 BC38C966');
    expect(wrong.read('A4:C1:38:8D:18:B2', frame, T)).toMatchObject({ kind: 'key-wrong' });
    expect(keyed().read('54:48:E6:8F:80:A6', hex(PUBLISHED), T)).toMatchObject({
      kind: 'key-wrong',
    });
    for (let bit = 0; bit < 8 * hex(PUBLISHED).length; bit++) {
      const changed = hex(PUBLISHED);
      changed[bit >> 3] = (changed[bit >> 3] ?? 0) ^ (1 << (bit & 7));
      expect(keyed().read(ADDRESS, changed, T), `bit ${bit}`).toHaveProperty('refusal');
    }
  });

  test('the address may be spelt otherwise', () => {
    for (const address of ['5448e68f80a5', '54-48-e6-8f-80-a5']) {
      expect(keyed().read(address, hex(PUBLISHED), T)).toMatchObject({ values });
    }
  });

  test('where the system hides the address, it says so', () => {
    expect(keyed().read('f3a0b1', hex(PUBLISHED), T)).toMatchObject({
      kind: 'address-hidden',
      refusal: expect.stringContaining('hides the address'),
    });
  });

  test('keys are taken as people write them', () => {
    expect(parseKey(' 231D39C1 d7cc1ab1-aee224cd:096db932\n')).toEqual(KEY);
    for (const wrong of ['', '231d39c1d7cc1ab1aee224cd096db9', 'x'.repeat(32)]) {
      expect(parseKey(wrong)).toBeNull();
    }
    expect(() => new BthomeReader({ key: KEY.subarray(1) })).toThrow('A key has 16 bytes, not 15.');
  });
});
