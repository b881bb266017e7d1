/**
 * The interval of a recorded capacity holds the true one as often as it says: 300 seeded visits a
 * condition, with and without a side-by-side check. `npm run bench -- coverage` prints the table.
 */
import { describe, expect, test } from 'vitest';
import { CONDITIONS, coverage } from '../bench/coverage-visits.ts';

const VISITS = 300;

describe(`the 95 % interval over ${VISITS} visits`, () => {
  test.each(CONDITIONS)('$name: holds the truth in 93 to 99 %', (condition) => {
    const before = coverage([condition], { checked: false }, VISITS);
    const after = coverage([condition], { checked: true }, VISITS);
    for (const { share } of [before, after]) {
      expect(share).toBeGreaterThanOrEqual(0.93);
      expect(share).toBeLessThanOrEqual(0.99);
    }
    if (condition.name === 'dehumidifying with reheat') return; // two large parts that nearly cancel
    // In heating the airflow is most of the doubt, and no check of probes narrows that: measured 0.85.
    const aim = condition.mode === 'cooling' ? 0.65 : 0.9;
    expect(after.width / before.width).toBeLessThanOrEqual(aim);
  });
});

describe('after a zero in place, without a check', () => {
  const SOME = 120;
  const conditions = CONDITIONS.filter(({ name }) => name === 'cooling' || name === 'heating');

  test.each(conditions)('$name: narrower, and holds the truth as often', (condition) => {
    const before = coverage([condition], { checked: false }, SOME);
    const told = coverage([condition], { checked: false, zero: 'told' }, SOME);
    // The fan takes 30 % more or less than was told, and the airflow is wrong the same way.
    const off = coverage([condition], { checked: false, zero: 'off' }, SOME);
    for (const { share, meanWidth } of [told, off]) {
      expect(share).toBeGreaterThanOrEqual(0.93);
      expect(meanWidth).toBeLessThan(0.9 * before.meanWidth);
    }
  });
});
