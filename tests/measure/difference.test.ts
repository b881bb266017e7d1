/** What two means share, and what not. */
import { describe, expect, test } from 'vitest';
import type { BudgetItem, BudgetKind } from '../../server/measure/budget.ts';
import {
  contributions,
  differenceUncertainty,
  MeanContributions,
} from '../../server/measure/difference.ts';
import { ErrorList } from '../../server/measure/error-list.ts';

function item(kind: BudgetKind, totalW: number, of: string | null = null): BudgetItem {
  return { kind, of, totalW, sensibleW: 0.7 * totalW, latentW: 0.3 * totalW, shape: 0 };
}
function mean(flow: string, ...moments: BudgetItem[][]): MeanContributions {
  const all = new MeanContributions();
  for (const budget of moments) all.add(contributions(ErrorList.from(budget), flow));
  return all;
}
function total(before: MeanContributions, after: MeanContributions): number {
  return differenceUncertainty(before, after, 'totalW')?.uW ?? NaN;
}

describe('the difference of two means', () => {
  test('an error of the same probe counts by what it does more in one than in the other', () => {
    const before = mean('f', [item('temperature', 60, 'r'), item('temperature', -50, 's')]);
    const after = mean('f', [item('temperature', 40, 'r'), item('temperature', -50, 's')]);
    expect(total(before, after)).toBeCloseTo(20, 9);
    expect(differenceUncertainty(before, after, 'latentW')?.uW).toBeCloseTo(6, 9);
    expect(differenceUncertainty(before, after, 'latentW')?.u95W).toBeCloseTo(1.96 * 6, 9);
  });

  test('errors of different probes, scatter and another airflow’s add up', () => {
    expect(
      total(mean('f', [item('humidity', 30, 'r')]), mean('f', [item('humidity', 40, 'x')])),
    ).toBeCloseTo(50, 9);
    const scatter = [item('scatter', 30)];
    expect(total(mean('f', scatter), mean('f', scatter))).toBeCloseTo(Math.hypot(30, 30), 9);
    // A probe stays at its spot: what that is off by is in both.
    const spot = [item('spread', 30, 'supply')];
    expect(total(mean('f', spot), mean('f', spot))).toBeCloseTo(0, 9);
    const flow = [item('airflow', 30)];
    expect(total(mean('f', flow), mean('f', flow))).toBeCloseTo(0, 9);
    expect(total(mean('f', flow), mean('g', flow))).toBeCloseTo(Math.hypot(30, 30), 9);
  });

  test('what each check leaves in common is told apart', () => {
    const common = (a: number, b: number): BudgetItem[] => [
      ...[item('common-temperature', a, 'first'), item('common-humidity', 0, 'first')],
      ...[item('common-temperature', b, 'second'), item('common-humidity', 0, 'second')],
    ];
    expect(total(mean('f', common(10, 20)), mean('f', common(13, 24)))).toBeCloseTo(5, 9);
  });

  test('an error that was there half of the time counts half, wherever it stands in the budget', () => {
    const moved = mean(
      'f',
      [item('pressure', 10), item('temperature', 40, 'r')],
      [item('pressure', 10)],
    );
    const other = mean('f', [item('temperature', 20, 'r'), item('pressure', 10)]);
    expect(total(moved, other)).toBeCloseTo(0, 9);
  });

  test('stretches of time put together are as one', () => {
    const whole = mean('f', [item('pressure', 10)], [item('pressure', 20)], [item('pressure', 60)]);
    const parts = mean('f', [item('pressure', 10)], [item('pressure', 20)]);
    parts.addAll(mean('f', [item('pressure', 60)]));
    expect(parts.means).toEqual(whole.means);
    expect(parts.means[0]?.totalW).toBeCloseTo(30, 9);
  });

  test('without the interval of one of them there is none of the difference', () => {
    const known = mean('f', [item('pressure', 10)]);
    expect(differenceUncertainty(known, mean('f'), 'totalW')).toBeNull();
    const gap = mean('f', [item('pressure', 10)], []);
    expect(differenceUncertainty(gap, known, 'totalW')).toBeNull();
  });
});
