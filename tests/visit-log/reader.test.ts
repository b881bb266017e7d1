import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Line } from '../../adapters/contract.ts';
import { LogReader } from '../../server/visit-log/reader.ts';
import { MAX_LINE } from '../../server/visit-log/recorded.ts';
import { runs } from '../long.ts';

const T = 1_777_885_200_000;
const reading = (dt: number, probe = 'p1', more: object = { temperatureC: 20 }): string =>
  JSON.stringify({ type: 'reading', t: T + dt, probe, ...more });

function read(text: string, chunk = text.length || 1) {
  const lines: [Line, number][] = [];
  const refused: [number, string][] = [];
  const reader = new LogReader({
    line: (line, n) => lines.push([line, n]),
    refused: (n, why) => refused.push([n, why]),
    latestT: T + 86_400_000 * 400,
  });
  for (let i = 0; i < text.length; i += chunk) reader.write(text.slice(i, i + chunk));
  reader.end();
  return {
    lines,
    refused,
    times: lines.map(([l]) => ('t' in l && l.t !== undefined ? l.t - T : null)),
  };
}

describe('what is good', () => {
  test('is taken whatever pieces the text comes in, with its line number', () => {
    const text = `\uFEFF${reading(0)}\r\n\n${reading(1000)}\n${reading(2000)}`;
    fc.assert(
      fc.property(fc.integer({ min: 1, max: text.length }), (chunk) => {
        const { lines, refused } = read(text, chunk);
        expect(refused).toEqual([]);
        expect(lines.map(([, n]) => n)).toEqual([1, 3, 4]);
      }),
    );
  });

  test('is sorted when out of order by up to five seconds; set-up stays where it stands', () => {
    const unit = JSON.stringify({ type: 'unit', id: 'u1' });
    const { times, refused } = read(
      [reading(0), reading(9000), unit, reading(4000), reading(7000, 'p2'), reading(10_000)].join(
        '\n',
      ),
    );
    expect(refused).toEqual([]);
    expect(times).toEqual([0, 4000, 7000, 9000, null, 10_000]);
  });

  test('a shuffle within five seconds reads like the sorted log', () => {
    const arbitrary = fc.array(fc.integer({ min: 0, max: 4999 }), { minLength: 2, maxLength: 200 });
    fc.assert(
      fc.property(arbitrary, (delays) => {
        const rows = delays.map((delay, i) => ({ t: i * 700, arrives: i * 700 + delay }));
        const shuffled = [...rows].sort((a, b) => a.arrives - b.arrives);
        const { times, refused } = read(shuffled.map(({ t }) => reading(t)).join('\n'));
        expect(refused).toEqual([]);
        expect(times).toEqual(rows.map(({ t }) => t));
      }),
    );
  });
});

describe('what is bad is refused by line and field, and the rest is kept', () => {
  test.each([
    ['{"type":"reading","t":1777885200000,"pro', /cut short/],
    ['\u0000\u0001\u0002\uFFFD\uFFFD', /not text but binary/],
    ['temperature;20', /^is not JSON/],
    ['[1,2]', /is a list, not an object/],
    ['{"t":1}', /^type: is missing/],
    ['{"type":"readng","t":1}', /^type: "readng" is not known/],
    [reading(1000, 'p1', {}), /^has none of temperatureC/],
    [reading(1000, 'p1', { temperatureC: '21' }), /^temperatureC: "21" is a string, not a number/],
    [reading(1000, 'p1', { temperatureC: null }), /^temperatureC: null is null, not a number/],
    [reading(1000, 'p1', { temperatureC: 451 }), /^temperatureC: 451 is too large: at most 95/],
    [reading(1000, 'p1', { humidityPct: -1 }), /^humidityPct: -1 is too small/],
    ['{"type":"reading","t":"now","probe":"p1","temperatureC":20}', /^t: "now" is a string/],
    [
      '{"type":"reading","t":1777885201,"probe":"p1","temperatureC":20}',
      /^t: .*looks like seconds/,
    ],
    ['{"type":"reading","t":1777885200000,"temperatureC":20}', /^probe: is missing/],
    ['{"type":"visit","version":2}', /^version: 2 is not accepted/],
    ['{"type":"event","t":1777885201000,"kind":"boom"}', /^kind: "boom" is not known/],
    [reading(86_400_000 * 500), /^t: .* lies in the future/],
    [reading(-6000), /^t: .* 6\.0 s older than the newest reading of "p1"/],
    [reading(1000, 'x'.repeat(MAX_LINE)), /^is longer than 16384 characters/],
  ])('%s', (bad, why) => {
    const { lines, refused } = read([reading(0), bad, reading(1500), reading(2000)].join('\n'));
    expect(refused).toHaveLength(1);
    expect(refused[0]?.[0]).toBe(2);
    expect(refused[0]?.[1]).toMatch(why);
    expect(lines.map(([, n]) => n)).toEqual([1, 3, 4]);
  });

  test('a huge line without an end costs no memory and only itself', () => {
    const { lines, refused } = read(`${reading(0)}\n${'x'.repeat(1_000_000)}\n${reading(1)}`, 4096);
    expect(refused.map(([n]) => n)).toEqual([2]);
    expect(lines.map(([, n]) => n)).toEqual([1, 3]);
  });

  test('a probe whose clock is hours ahead does not make all others late', () => {
    const rows: string[] = [];
    for (let i = 0; i < 20; i++) rows.push(reading(i * 1000), reading(7_200_000 + i * 1000, 'p2'));
    const { refused, times } = read(rows.join('\n'));
    expect(times).toHaveLength(20);
    expect(refused).toHaveLength(20);
    expect(refused[0]).toEqual([
      2,
      expect.stringMatching(/^t: .*2\.0 h in the future of the lines/),
    ]);
  });

  test('a real gap is no error, with one probe or several', () => {
    const gap = (...probes: string[]): number =>
      read(
        [0, 1000, 7_200_000, 7_201_000, 7_202_000]
          .flatMap((dt) => probes.map((p) => reading(dt, p)))
          .join('\n'),
      ).refused.length;
    expect(gap('p1')).toBe(0);
    expect(gap('p1', 'p2')).toBe(0);
  });

  test('a logger once in a quarter of an hour, alone, is no error; nor is a note long after', () => {
    const rows = Array.from({ length: 9 }, (_, i) => reading(i * 900_000));
    rows.push(JSON.stringify({ type: 'event', t: T + 9 * 900_000, kind: 'note', text: 'done' }));
    const { refused, times } = read(rows.join('\n'));
    expect(refused).toEqual([]);
    expect(times).toHaveLength(10);
  });

  test('a line that comes a little late bears out the jump before it', () => {
    const { refused, times } = read(
      [reading(0), reading(602_000), reading(599_000), reading(603_000)].join('\n'),
    );
    expect(refused).toEqual([]);
    expect(times).toEqual([0, 599_000, 602_000, 603_000]);
  });

  test('a clock that is two seconds ahead does not make another probe’s readings late', () => {
    const rows = [0, 1000, 2000, 3000].flatMap((dt) => [
      reading(dt + 6900, 'fast'),
      reading(dt - 100),
      reading(dt - 4100),
    ]);
    const { refused, times } = read(rows.join('\n'));
    // Of each probe by its own clock up to 5 s, of the whole up to 10 s.
    expect(refused.map(([n]) => n)).toEqual([3, 6, 9, 12]);
    expect(times).toEqual([...times].sort((a, b) => (a ?? 0) - (b ?? 0)));
  });

  test('what was recorded out of its turn is handed over where it stands', () => {
    const marked = (dt: number, after: number): string =>
      reading(dt, 'p1', { temperatureC: 20, after: T + after });
    const order: [number | null, number | undefined][] = [];
    const reader = new LogReader({
      line: (line, _, after) =>
        order.push(['t' in line && line.t !== undefined ? line.t - T : null, after && after - T]),
      refused: (n, why) => expect.fail(`${n}: ${why}`),
    });
    const rows = [reading(0), reading(9000), marked(-60_000, 8000), marked(7_200_000, 9000)];
    reader.write([...rows, reading(7_200_500), ''].join('\n'));
    reader.end();
    expect(order).toEqual([
      [0, undefined],
      [9000, undefined],
      [-60_000, 8000],
      [7_200_000, 9000],
      [7_200_500, undefined],
    ]);
  });

  test('after a clock event times begin anew', () => {
    const clock = { type: 'event', kind: 'clock', t: T - 3_590_000, shiftMs: -3_600_000 };
    const { refused, times } = read(
      [
        reading(9000),
        JSON.stringify(clock),
        reading(-3_588_000),
        reading(-3_589_000, 'p2'),
        reading(9500, 'p3'), // by the old clock
        reading(-3_587_000),
      ].join('\n'),
    );
    expect(times).toEqual([9000, -3_590_000, -3_589_000, -3_588_000, -3_587_000]);
    expect(refused).toEqual([[5, expect.stringMatching(/in the future of the lines around it/)]]);
  });

  test.each(['1', -1001, 1e15, null, {}])('an "after" that is none: %s', (after) => {
    const { refused } = read(reading(0, 'p1', { temperatureC: 20, after }));
    expect(refused).toEqual([[1, expect.stringMatching(/^after: is not a time/)]]);
  });

  test('no text at all can make it throw', () => {
    const piece = fc.oneof(
      fc.string({ unit: 'binary', maxLength: 40 }),
      fc.json(),
      fc.constant('\n'),
      fc.constant(reading(0)),
      fc.constant('{"type":"reading","t":'),
    );
    fc.assert(
      fc.property(
        fc.array(piece, { maxLength: 30 }),
        fc.integer({ min: 1, max: 64 }),
        (parts, chunk) => {
          const { lines, refused } = read(parts.join(''), chunk);
          expect(lines.length + refused.length).toBeLessThanOrEqual(
            parts.join('').split('\n').length,
          );
        },
      ),
      { numRuns: runs(300) },
    );
  });
});
