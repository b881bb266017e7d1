/** Probes of one place that tell of different air, and a probe at the outlet that tells no velocity. */
import { describe, expect, test } from 'vitest';
import type { Line } from '../../../adapters/contract.ts';
import { scenario } from '../../../simulator/scenarios.ts';
import { setUp, TestVisit } from '../visit.ts';
import { play, type Second, spansOf } from './play.ts';

type Air = [temperatureC: number, humidityPct: number];

/** Cooling from 26.7 °C, its supply probes as told for each second; the first is `s`, then `s2`, `s3`. */
function supplies(untilS: number, of: (s: number) => readonly Air[]): TestVisit {
  const limits = { temperatureC: 0.5, humidityPct: 2.5 };
  const more = ['s2', 's3'].slice(0, of(0).length - 1);
  const visit = new TestVisit([
    ...setUp(),
    ...more.map((id): Line => ({ type: 'probe', id, unit: 'u1', place: 'supply', limits })),
  ]);
  for (let s = 0; s < untilS; s++) {
    visit.reading('r', 1000 * s, { temperatureC: 26.7, humidityPct: 51 });
    of(s).forEach(([temperatureC, humidityPct], i) => {
      visit.reading(i === 0 ? 's' : `s${i + 1}`, 1000 * s + 300, { temperatureC, humidityPct });
    });
  }
  return visit;
}
const blamed = (visit: TestVisit): (string | undefined)[] =>
  visit
    .unit()
    .doubts.filter(({ code }) => code === 'probes-differ')
    .map(({ probe }) => probe);
const ever = (visit: TestVisit, code: string): boolean =>
  visit.snapshots.some(({ units }) => units['u1']?.doubts.some((d) => d.code === code));

describe('33 against 13.5 °C in the supply', () => {
  const seconds: Second[] = [];
  play(scenario('astray'), 600, { each: (second) => seconds.push(second) });
  const spans = spansOf(seconds);

  test('is said within 105 s and for good, of both probes', () => {
    expect(spans['probes-differ']?.[0]?.[0]).toBeLessThanOrEqual(105);
    expect(spans['probes-differ']).toHaveLength(1);
    const named = seconds.at(-1)?.unit.doubts.filter(({ code }) => code === 'probes-differ');
    expect(named?.map(({ probe }) => probe)).toEqual(['p2', 'p4']);
  });

  test('and nobody is sent to the unit', () => {
    const codes = Object.keys(spans);
    for (const code of ['nothing-delivered', 'supply-warmer']) expect(codes).not.toContain(code);
  });

  test('the effect says what it would be with the right one alone', () => {
    const { unit, truth } = seconds.at(-1) ?? {};
    const effect = unit?.doubts.find(({ code }) => code === 'probes-differ')?.effect ?? '';
    const saidW = 1000 * Number(/with Left alone it would be about (\S+) kW/.exec(effect)?.[1]);
    // The density of the flow's plane is that of the mean: some 4 % off, beside the probes' own errors.
    expect(Math.abs(saidW / (truth?.totalW ?? NaN) - 1)).toBeLessThan(0.15);
  });
});

test('of three the odd one is named', () => {
  expect(
    blamed(
      supplies(120, () => [
        [13, 92],
        [13.8, 90],
        [26, 50],
      ]),
    ),
  ).toEqual(['s3']);
});

test('the same temperature, but moisture that cannot be of one air', () => {
  // At 14 °C saturated air holds 10.0 g/kg (Handbook, ch. 1, Table 2): 92 and 45 % are 4.7 g/kg apart.
  expect(
    blamed(
      supplies(120, () => [
        [14, 92],
        [14, 45],
      ]),
    ),
  ).toHaveLength(2);
});

describe('not said', () => {
  test('of an uneven outlet: 4 K from end to end, drier where it is warmer', () => {
    expect(
      ever(
        supplies(300, () => [
          [11, 95],
          [13, 92],
          [15, 86],
        ]),
        'probes-differ',
      ),
    ).toBe(false);
  });

  test('of a slow probe, which follows with 3 min, after a start', () => {
    const heating = new TestVisit([
      ...setUp({ mode: 'heating' }),
      { type: 'probe', id: 's2', unit: 'u1', place: 'supply', limits: { temperatureC: 0.5 } },
    ]);
    for (let s = 0; s < 900; s++) {
      heating.reading('r', 1000 * s, { temperatureC: 20, humidityPct: 40 });
      heating.reading('s', 1000 * s + 300, { temperatureC: 45 - 25 * Math.exp(-s / 20) });
      heating.reading('s2', 1000 * s + 300, { temperatureC: 45 - 25 * Math.exp(-s / 180) });
    }
    expect(ever(heating, 'probes-differ')).toBe(false);
  });

  test('of two that came together again', () => {
    const visit = supplies(240, (s) => [[13, 90], s < 140 ? [30, 35] : [13.2, 90]]);
    expect(ever(visit, 'probes-differ')).toBe(true);
    expect(blamed(visit)).toEqual([]);
  });
});

describe('a probe that is placed at the outlet', () => {
  const at = (values: object): TestVisit => {
    const visit = new TestVisit([
      ...setUp(),
      { type: 'probe', id: 'o', name: 'Vane', unit: 'u1', place: 'outlet' },
    ]);
    for (let s = 0; s < 30; s++) {
      visit.run(s, s + 1);
      visit.reading('o', 1000 * s + 500, values);
    }
    return visit;
  };

  test('and tells a temperature only: named, within 15 s', () => {
    const doubts = at({ temperatureC: 13 }).snapshots[14]?.units['u1']?.doubts ?? [];
    const doubt = doubts.find(({ code }) => code === 'outlet-no-velocity');
    expect(doubt).toMatchObject({ probe: 'o' });
    expect(doubt?.remedy).toContain('supply');
  });

  test('with a velocity: nothing is said, whatever else it tells', () => {
    expect(ever(at({ velocityMs: 3, temperatureC: 13 }), 'outlet-no-velocity')).toBe(false);
  });
});
