/**
 * Thirteen trials of a vaccine (Colditz et al., JAMA 271, 1994, 698–702; counts from memory, as they are
 * given with many programs for such analyses): the log relative risks have a moment estimate of the spread
 * of 0.3088, a mean of −0.7141 and a standard error of 0.1787 (DerSimonian and Laird; from memory of
 * Viechtbauer, J. Stat. Softw. 36(3), 2010, who prints them).
 */
import { expect, test } from 'vitest';
import {
  betweenRelative,
  betweenUnits,
  funnelLimits,
  momentEstimate,
  OUTSIDE_Z,
} from '../../server/measure/between-units.ts';

/** Ill and well of those vaccinated, ill and well of the others. */
const TRIALS = [
  [4, 119, 11, 128],
  [6, 300, 29, 274],
  [3, 228, 11, 209],
  [62, 13536, 248, 12619],
  [33, 5036, 47, 5761],
  [180, 1361, 372, 1079],
  [8, 2537, 10, 619],
  [505, 87886, 499, 87892],
  [29, 7470, 45, 7232],
  [17, 1699, 65, 1600],
  [186, 50448, 141, 27197],
  [5, 2493, 3, 2338],
  [27, 16886, 29, 17825],
] as const;
const figures = TRIALS.map(([a, b, c, d]) => ({
  value: Math.log(a / (a + b)) - Math.log(c / (c + d)),
  u: Math.sqrt(1 / a - 1 / (a + b) + 1 / c - 1 / (c + d)),
}));

test('spread, mean and its standard error come out as printed', () => {
  const { mean, uMean, variance } = momentEstimate(figures);
  expect(variance).toBeCloseTo(0.3088, 4);
  expect(mean).toBeCloseTo(-0.7141, 4);
  expect(uMean).toBeCloseTo(0.1787, 4);
});

test('figures that differ by no more than their uncertainties have no spread', () => {
  const alike = [0.98, 1.0, 1.02, 1.01].map((value) => ({ value, u: 0.05 }));
  const { spread, mean, uMean } = betweenUnits(alike);
  expect(spread).toBe(0);
  expect(mean).toBeCloseTo(1.0025, 10);
  expect(uMean).toBeCloseTo(0.025, 10); // 0.05 over the root of four
});

test('one that lies far out is outside, and does not widen the funnel so that it is in', () => {
  const many = Array.from({ length: 40 }, (_, i) => ({
    value: 1 + 0.04 * Math.sin(i * 7),
    u: 0.03,
  }));
  const { z, spread } = betweenUnits([...many, { value: 0.7, u: 0.03 }]);
  expect(z.at(-1)).toBeLessThan(-OUTSIDE_Z);
  expect(z.slice(0, -1).every((each) => Math.abs(each) < OUTSIDE_Z)).toBe(true);
  const plain = betweenUnits(many);
  expect(spread).toBeLessThan(plain.spread + 0.02);
});

test('figures whose errors are in percent: the mean is not pulled down, and the limits are factors', () => {
  // Half of a hundred give twenty percent more, half of them as much less, each ± 10 % of what it gives.
  const figures = Array.from({ length: 100 }, (_, i) => {
    const value = i % 2 === 0 ? 1.2 : 1 / 1.2;
    return { value, u: 0.1 * value };
  });
  const { mean, spread, z } = betweenRelative(figures);
  expect(mean).toBeCloseTo(1, 10);
  expect(betweenUnits(figures).mean).toBeLessThan(0.996);
  expect(Math.hypot(spread, 0.1)).toBeCloseTo(Math.log(1.2), 2);
  expect(z[0]).toBeCloseTo(-(z[1] ?? NaN), 10);
  const { low, high } = funnelLimits({ mean: 1, spread: 0 }, 0.1, OUTSIDE_Z);
  expect(low * high).toBeCloseTo(1, 12);
  expect(Math.log(high)).toBeCloseTo(0.309, 3);
});
