import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Line } from '../../adapters/contract.ts';
import { LogReader } from '../../server/visit-log/reader.ts';
import { ReadingScanner } from '../../server/visit-log/scan-reading.ts';
import { checkLine } from '../../server/visit-log/schema.ts';

const T = 1_777_885_200_000;

/** What the scanner says of a line, and where it says that the line ends. */
function scan(line: string) {
  const scanner = new ReadingScanner();
  const reading = scanner.scan(Buffer.from(`${line}\n`), 0);
  return { reading, end: scanner.end };
}

/** Numbers as they are written, well and badly. */
const number = fc.oneof(
  { weight: 9, arbitrary: fc.double({ min: -60, max: 60, noNaN: true }).map((x) => x.toFixed(2)) },
  fc.double({ noNaN: true }).map(String),
  fc.integer({ min: 0, max: 100 }).map(String),
  fc
    .tuple(fc.integer({ min: 0, max: 99 }), fc.stringMatching(/^\d{1,17}$/))
    .map(([whole, decimals]) => `${whole}.${decimals}`),
  fc.constantFrom('0', '-0', '00', '01', '-', '1.', '.5', '1e1', '+1', '', 'null', '"20"', '2 '),
);
const key = fc.constantFrom(
  ...['temperatureC', 'humidityPct', 'temperatureC', 'humidityPct', 'dewPointC', 'velocityMs'],
  ...['pressurePa', 'powerW', 'batteryPct', 'other', 't', ''],
);
const id = fc.oneof(
  { weight: 3, arbitrary: fc.constantFrom('p1', 'p2') },
  fc.constantFrom('ble:00aa', '', '__proto__', 'a\\"b', 'é', 'x'.repeat(129)),
  fc.string(),
);
const line = fc
  .record({
    head: fc.constantFrom(
      ...Array.from({ length: 6 }, () => '{"type":"reading","t":'),
      ...['{"type":"event","t":', '{ "type":"reading","t":', '{"t":'],
    ),
    t: fc.oneof(fc.constantFrom(String(T), `${T}.5`, String(T + 1)), number),
    probe: id,
    fields: fc.array(fc.tuple(key, number), { maxLength: 8 }),
    end: fc.constantFrom('}', '}', '}', '}', '', '} ', '}}', ',}'),
  })
  .map(
    ({ head, t, probe, fields, end }) =>
      `${head}${t},"probe":"${probe}"${fields.map(([k, v]) => `,"${k}":${v}`).join('')}${end}`,
  );

describe('a reading that is scanned', () => {
  test('is the one that a parser and the schema find there, to the last bit', () => {
    let taken = 0;
    fc.assert(
      fc.property(line, (text) => {
        const { reading, end } = scan(text);
        if (reading === null || end !== Buffer.byteLength(text)) return;
        const parsed: unknown = JSON.parse(text);
        expect(reading).toStrictEqual(parsed); // tells 0 from −0
        expect(checkLine(parsed)).toHaveProperty('line');
        taken++;
      }),
      { numRuns: 5000 },
    );
    expect(taken).toBeGreaterThan(50);
  });

  test('is any that is written plainly', () => {
    const plain = {
      type: 'reading',
      t: T,
      probe: 'p1',
      ...{ temperatureC: -12.25, humidityPct: 48.2, dewPointC: 0, velocityMs: -1.5 },
      ...{ pressurePa: 98_300, powerW: 812.4, batteryPct: 88 },
    };
    expect(scan(JSON.stringify(plain)).reading).toStrictEqual(plain);
    const small = `{"type":"reading","t":0,"probe":"${'x'.repeat(128)}","powerW":0.000001}`;
    expect(scan(small).reading).toStrictEqual(JSON.parse(small));
  });

  test.each([
    '{"type":"reading","t":1777885200000,"probe":"p1"}',
    '{"type":"reading","t":1777885200,"probe":"p1","temperatureC":20}',
    '{"type":"reading","t":1777885200000,"probe":"p1","temperatureC":95.01}',
    '{"type":"reading","t":1777885200000,"probe":"p1","temperatureC":020}',
    '{"type":"reading","t":1777885200000,"probe":"p1","temperatureC":20.}',
    '{"type":"reading","t":1777885200000,"probe":"p1","temperatureC":2e1}',
    '{"type":"reading","t":1777885200000,"probe":"p\\u0031","temperatureC":20}',
    '{"type":"reading","t":1777885200000,"probe":"p1","temperatureC":20,"other":1}',
    '{"type":"reading","t":1777885200000,"probe":"p1","temperatureC":12.3456789012345678}',
    '{"type":"reading","t":1777885200000,"probe":"p1","temperatureC":20,}',
  ])('is not this: %s', (text) => {
    expect(scan(text).reading).toBeNull();
  });

  test('tells ids apart whose bytes have one hash', () => {
    const scanner = new ReadingScanner();
    // 31 × 'A' + 'a' = 31 × 'B' + 'B'
    const ids = ['Aa', 'BB', 'Aa', 'BB'].map((probe) => {
      const text = `{"type":"reading","t":0,"probe":"${probe}","powerW":1}\n`;
      return scanner.scan(Buffer.from(text), 0)?.probe;
    });
    expect(ids).toEqual(['Aa', 'BB', 'Aa', 'BB']);
  });
});

test('bytes that are cut anywhere read like the whole text', () => {
  const plain = (dt: number): string =>
    `{"type":"reading","t":${T + dt},"probe":"p1","temperatureC":20.25}`;
  const rows = [
    '{"type":"unit","id":"u1","name":"Küche 🌡"}',
    plain(0),
    ` ${plain(1000)}\r`,
    '',
    plain(2000).replace('p1', 'Fühler'),
    plain(3000).replace('20.25', '200'),
    plain(4000),
  ];
  const bytes = Buffer.from(rows.join('\n'));
  const read = (cuts: readonly number[]) => {
    const lines: [number, Line][] = [];
    const refused: [number, string][] = [];
    const reader = new LogReader({
      line: (each, n) => lines.push([n, each]),
      refused: (n, why) => refused.push([n, why]),
    });
    let from = 0;
    for (const to of [...cuts].sort((a, b) => a - b)) {
      const chunk = Buffer.from(bytes.subarray(from, to));
      reader.write(chunk);
      chunk.fill(0); // it is the caller's again
      from = to;
    }
    reader.write(bytes.subarray(from));
    reader.end();
    return { lines, refused };
  };
  const whole = read([]);
  expect(whole.lines.map(([n]) => n)).toEqual([1, 2, 3, 5, 7]);
  expect(whole.refused.map(([n]) => n)).toEqual([6]);
  fc.assert(
    fc.property(fc.array(fc.integer({ min: 0, max: bytes.length }), { maxLength: 6 }), (cuts) => {
      expect(read(cuts)).toStrictEqual(whole);
    }),
  );
});
