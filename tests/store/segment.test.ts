/** Sealed readings give back what was put in, to the digit. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Reading } from '../../adapters/contract.ts';
import {
  decodeSegment,
  encodeSegment,
  readingsIn,
  readingsOf,
} from '../../server/store/segment.ts';

const T0 = 1_777_885_200_000;

/** What probes send: decimals of some places, doubles with all their digits, whole numbers, odd times. */
const figure = (low: number, high: number): fc.Arbitrary<number> =>
  fc.oneof(
    fc.double({ min: low, max: high, noNaN: true }),
    fc
      .tuple(fc.integer({ min: low * 1000, max: high * 1000 }), fc.constantFrom(1, 10, 100, 1000))
      .map(([n, scale]) => Math.round(n / scale) / (1000 / scale)),
  );
const reading: fc.Arbitrary<Reading> = fc
  .record({
    t: fc.oneof(
      fc.integer({ min: 0, max: 4e12 }),
      figure(0, 4e9),
      fc.integer({ min: T0, max: T0 + 9e5 }),
    ),
    probe: fc.oneof(fc.constantFrom('p1', 'p2', 'ble:00aa01010001'), fc.string({ minLength: 1 })),
    temperatureC: fc.option(figure(-60, 95), { nil: undefined }),
    humidityPct: fc.option(figure(0, 120), { nil: undefined }),
    pressurePa: fc.option(figure(50_000, 120_000), { nil: undefined }),
    powerW: fc.option(figure(-100_000, 100_000), { nil: undefined }),
  })
  .map(({ t, probe, ...values }) => {
    const known = Object.entries(values).filter(([, value]) => value !== undefined);
    return { type: 'reading' as const, t, probe, ...Object.fromEntries(known) };
  });

describe('a block of readings', () => {
  test('gives back every reading in its order, every figure to the digit', () => {
    fc.assert(
      fc.property(fc.array(reading, { maxLength: 200 }), (readings) => {
        const again = [...readingsOf(decodeSegment(encodeSegment(readings)))];
        // As text: that is how they leave the program, and there is no other nought there.
        expect(again.map((r) => JSON.stringify(r))).toEqual(readings.map((r) => JSON.stringify(r)));
        expect(readingsIn(encodeSegment(readings))).toBe(readings.length);
      }),
    );
  });

  test('holds more than 256 probes', () => {
    const many = Array.from({ length: 700 }, (_, i): Reading => ({
      ...{ type: 'reading', t: T0 + i, probe: `p${i % 300}`, temperatureC: i / 10 },
    }));
    expect([...readingsOf(decodeSegment(encodeSegment(many)))]).toEqual(many);
    expect(readingsIn(encodeSegment(many))).toBe(many.length);
  });

  test('of ordinary probes takes less than 12 bytes a reading', () => {
    const many = Array.from({ length: 8192 }, (_, i): Reading => ({
      ...{ type: 'reading', t: T0 + Math.round(i * 62.5), probe: `p${i % 16}` },
      ...{
        temperatureC: Math.round(2500 + 100 * Math.sin(i)) / 100,
        humidityPct: 40 + (i % 200) / 10,
      },
    }));
    expect(encodeSegment(many).length / many.length).toBeLessThan(12);
  });

  test('that is damaged is an error with a sentence, wherever it is cut', () => {
    const whole = encodeSegment([
      { type: 'reading', t: T0, probe: 'p1', temperatureC: 21.5 },
      { type: 'reading', t: T0 + 1, probe: 'p2', humidityPct: 1 / 3 },
    ]);
    for (let length = 0; length < whole.length; length++) {
      for (const look of [decodeSegment, readingsIn]) {
        expect(() => look(whole.slice(0, length))).toThrow(/^a block of readings is/);
      }
    }
    const torn = Uint8Array.from(whole);
    torn.fill(0x7b, 6, 12);
    for (const look of [decodeSegment, readingsIn]) expect(() => look(torn)).toThrow(/damaged/);
  });

  test('in which any byte was changed and that is still found whole can still be read whole', () => {
    const whole = encodeSegment([
      { type: 'reading', t: T0, probe: 'p1', temperatureC: 21.5 },
      { type: 'reading', t: T0 + 1, probe: 'p2', humidityPct: 1 / 3 },
      { type: 'reading', t: T0 + 2, probe: 'p1', temperatureC: 21.6 },
    ]);
    let found = 0;
    for (let at = 0; at < whole.length; at++) {
      for (const byte of [0, 1, 2, 0x2e, 0x30, 0x39, 0x7b, 255]) {
        const changed = Uint8Array.from(whole);
        changed[at] = byte;
        const readings = orNull(() => readingsIn(changed));
        if (readings === null) continue;
        found++;
        expect([...readingsOf(decodeSegment(changed))], `${byte} at ${at}`).toHaveLength(readings);
      }
    }
    expect(found).toBeGreaterThan(100);
  });
});

function orNull<T>(look: () => T): T | null {
  try {
    return look();
  } catch {
    return null;
  }
}
