import { describe, expect, it } from 'vitest';
import {
  type AirflowEntry,
  airflowWords,
  enteredAirflow,
  startEntry,
} from '../../client/words/airflow.ts';
import { scalesFor } from '../../client/words/scales.ts';
import type { Airflow } from '../../client/live/api.ts';

const { flow } = scalesFor({ temperature: 'C', flow: 'm3h', power: 'kW' });
const plain = (text: string): string => text.replace(/[\u202f\u00a0]/g, ' ');
const TABLE: Airflow = {
  source: 'fan-table',
  flowM3s: 0.1732,
  basis: 'standard',
  plane: 'supply',
  limitPct: 6,
};

/** What the form makes of an airflow when these fields are changed. */
const changed = (before: Airflow | null, change: Partial<AirflowEntry>) =>
  enteredAirflow({ ...startEntry(before, flow), ...change }, before, flow);

describe('an airflow as it is entered', () => {
  it('is nothing new where nothing was touched', () => {
    expect(changed(TABLE, {})).toEqual({ airflow: null, refusal: null });
  });

  it('says where it comes from, in each of three ways', () => {
    for (const source of ['fan-table', 'measured', 'entered']) {
      const entry = { flow: '600', limit: '5', source };
      expect(changed(null, entry).airflow).toMatchObject({ source, basis: 'actual', limitPct: 5 });
    }
    expect(changed(null, { flow: '600', limit: '5' }).refusal).toBe(
      'The source is missing. Choose where the figure comes from.',
    );
    // Another figure from the same table; what was not touched stays exact.
    const { airflow } = changed(TABLE, { flow: '600' });
    expect(airflow).toEqual({ ...TABLE, flowM3s: 600 / 3600 });
    expect(changed(TABLE, { source: 'entered' }).airflow?.flowM3s).toBe(0.1732);
  });

  it('a traverse that was typed over is none any more', () => {
    const sweep = { ...TABLE, source: 'sweep' };
    expect(changed(sweep, { limit: '8' }).airflow?.source).toBe('sweep');
    expect(changed(sweep, { flow: '600' }).airflow?.source).toBe('measured');
  });

  it('its ± is a bound, a guess of coverage factor 1 (JCGM 100:2008, 4.3.6), or as it was told', () => {
    expect(changed(TABLE, { kind: 'guess' }).airflow).toEqual({ ...TABLE, limitK: 1 });
    expect(changed({ ...TABLE, limitK: 1 }, { kind: 'bound' }).airflow).toEqual(TABLE);
    const stated = { ...TABLE, limitK: 2 };
    expect(changed(stated, { limit: '8' }).airflow).toEqual({ ...stated, limitPct: 8 });
    expect(startEntry({ ...TABLE, limitK: 1 }, flow).kind).toBe('guess');
  });

  it('without a ± it has none, whatever that would have been', () => {
    const { airflow } = changed({ ...TABLE, limitK: 1 }, { limit: ' ' });
    expect(airflow).not.toHaveProperty('limitPct');
    expect(airflow).not.toHaveProperty('limitK');
  });

  it('refuses what cannot be read', () => {
    expect(changed(TABLE, { limit: 'a little' }).refusal).toContain('is not a number');
    expect(changed(TABLE, { flow: '' }).refusal).toContain('The airflow is missing');
  });
});

describe('an airflow in words', () => {
  it.each([
    [TABLE, '± 6.0 %, from the fan table, at the supply'],
    [{ ...TABLE, source: 'entered' }, '± 6.0 %, entered by hand, as standard air'],
    [
      { ...TABLE, source: 'measured', limitK: 1 },
      '± 6.0 % (a guess), measured at this unit, as standard air',
    ],
    [
      { ...TABLE, source: 'hood', basis: 'actual' as const, limitPct: undefined },
      'hood, at the supply',
    ],
  ])('%#', (airflow, words) => {
    expect(plain(airflowWords(airflow))).toBe(words);
  });
});
