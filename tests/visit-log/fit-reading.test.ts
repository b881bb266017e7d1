import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { RANGES } from '../../server/visit-log/fit-reading.ts';
import { checkLine, readingSchema } from '../../server/visit-log/schema.ts';

/** What may stand in a field: fit, at the edge of its range, outside it, or no number at all. */
function field(low: number, high: number): fc.Arbitrary<unknown> {
  return fc.oneof(
    fc.constant(undefined),
    fc.double({ min: low, max: high, noNaN: true }),
    fc.constantFrom(low, high, low - 1e-9, high + 1e-9, low - 1, high + 1),
    fc.constantFrom<unknown>(null, '20', true, [], {}, NaN, Infinity, -Infinity),
  );
}

const quantities = Object.fromEntries(
  Object.entries(RANGES).map(([quantity, [low, high]]) => [quantity, field(low, high)]),
);
const almostReading = fc.record({
  type: fc.constantFrom<unknown>('reading', 'reading', 'reading', 'event', undefined),
  t: fc.constantFrom<unknown>(0, 1e9 - 1, 1e9, 1e11 - 1, 1e11, 4_102_444_800_001, -1, NaN, '1'),
  probe: fc.constantFrom<unknown>('p1', '', 'x'.repeat(128), 'x'.repeat(129), '__proto__', 7),
  ...quantities,
});

/** Fit but for one field at most: of those where each may be wrong hardly any is. */
const nearlyFit = fc
  .tuple(
    almostReading,
    fc.constantFrom('type', 't', 'probe', ...Object.keys(RANGES)),
    fc.record(
      Object.fromEntries(
        Object.entries(RANGES).map(([quantity, [min, max]]) => [
          quantity,
          fc.double({ min, max, noNaN: true }),
        ]),
      ),
    ),
  )
  .map(([odd, field, fit]) => {
    const given: Record<string, unknown> = odd;
    return { type: 'reading', t: 1_777_885_200_000, probe: 'p1', ...fit, [field]: given[field] };
  });

describe('a reading that is let through', () => {
  test('is one that the schema lets through, and none of those is missed', () => {
    let fit = 0;
    fc.assert(
      fc.property(fc.oneof(almostReading, nearlyFit), (value) => {
        const byLine = 'line' in checkLine(value);
        expect(byLine).toBe(readingSchema.safeParse(value).success);
        if (byLine) fit++;
      }),
      { numRuns: 3000 },
    );
    expect(fit).toBeGreaterThan(100);
  });

  test.each(Object.entries(RANGES))('%s: all that lies in its range and no more', (name, range) => {
    const [low, high] = range;
    const reading = (value: unknown) => ({ type: 'reading', t: 0, probe: 'p', [name]: value });
    for (const value of [low, high, (low + high) / 2]) {
      const given = reading(value);
      // The very object: one that had gone through the schema would be a copy.
      expect(checkLine(given)).toStrictEqual({ line: given });
      expect(Object.values(checkLine(given))[0]).toBe(given);
    }
    for (const value of [low - 1e-9, high + 1e-9, NaN, String(low), null]) {
      expect(checkLine(reading(value))).toHaveProperty('refusal');
    }
  });
});
