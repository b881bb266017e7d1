import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { stripMs, thinned } from '../../client/chart/thin.ts';
import { T0 } from './fixtures.ts';

const SECOND = 1000;
const HOUR = 3_600_000;

describe('how long a strip is', () => {
  it('some pixels at every span, a power of two seconds, and none where rows stand apart', () => {
    for (let span = 10 * SECOND; span < 48 * HOUR; span *= 1.13) {
      const strip = stripMs(span, 600);
      if (strip === 0) {
        expect((SECOND * 600) / span).toBeGreaterThan(2);
        continue;
      }
      expect(Math.log2(strip / SECOND) % 1).toBe(0);
      const px = (strip * 600) / span;
      expect(px).toBeGreaterThan(2.8);
      expect(px).toBeLessThan(5.7);
    }
  });
});

/** Rows of a second or more, two columns of which each now and then has none. */
const rows = fc
  .array(
    fc.record({
      step: fc.constantFrom(1, 1, 1, 1, 3, 40),
      a: fc.option(fc.integer({ min: -900, max: 900 }), { freq: 6 }),
      b: fc.option(fc.integer({ min: -900, max: 900 }), { freq: 3 }),
    }),
    { minLength: 2, maxLength: 120 },
  )
  .map((all) => {
    let t = T0;
    return {
      t: all.map(({ step }) => (t += step * SECOND)),
      a: all.map((r) => r.a),
      b: all.map((r) => r.b),
    };
  });

/** The stretches over which a line is drawn: by the times of the values that it joins. */
function lines(t: ArrayLike<number>, values: ArrayLike<number | null | undefined>): number[][] {
  const found: number[][] = [[]];
  for (let i = 0; i < t.length; i++) {
    const value = values[i];
    if (value === undefined) continue;
    if (value === null) found.push([]);
    else found.at(-1)?.push(t[i] ?? 0);
  }
  return found.filter((line) => line.length > 0);
}

describe('columns thinned to strips', () => {
  it('are the means of the strips, worked out apart', () => {
    const t = Array.from({ length: 8 }, (_, i) => T0 + i * SECOND);
    const values = [1, 3, 5, 7, 2, 4, 6, 8];
    // T0 is a whole hour, so strips of four seconds hold four rows each; the last row stays.
    expect(thinned([t, values], 4 * SECOND)).toEqual([
      [T0 + 1500, T0 + 5500, T0 + 7000],
      [4, 5, 8],
    ]);
  });

  it('are all of it where there is nothing to thin', () => {
    const columns: [number[], number[]] = [
      [T0, T0 + 1],
      [1, 2],
    ];
    expect(thinned(columns, 0)).toBe(columns);
  });

  it('keep their times in order, stay within their values, and end with their data', () => {
    fc.assert(
      fc.property(rows, fc.constantFrom(2, 4, 16, 64), ({ t, a, b }, strip) => {
        const [times, thinA = []] = thinned([t, a, b], strip * SECOND);
        for (let i = 1; i < times.length; i++) expect(times[i]).toBeGreaterThan(times[i - 1] ?? 0);
        const known = a.filter((value) => value !== null);
        for (const value of thinA) {
          if (value === null || value === undefined) continue;
          expect(value).toBeGreaterThanOrEqual(Math.min(...known));
          expect(value).toBeLessThanOrEqual(Math.max(...known));
        }
        expect(thinA.at(-1) ?? null).toBe(a.at(-1) ?? null);
      }),
    );
  });

  it('join nothing across a hole, however short, and break no other line', () => {
    fc.assert(
      fc.property(rows, fc.constantFrom(2, 4, 16, 64), ({ t, a, b }, strip) => {
        const [times, ...thin] = thinned([t, a, b], strip * SECOND);
        for (const [c, column] of [a, b].entries()) {
          const ms = strip * SECOND;
          const stripOf = (at: number): number => Math.floor(at / ms);
          const holes = t.filter((_, i) => column[i] === null);
          const firstIn = (of: number, isKnown: boolean): number =>
            t.find((at, i) => stripOf(at) === of && (!isKnown || column[i] !== null)) ?? 0;
          const drawn = lines(times, thin[c] ?? []);
          for (const line of drawn)
            for (let i = 1; i < line.length; i++) {
              const [from, to] = [stripOf(line[i - 1] ?? 0), stripOf(line[i] ?? 0)];
              // From the first value of the one strip to the first row of the other all is known.
              const joined = holes.filter(
                (at) => at > firstIn(from, true) && at <= firstIn(to, false),
              );
              expect(from === to ? [] : joined).toEqual([]);
            }
          if (holes.length === 0) expect(drawn).toHaveLength(1);
        }
      }),
    );
  });

  it('a mode that changes breaks the line where it does', () => {
    const t = Array.from({ length: 12 }, (_, i) => T0 + i * SECOND);
    const values = [2000, 2000, 2000, 2000, 2000, null, 900, 900, 900, 900, 900, 900];
    const [times, thin = []] = thinned([t, values], 4 * SECOND);
    expect(lines(times, thin).length).toBe(2);
  });

  it('stand still: those of a longer past are the same but for the last', () => {
    const t = Array.from({ length: 100 }, (_, i) => T0 + i * SECOND);
    const values = t.map((_, i) => i % 7);
    const [whole, of = []] = thinned([t, values], 8 * SECOND);
    const [part, ofPart = []] = thinned([t.slice(0, 90), values.slice(0, 90)], 8 * SECOND);
    expect(Array.from(part).slice(0, 11)).toEqual(Array.from(whole).slice(0, 11));
    expect(Array.from(ofPart).slice(0, 11)).toEqual(Array.from(of).slice(0, 11));
  });
});
