/**
 * The strict test against tolerances of the shape of ANSI/ASHRAE 37-2009, Table 2b: over 30 minutes
 * dry bulbs range by no more than 1.1 K, wet bulbs by 0.56 K; deviations of means 0.28 K and 0.17 K.
 */
import { describe, expect, test } from 'vitest';
import { Strict, type StrictAir } from '../../server/signal/strict.ts';
import { randomStream } from '../../simulator/random.ts';

const AIR: StrictAir = { returnC: 26.7, returnWetC: 19.4, supplyC: 12, supplyWetC: 11.4 };
const HALF_HOUR = 1800;

/** Air with these inputs changed by so much in each second. */
function run(
  seconds: number,
  change: (s: number) => Partial<Record<keyof StrictAir, number>> = () => ({}),
  strict = new Strict(),
): Strict {
  for (let s = 0; s < seconds; s++) {
    const by = change(s);
    strict.second({
      returnC: AIR.returnC + (by.returnC ?? 0),
      returnWetC: AIR.returnWetC + (by.returnWetC ?? 0),
      supplyC: AIR.supplyC + (by.supplyC ?? 0),
      supplyWetC: AIR.supplyWetC + (by.supplyWetC ?? 0),
    });
  }
  return strict;
}

test('holds after half an hour of constant air, not before, and says how long that is', () => {
  expect(run(HALF_HOUR - 1).holds()).toBe(false);
  expect(run(HALF_HOUR).holds()).toBe(true);
  expect(new Strict().leftS).toBe(HALF_HOUR);
  expect(run(1234).leftS).toBe(HALF_HOUR - 1234);
  expect(run(HALF_HOUR - 1).leftS).toBe(1);
  expect(run(HALF_HOUR).leftS).toBeNull();
  expect(run(5 * HALF_HOUR).leftS).toBeNull();
});

const DRY = ['returnC', 'supplyC'] as const;
const WET = ['returnWetC', 'supplyWetC'] as const;
const TOLERANCES = [
  ...DRY.map((input) => ({ input, rangeK: 1.1, meanK: 0.28 })),
  ...WET.map((input) => ({ input, rangeK: 0.56, meanK: 0.17 })),
];

describe.each(TOLERANCES)('$input', ({ input, rangeK, meanK }) => {
  test('may range by its operating tolerance, no more', () => {
    // To and fro within minutes: the means of both halves are the same.
    const swing = (k: number): Strict =>
      run(HALF_HOUR, (s) => ({
        [input]: (k / 2) * Math.sign(Math.sin((Math.PI * (s + 0.5)) / 60)),
      }));
    expect(swing(0.98 * rangeK).holds()).toBe(true);
    expect(swing(1.02 * rangeK).holds()).toBe(false);
  });

  test('may drift until the means of both halves differ by its condition tolerance', () => {
    // A straight drift makes the halves differ by half of it.
    const drift = (k: number): Strict =>
      run(HALF_HOUR, (s) => ({ [input]: (2 * k * s) / HALF_HOUR }));
    expect(drift(0.97 * meanK).holds()).toBe(true);
    expect(drift(1.03 * meanK).holds()).toBe(false);
    expect(drift(-1.03 * meanK).holds()).toBe(false);
  });

  test('once out, it is out until that is half an hour ago', () => {
    const strict = run(HALF_HOUR);
    run(20, () => ({ [input]: 3 }), strict);
    for (let s = 0; s < HALF_HOUR; s += 10) {
      if (s > 0) expect(strict.holds(), `${s} s after`).toBe(false);
      run(10, () => ({}), strict);
    }
    expect(strict.holds()).toBe(true);
  });

  test('scatter of its probe is no range of the air', () => {
    const random = randomStream(1, input);
    const noisy = run(HALF_HOUR, () => ({ [input]: 0.15 * rangeK * random.normal() }));
    expect(noisy.holds()).toBe(true);
  });
});

describe('what is not known', () => {
  const unknown = (at: (s: number) => boolean) => (s: number) =>
    at(s) ? { supplyC: NaN, returnWetC: NaN } : {};

  test.each([
    ['a second', (s: number) => s === 700],
    ['every second second', (s: number) => s % 2 === 0],
    ['a dropout of a minute', (s: number) => s >= 900 && s < 960],
    ['three of a quarter minute', (s: number) => s % 600 < 15],
    ['a tenth in all', (s: number) => s >= 300 && s < 480],
  ])('%s: the half hour counts all the same', (_, at) => {
    expect(run(HALF_HOUR, unknown(at)).holds()).toBe(true);
  });

  test.each([
    ['more than a tenth', (s: number) => s >= 300 && s < 500],
    ['all of it', () => true],
  ])('%s: it does not', (_, at) => {
    expect(run(HALF_HOUR, (s) => (at(s) ? { supplyC: NaN } : {})).holds()).toBe(false);
  });

  test('known seconds are looked at no less for it', () => {
    const out = (s: number) =>
      s < 60 ? { supplyC: NaN } : { supplyC: s > 1000 && s < 1015 ? 2 : 0 };
    expect(run(HALF_HOUR, out).holds()).toBe(false);
  });

  test('wet bulbs that are never known, as in heating, are not asked for; dry ones are', () => {
    const never = { returnWetC: NaN, supplyWetC: NaN };
    expect(run(HALF_HOUR, () => never).holds()).toBe(true);
    expect(run(HALF_HOUR, () => ({ ...never, supplyC: NaN })).holds()).toBe(false);
    // One that comes and goes is: of what it was meanwhile nothing is known.
    expect(run(HALF_HOUR, (s) => (s < 900 ? never : {})).holds()).toBe(false);
  });
});

test('cleared, it begins anew', () => {
  const strict = run(HALF_HOUR + 5);
  strict.clear();
  expect([strict.holds(), strict.leftS]).toEqual([false, HALF_HOUR]);
  run(HALF_HOUR - 1, () => ({ returnC: 5 }), strict);
  expect(strict.holds()).toBe(false);
  run(1, () => ({ returnC: 5 }), strict);
  expect(strict.holds()).toBe(true);
});
