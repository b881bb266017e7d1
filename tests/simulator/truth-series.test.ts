import { expect, it } from 'vitest';
import { scenario } from '../../simulator/scenarios.ts';
import { System } from '../../simulator/system.ts';
import { TruthSeries } from '../../simulator/truth-series.ts';

const { truth } = (() => {
  const system = new System(scenario('plain'), 1, 0);
  return { truth: system.truth('u1') };
})();

it('tells the mean of what it has kept between two times, and of nothing else', () => {
  const series = new TruthSeries(1000);
  expect(series.mean(0, 1e9)).toBeNull();
  for (let s = 1; s <= 10; s++) series.keep(1000 + 1000 * s, { ...truth, totalW: s, flowM3s: 0.1 });
  expect(series.mean(1000, 11_000)).toMatchObject({ totalW: 5.5, seconds: 10 });
  expect(series.mean(3000, 5000)).toMatchObject({ totalW: 3.5, seconds: 2 });
  expect(series.mean(3000, 3000)).toBeNull();
  // What was left out is not counted, and a second is not kept twice.
  series.keep(21_000, { ...truth, totalW: 20 });
  series.keep(21_000, { ...truth, totalW: 99 });
  expect(series.mean(11_000, 21_000)).toMatchObject({ totalW: 20, seconds: 1 });
  expect(series.mean(1000, 21_000)?.flowM3s).toBeCloseTo((10 * 0.1 + truth.flowM3s) / 11, 6);
});

it('forgets what is older than five hours', () => {
  const series = new TruthSeries(0);
  for (let s = 1; s <= 6 * 3600; s++) series.keep(1000 * s, { ...truth, totalW: s });
  expect(series.mean(0, 3_600_000)).toBeNull();
  expect(series.mean(3_600_000, 3_610_000)).toMatchObject({ totalW: 3605.5, seconds: 10 });
});
