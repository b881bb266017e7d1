import { expect, test } from 'vitest';
import { freshnessOf } from '../../client/live/freshness.ts';

const HEARD = { steady: 5000, wall: 1_777_885_200_000 };
const after = (steadyMs: number, wallMs = steadyMs) => ({
  steady: HEARD.steady + steadyMs,
  wall: HEARD.wall + wallMs,
});

test.each([
  [0, 'fresh'],
  [2999, 'fresh'],
  [3000, 'late'],
  [9999, 'late'],
  [10_000, 'gone'],
])('%i ms after the last news: %s', (ms, freshness) => {
  expect(freshnessOf(HEARD, after(ms))).toBe(freshness);
});

test('a computer that has slept: its steady clock stood still, its wall clock did not', () => {
  expect(freshnessOf(HEARD, after(400, 3_600_000))).toBe('gone');
});

test('a clock that was set back does not keep an old figure alive', () => {
  expect(freshnessOf(HEARD, after(10_500, -3_600_000))).toBe('gone');
});

test('before anything has come nothing is late', () => {
  expect(freshnessOf(null, after(1e9))).toBe('fresh');
});
