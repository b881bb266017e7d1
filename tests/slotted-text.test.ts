/** A text that is filled again and again: always what it would be if it were written from scratch. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Decimals, SlottedText } from '../server/slotted-text.ts';
import { runs } from './long.ts';

type Value =
  | { kind: 'number'; decimals: Decimals; value: number | null }
  | { kind: 'json'; value: string | number | boolean | null }
  | { kind: 'raw'; value: string };

/** Figures as they come, and all that is awkward: signs, widths, powers of ten, no number at all. */
const figure = fc.oneof(
  fc.double({ min: -2e4, max: 2e4, noNaN: true }),
  fc.double(),
  fc.constantFrom(0, -0, 9.9994, 9.9995, 99.9996, -9.9996, -0.0001, 1e6, 2e6, 1e9, NaN, Infinity),
  fc.constant(null),
);
const slots: fc.Arbitrary<Value> = fc.oneof(
  fc.record({
    kind: fc.constant('number' as const),
    decimals: fc.constantFrom<Decimals>(3, 6, 9),
    value: figure,
  }),
  fc.record({
    kind: fc.constant('json' as const),
    value: fc.oneof(fc.string({ unit: 'binary' }), fc.boolean(), fc.constant(null), fc.integer()),
  }),
  fc.record({ kind: fc.constant('raw' as const), value: fc.string({ unit: 'grapheme' }) }),
);
/** Several fillings of one text: the same slots, each time with other values or the same. */
const fillings = fc.array(slots, { minLength: 1, maxLength: 8 }).chain((first) =>
  fc
    .array(fc.tuple(...first.map((slot) => fc.oneof(fc.constant(slot), another(slot)))), {
      minLength: 1,
      maxLength: 8,
    })
    .map((more) => [first, ...more]),
);

function another(slot: Value): fc.Arbitrary<Value> {
  switch (slot.kind) {
    case 'number':
      return figure.map((value) => ({ ...slot, value }));
    case 'json':
      return fc.oneof(fc.integer(), fc.string(), fc.constant(null)).map((value) => ({
        ...slot,
        value,
      }));
    case 'raw':
      return fc.string({ unit: 'grapheme' }).map((value) => ({ ...slot, value }));
  }
}

function fill(text: SlottedText, values: readonly Value[]): string {
  text.begin();
  text.literal('«');
  values.forEach((each, i) => {
    const before = `|${i}:`;
    if (each.kind === 'number') text.number(before, each.value, each.decimals);
    else if (each.kind === 'json') text.json(before, each.value);
    else text.raw(before, each.value);
  });
  text.end('»');
  return text.toString();
}

/** The same by way of texts only. */
function written(values: readonly Value[]): string {
  const parts = values.map((each, i) => {
    if (each.kind === 'raw') return `|${i}:${each.value}`;
    if (each.kind === 'json') return `|${i}:${JSON.stringify(each.value)}`;
    return `|${i}:${decimal(each.value, each.decimals)}`;
  });
  return `«${parts.join('')}»`;
}
function decimal(x: number | null, decimals: number): string {
  const n = Math.round(Math.abs(x ?? NaN) * 10 ** decimals);
  if (!(n < 2e9)) return JSON.stringify(x);
  const digits = String(n).padStart(decimals + 1, '0');
  return `${x !== null && x < 0 ? '-' : ''}${digits.slice(0, -decimals)}.${digits.slice(-decimals)}`;
}

describe('a text with slots', () => {
  test('is each time what it would be if it were written anew', () => {
    fc.assert(
      fc.property(fillings, (all) => {
        const text = new SlottedText();
        for (const values of all) {
          // Without half characters: those no UTF-8 can hold.
          const whole = Buffer.from(written(values)).toString();
          expect(fill(text, values)).toBe(whole);
          expect(text.length).toBe(Buffer.byteLength(whole));
        }
      }),
      { numRuns: runs(500) },
    );
  });

  test('grows as far as it has to, and is copied whole', () => {
    const text = new SlottedText();
    fill(text, [{ kind: 'raw', value: 'short' }]);
    const long = 'x'.repeat(50_000);
    fill(text, [{ kind: 'raw', value: long }]);
    const target = Buffer.alloc(text.length + 3);
    text.copyTo(target, 3);
    expect(target.toString('utf8', 3)).toBe(`«|0:${long}»`);
  });
});
