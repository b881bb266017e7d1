/**
 * Against two sources, both from memory. Thirteen trials of a vaccine (Colditz et al., JAMA 271, 1994,
 * 698–702; their counts are given with many programs for such analyses): the log relative risks have a spread
 * after Mandel and Paule of τ² = 0.3181, as the program metafor gives it (Viechtbauer, J. Stat. Softw. 36(3),
 * 2010).
 * Copper in flour, 24 determinations with one far out (Analytical Methods Committee, Analyst 114, 1989,
 * 1693–1702): mean and standard deviation after Huber's second proposal at 1.5 are 3.2055 and 0.6737, as
 * Venables and Ripley print them (Modern Applied Statistics with S, 2002; `hubers`).
 */
import { expect, test } from 'vitest';
import {
  betweenRelative,
  betweenUnits,
  EDGE_Z,
  funnelLimits,
  OUTSIDE_Z,
} from '../../server/measure/between-units.ts';
import { randomStream } from '../../simulator/random.ts';

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

test('figures that are not equally sure: the spread is as printed, where none is drawn in', () => {
  const { spread, mean, z } = betweenUnits(figures, 20);
  expect(spread ** 2).toBeCloseTo(0.3181, 4);
  // What defines it: the squares of all z add up to one less than there are.
  expect(z.reduce((sum, each) => sum + each * each, 0)).toBeCloseTo(figures.length - 1, 4);
  const weights = figures.map(({ u }) => 1 / (u * u + spread * spread));
  const sum = weights.reduce((all, weight) => all + weight, 0);
  const weighted = figures.reduce((all, { value }, i) => all + value * (weights[i] ?? 0), 0) / sum;
  expect(mean).toBeCloseTo(weighted, 6);
});

const COPPER = [
  ...[2.2, 2.2, 2.4, 2.4, 2.5, 2.7, 2.8, 2.9, 3.03, 3.03, 3.1, 3.37],
  ...[3.4, 3.4, 3.4, 3.5, 3.6, 3.7, 3.7, 3.7, 3.7, 3.77, 5.28, 28.95],
];

test('figures of which one lies far out: mean and standard deviation are as printed', () => {
  const { mean, spread } = betweenUnits(COPPER.map((value) => ({ value, u: 1e-9 })));
  expect(mean).toBeCloseTo(3.2055, 4);
  expect(spread).toBeCloseTo(0.6737, 4);
});

test.each([
  ['that differ by nothing', 0],
  ['that differ as much as their ±', 0.035],
  ['that differ by more', 0.07],
])('units %s lie beyond the limits as often as these say', (_, spread) => {
  const random = randomStream(17, 'between units');
  let [edge, outside, held, spreads] = [0, 0, 0, 0];
  const [times, units] = [400, 50];
  for (let i = 0; i < times; i++) {
    const many = Array.from({ length: units }, () => {
      const u = 0.02 + 0.03 * random.uniform();
      return { value: 1 + Math.hypot(u, spread) * random.normal(), u };
    });
    const found = betweenUnits(many);
    edge += found.z.filter((z) => Math.abs(z) > EDGE_Z).length;
    outside += found.z.filter((z) => Math.abs(z) > OUTSIDE_Z).length;
    if (Math.abs(found.mean - 1) <= EDGE_Z * found.uMean) held++;
    spreads += found.spread / times;
  }
  expect(edge / times / units).toBeGreaterThan(0.03);
  expect(edge / times / units).toBeLessThan(0.055);
  expect(outside / times / units).toBeLessThan(0.004);
  expect(held / times).toBeGreaterThan(0.92);
  expect(Math.abs(spreads - spread)).toBeLessThan(0.01);
});

test('figures that differ by no more than their uncertainties have no spread', () => {
  const alike = [0.98, 1.0, 1.02, 1.01].map((value) => ({ value, u: 0.05 }));
  const { spread, mean, uMean } = betweenUnits(alike);
  expect(spread).toBe(0);
  expect(mean).toBeCloseTo(1.0025, 10);
  // 0.05 over the root of four; drawing in at 1.5 has 96.42 % of the efficiency (Huber, from memory).
  expect(uMean).toBeCloseTo(0.025 / Math.sqrt(0.9642), 6);
});

test.each([10, 40])('one of %i that lies far out is outside, and moves nothing else', (others) => {
  const many = Array.from({ length: others }, (_, i) => ({
    value: 1 + 0.04 * Math.sin(i * 7),
    u: 0.03,
  }));
  const without = betweenUnits(many);
  for (const value of [0.7, 1.4]) {
    const { z, mean, spread } = betweenUnits([...many, { value, u: 0.03 }]);
    expect(Math.abs(z.at(-1) ?? 0)).toBeGreaterThan(OUTSIDE_Z);
    expect(z.slice(0, -1).every((each) => Math.abs(each) < OUTSIDE_Z)).toBe(true);
    expect(Math.abs(mean - without.mean)).toBeLessThan(0.006);
    expect(spread).toBeLessThan(without.spread + 0.02);
  }
});

test('figures whose errors are in percent: low ones do not pull the mean, and the limits are factors', () => {
  const alike = [0.8, 0.85, 0.9, 0.95, 1, 1 / 0.95, 1 / 0.9, 1 / 0.85, 1 / 0.8].map((value) => ({
    value,
    u: 0.15 * value,
  }));
  expect(betweenRelative(alike).mean).toBeCloseTo(1, 10);
  expect(betweenUnits(alike).mean).toBeLessThan(0.99);

  // Thousands that differ by a fifth, each ± 10 % of what it gives; what differs is both together.
  const random = randomStream(3, 'percent');
  const figures = Array.from({ length: 4000 }, () => {
    const value = 1.2 ** random.normal();
    return { value, u: 0.1 * value };
  });
  const { mean, spread } = betweenRelative(figures);
  expect(mean).toBeCloseTo(1, 2);
  expect(Math.hypot(spread, 0.1)).toBeCloseTo(Math.log(1.2), 2);
  const { low, high } = funnelLimits({ mean: 1, spread: 0 }, 0.1, OUTSIDE_Z);
  expect(low * high).toBeCloseTo(1, 12);
  expect(Math.log(high)).toBeCloseTo(0.309, 3);
});
