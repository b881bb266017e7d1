/** While the air changes faster than the probes follow, parts and total are doubted. */
import { expect, test } from 'vitest';
import { T0, TestVisit } from './visit.ts';

/** The seconds in which it is doubted. */
function doubted({ snapshots }: TestVisit): number[] {
  return snapshots.flatMap(({ t, units }) => {
    const stands = units['u1']?.doubts.some(({ code }) => code === 'transient') === true;
    return stands ? [(t - T0) / 1000] : [];
  });
}

test('a pull-down: while it moves, and until the lag of the probes is over', () => {
  const visit = new TestVisit();
  // From 24 to 12 °C, from 120 s on, with a time constant of 60 s.
  visit.run(0, 900, (s) => 12 + 12 * Math.exp(-Math.max(0, s - 120) / 60));
  const seconds = doubted(visit);
  const [first = NaN, last = NaN] = [seconds[0], seconds.at(-1)];
  expect(first).toBeGreaterThan(120);
  expect(first).toBeLessThan(120 + 20);
  expect(seconds).toHaveLength(last - first + 1);
  expect(last).toBeGreaterThan(120 + 120);
  expect(last).toBeLessThan(120 + 420);
  // Once it is called steady it is not doubted any more.
  const steadyT = visit.snapshots.find(({ units }) => units['u1']?.settling.state === 'steady')?.t;
  expect(T0 + last * 1000).toBeLessThan(steadyT ?? NaN);
});

test('a unit that drifts with its house is not doubted, nor is one while it is steady', () => {
  const visit = new TestVisit();
  visit.run(0, 1800, (s) => 12 + s / 3600);
  expect(visit.unit().settling.state).toBe('steady');
  expect(doubted(visit)).toEqual([]);
});

test('nor is one without a figure', () => {
  const visit = new TestVisit();
  for (let s = 0; s < 300; s++) visit.reading('r', s * 1000, { temperatureC: 26.7 - s / 30 });
  expect(doubted(visit)).toEqual([]);
});
