/**
 * The change since an earlier visit: which errors cancel, by the law of propagation with correlated inputs
 * (JCGM 100:2008, 5.2 and F.1.2.3): of an input that both figures share the difference of its two
 * contributions counts, of others both do.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { changeSince, type Figure } from '../../server/measure/expectation/change.ts';
import { coolingFactor } from '../../server/measure/expectation/curves.ts';
import type { TotalError } from '../../server/measure/expectation/judge.ts';

const error = (kind: TotalError['kind'], of: string | null, totalW: number): TotalError => ({
  ...{ kind, of, totalW },
});
const figure = (totalW: number, errors: TotalError[], more: Partial<Figure> = {}): Figure => ({
  ...{ totalW, errors, scatterU95W: 0, mode: 'cooling', fan: 'high', wetness: 1 },
  conditions: { outdoorC: 35, indoorC: 26.7, indoorWetBulbC: 19.44 },
  ...{ pressurePa: 101_325, ...more },
});

describe('the change since an earlier visit', () => {
  it('the same probe and the same airflow cancel; another probe of the same kind does not', () => {
    const errors = (probe: string, flow: string): TotalError[] => [
      error('temperature', probe, 100),
      error('airflow', flow, 150),
    ];
    const before = figure(3500, errors('p1', 'a'));
    const same = changeSince(before, figure(3000, errors('p1', 'a')), null);
    expect(same.part).toBeCloseTo(-500 / 3500, 9);
    expect(same.u95).toBeCloseTo(0, 9);
    expect(same).toMatchObject({ isLikelyReal: true, isSameAirflow: true, unlike: [] });

    const other = changeSince(before, figure(3100, errors('p2', 'b')), null);
    const u = Math.hypot(100, 100, 150, 150);
    expect(other.u95).toBeCloseTo((1.96 * u) / 3500, 9);
    expect(other).toMatchObject({ isLikelyReal: false, isSameAirflow: false });
  });

  it('a check in between makes the same probe’s error another one', () => {
    const before = figure(3500, [error('temperature', 'p1', 100)]);
    const after = figure(3500, [
      error('temperature', 'p1', 30),
      error('common-temperature', 'check 7', 5),
    ]);
    const { u95 } = changeSince(before, after, null);
    expect(u95).toBeCloseTo((1.96 * Math.hypot(100, 30, 5)) / 3500, 9);
  });

  it('how uneven the air is, and scatter, are other errors each time', () => {
    const errors = [error('spread', 'supply', 80), error('scatter', null, 20)];
    const { u95 } = changeSince(figure(3500, errors), figure(3500, errors), null);
    expect(u95).toBeCloseTo((1.96 * Math.hypot(80, 80, 20, 20)) / 3500, 9);
  });

  it('the earlier figure is carried to the later conditions, by the table or the open curve', () => {
    const warmer = { outdoorC: 27.78, indoorC: 26.7, indoorWetBulbC: 19.44 };
    // 1.0727 (REFERENCES 7.4): a unit that gives 7.27 % more there has not changed.
    const after = figure(3500 * (coolingFactor(27.78, 19.44) ?? NaN), [], { conditions: warmer });
    const byCurve = changeSince(figure(3500, []), after, null);
    expect(byCurve.factor).toBeCloseTo(1.0727, 3);
    expect(byCurve.part).toBeCloseTo(0, 4);
    expect(byCurve.carriedBy).toBe('curve');
    expect(byCurve.u95).toBeGreaterThan(0.02);
    const points = [
      { speed: 'rated' as const, outdoorC: 35, indoorC: 26.7, indoorWetBulbC: 19.44, totalW: 3000 },
      {
        speed: 'rated' as const,
        outdoorC: 27.78,
        indoorC: 26.7,
        indoorWetBulbC: 19.44,
        totalW: 3300,
      },
    ];
    const byTable = changeSince(figure(3500, []), after, { points });
    expect(byTable).toMatchObject({ carriedBy: 'table' });
    expect(byTable.factor).toBeCloseTo(1.1, 9);
  });

  it('says what does not compare', () => {
    const nowhere = { outdoorC: null, indoorC: 26.7, indoorWetBulbC: 19.4 };
    const after = figure(2000, [], { fan: 'low', wetness: 0, conditions: nowhere });
    expect(changeSince(figure(3500, []), after, null)).toMatchObject({
      carriedBy: 'nothing',
      unlike: ['fan', 'wetness', 'conditions'],
    });
  });

  it('whatever the errors: never surer than with all of them shared, never less than with none', () => {
    const size = fc.double({ min: 1, max: 300, noNaN: true });
    fc.assert(
      fc.property(size, size, size, size, (a, b, c, d) => {
        const before = figure(3500, [error('temperature', 'p', a), error('airflow', 'x', b)]);
        const after = (probe: string, flow: string): Figure =>
          figure(3500, [error('temperature', probe, c), error('airflow', flow, d)]);
        const shared = changeSince(before, after('p', 'x'), null).u95;
        const half = changeSince(before, after('p', 'y'), null).u95;
        const apart = changeSince(before, after('q', 'y'), null).u95;
        expect(shared).toBeLessThanOrEqual(half + 1e-12);
        expect(half).toBeLessThanOrEqual(apart + 1e-12);
      }),
    );
  });
});
