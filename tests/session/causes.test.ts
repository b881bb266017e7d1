/**
 * Simulated visits with one fault each, through a session: the fault is among the first two that are named,
 * and nothing is named of healthy units. A few of each, one in the short form; `npm run bench -- verdict` plays
 * hundreds.
 */
import { expect, it } from 'vitest';
import { CAPACITY_FAULTS } from '../../simulator/faults.ts';
import { tally } from '../bench/fault-tally.ts';
import { LONG, runs } from '../long.ts';

const OPTIONS = { looksAtFilter: true, metered: true };

it('the fault is among the first two causes', () => {
  const all = CAPACITY_FAULTS.map((kind) => tally(kind, LONG ? 3 : 1, OPTIONS, 500));
  const visits = all.reduce((sum, each) => sum + each.visits, 0);
  // Hundreds give some 95 %; of 24 as few as 21, and of 8 as few as 7, are no sign of less.
  expect(all.reduce((sum, { firstTwo }) => sum + firstTwo, 0)).toBeGreaterThanOrEqual(
    (7 / 8) * visits,
  );
  if (LONG) for (const { firstTwo } of all) expect(firstTwo).toBeGreaterThan(0);
});

it('nothing is named of healthy units', () => {
  const visits = runs(16);
  expect(tally(null, visits, OPTIONS, 500).silent).toBeGreaterThanOrEqual(visits - 1);
});
