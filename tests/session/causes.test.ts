/**
 * Simulated visits with one fault each, through a session: the fault is among the first two that are named,
 * and nothing is named of healthy units. A few of each; `npm run bench -- verdict` plays hundreds.
 */
import { expect, it } from 'vitest';
import { FAULT_KINDS } from '../../simulator/faults.ts';
import { tally } from '../bench/fault-tally.ts';

const OPTIONS = { looksAtFilter: true, metered: true };

it('the fault is among the first two causes', () => {
  const all = FAULT_KINDS.map((kind) => tally(kind, 3, OPTIONS, 500));
  // Hundreds give some 95 %; of 24 as few as 21 are no sign of less.
  expect(all.reduce((sum, { firstTwo }) => sum + firstTwo, 0)).toBeGreaterThanOrEqual(21);
  for (const { firstTwo } of all) expect(firstTwo).toBeGreaterThan(0);
});

it('nothing is named of healthy units', () => {
  expect(tally(null, 16, OPTIONS, 500).silent).toBeGreaterThanOrEqual(15);
});
