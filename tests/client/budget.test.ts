import { describe, expect, it } from 'vitest';
import { budgetRows, checkWouldHelp, partName, placeToWalk } from '../../client/words/budget.ts';
import { scalesFor } from '../../client/words/scales.ts';
import type { Budget, BudgetLine, PlaceEvenness, UnitSetup } from '../../server/protocol.ts';
import { plain, probeWith, T0 } from './fixtures.ts';

const { power } = scalesFor({ temperature: 'C', flow: 'm3h', power: 'kW' });
const probes = { s1: probeWith({ name: 'Supply left' }), r1: probeWith({ name: 'Return' }) };

const part = (kind: BudgetLine['kind'], of: string | null, share: number): BudgetLine => ({
  kind,
  of,
  share,
  totalW: 0,
});
const budgetOf = (...items: BudgetLine[]): Budget => ({
  type: 'budget',
  unit: 'u1',
  t: T0,
  totalU95W: 400,
  items,
  regions: { return: null, supply: null },
  advice: null,
});

describe('what a part of the interval is called', () => {
  it.each([
    ['humidity', 's1', 'Supply left: humidity'],
    ['temperature', 'r1', 'Return: temperature'],
    ['temperature', 'gone', 'gone: temperature'],
    ['spread', 'supply', 'Uneven air across the outlet'],
    ['spread', 'return', 'Uneven air across the intake'],
    ['airflow', null, 'Airflow'],
    ['airflow', 's1', 'Airflow: Supply left reads one spot only'],
    ['pressure', null, 'Barometric pressure'],
    ['common-humidity', null, 'Humidity error that checked probes share'],
    ['scatter', null, 'Scatter of the readings'],
  ] as const)('%s of %s', (kind, of, name) => {
    expect(partName({ kind, of }, probes)).toBe(name);
  });
});

describe('the bars', () => {
  it('largest first, the small ones gathered; shares add up to all of it', () => {
    const rows = budgetRows(
      budgetOf(
        part('pressure', null, 0.01),
        part('airflow', null, 0.3),
        part('humidity', 's1', 0.64),
        part('scatter', null, 0.02),
        part('temperature', 'r1', 0.03),
      ),
      probes,
      power,
    );
    expect(rows.map(({ name, percent, tone }) => [name, plain(percent), tone])).toEqual([
      ['Supply left: humidity', '64 %', 'largest'],
      ['Airflow', '30 %', 'other'],
      ['Return: temperature', '3 %', 'other'],
      ['The rest: 2 small parts', '3 %', 'rest'],
    ]);
    expect(rows.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12);
    // JCGM 100:2008, 5.1.2: squares add up. √0.64 of 0.40 kW is 0.32 kW, √0.30 of it 0.22 kW.
    expect(rows.map(({ alone }) => plain(alone))).toEqual([
      '± 0.32 kW',
      '± 0.22 kW',
      '± 0.07 kW',
      '± 0.07 kW',
    ]);
  });

  it('one small part keeps its name', () => {
    const rows = budgetRows(
      budgetOf(part('airflow', null, 0.998), part('pressure', null, 0.002)),
      probes,
      power,
    );
    expect(rows.map(({ name, percent }) => [name, plain(percent)])).toEqual([
      ['Airflow', '100 %'],
      ['Barometric pressure', 'under 1 %'],
    ]);
  });

  it('many of equal size are no more than six and the rest', () => {
    const items = Array.from({ length: 20 }, (_, i) => part('temperature', `p${i}`, 0.05));
    const rows = budgetRows(budgetOf(...items), {}, power);
    expect(rows.length).toBe(7);
    expect(rows.at(-1)?.name).toBe('The rest: 14 small parts');
    expect(rows.at(-1)?.share).toBeCloseTo(0.7, 12);
  });

  it('the errors that two checks share are one bar: a key stands once', () => {
    const twice = part('common-temperature', null, 0.5);
    const rows = budgetRows(budgetOf(twice, twice), probes, power);
    expect(rows.map(({ share }) => share)).toEqual([1]);
  });

  it('what has no part is not shown', () => {
    expect(budgetRows(budgetOf(part('airflow', null, 0)), probes, power)).toEqual([]);
    expect(budgetRows(budgetOf(), probes, power)).toEqual([]);
  });
});

describe('the way to the check', () => {
  const check = {
    t: T0,
    temperatureOffsetC: 0.1,
    humidityOffsetPct: null,
    atC: 22,
    atPct: null,
    worth: 1,
  };
  it('is shown where probes that were not checked dominate together', () => {
    const humid = budgetOf(
      part('airflow', null, 0.4),
      part('humidity', 's1', 0.3),
      part('temperature', 's1', 0.3),
    );
    expect(checkWouldHelp(humid, probes)).toBe(true);
    expect(checkWouldHelp(humid, { s1: probeWith({ check }) })).toBe(false);
    expect(checkWouldHelp(budgetOf(part('airflow', null, 1)), probes)).toBe(false);
    expect(checkWouldHelp(budgetOf(), probes)).toBe(false);
  });
});

describe('the way to the walk', () => {
  const evenness = (
    ret: PlaceEvenness['from'],
    supply: PlaceEvenness['from'],
  ): UnitSetup['evenness'] => ({
    return: { spotsPct: 1, from: ret, walkedT: ret === 'walked' ? T0 : null },
    supply: { spotsPct: 5, from: supply, walkedT: supply === 'walked' ? T0 : null },
  });
  const assumed = evenness('assumed', 'assumed');
  const uneven = budgetOf(part('airflow', null, 0.4), part('spread', 'supply', 0.6));

  it('is shown where uneven air is the largest part', () => {
    expect(placeToWalk(uneven, assumed)).toBe('supply');
    expect(placeToWalk(budgetOf(part('spread', 'return', 1)), assumed)).toBe('return');
    const flow = budgetOf(part('airflow', null, 0.6), part('spread', 'supply', 0.4));
    expect(placeToWalk(flow, assumed)).toBeNull();
    expect(placeToWalk(budgetOf(), assumed)).toBeNull();
  });

  it('is not shown once that place was walked', () => {
    expect(placeToWalk(uneven, evenness('assumed', 'walked'))).toBeNull();
    expect(placeToWalk(uneven, evenness('walked', 'entered'))).toBe('supply');
  });
});
