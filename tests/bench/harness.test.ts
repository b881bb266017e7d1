import { describe, expect, it } from 'vitest';
import { measure, spreadOf, table } from './harness.ts';

/** A contestant that gives these figures, one a run. */
function giving(name: string, figures: number[]): { name: string; run: () => number } {
  let next = 0;
  return { name, run: () => figures[next++] ?? Number.NaN };
}

describe('the harness of the benchmarks', () => {
  it('takes the middle one, or between the middle two', () => {
    expect(spreadOf([3, 1, 2])).toEqual({ median: 2, low: 1, high: 3 });
    expect(spreadOf([4, 1, 3, 2])).toEqual({ median: 2.5, low: 1, high: 4 });
  });

  it('leaves the warm-up out, and takes ratios within a round', async () => {
    const benchmark = {
      title: 'Both slow down alike',
      unit: 'runs/s',
      rounds: 3,
      contestants: [giving('ours', [999, 100, 20, 60]), giving('theirs', [1, 10, 2, 5])],
      ratios: [{ of: 'ours', to: 'theirs', aim: '≥ 10' }],
    };
    const result = await measure(benchmark);
    expect(result.figures.map(({ spread }) => spread.median)).toEqual([60, 5]);
    expect(result.ratios[0]?.spread).toEqual({ median: 10, low: 10, high: 12 });
    expect(table(benchmark, result)).toContain('aim ≥ 10');
  });

  it('measures in turns, another first in each round', async () => {
    const order: string[] = [];
    const contestants = ['a', 'b'].map((name) => ({ name, run: () => order.push(name) }));
    await measure({ title: 'Order', unit: 'ms', contestants }, 3);
    expect(order.join('')).toBe('ab' + 'ab' + 'ba' + 'ab');
  });
});
