/** Tables as spreadsheets and scripts read them; by a reader of others (csv-parse, RFC 4180). */
import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import * as z from 'zod';
import type { Line } from '../../adapters/contract.ts';
import { capturesCsv, csvRow, readingsCsv } from '../../server/report/csv.ts';
import type { OldVisit } from '../../server/protocol.ts';
import { captureWith, T0 } from '../client/fixtures.ts';

const rowsOf = (text: string): Record<string, string>[] =>
  z.array(z.record(z.string(), z.string())).parse(parse(text, { columns: true }));

const visit: OldVisit = {
  ...{ id: 'visit-1', kind: 'visit', title: '', site: '', address: '', customer: '' },
  ...{ technician: '', why: '', simulated: false, begunT: T0, lastT: T0, units: ['Study'] },
  captures: [
    captureWith({ note: '=HYPERLINK("x"), "quoted"\nand two lines' }),
    captureWith({ totalW: -120.25, latentW: null, latentU95W: null, simulated: true }),
  ],
  ...{
    events: [],
    checks: [],
    airflows: [],
    verdicts: [],
    conditions: '',
    systems: {},
    probeNames: {},
  },
  unitDetails: {
    u1: {
      ...{ name: '+Study', form: '', model: '', serial: '', system: '' },
      ...{ nominalW: null, airflow: null },
    },
  },
  history: { type: 'history', t: [], units: {} },
};

describe('a row', () => {
  it('quotes commas, quotes and line breaks, and ends as RFC 4180 says', () => {
    expect(csvRow(['a', 'b,c', 'd"e', 'f\ng', null, 1.5])).toBe('a,"b,c","d""e","f\ng",,1.5\r\n');
  });

  it.each(['=1+1', '+1', '-1', '@x', '\tx', '  =1', '\r=1'])(
    'has no text that is taken for a formula: %j',
    (text) => expect(rowsOf(`n\r\n${csvRow([text])}`)[0]?.['n']).toBe(`'${text}`),
  );

  it('leaves numbers numbers', () => expect(csvRow([-1.5, 0, NaN])).toBe('-1.5,0,\r\n'));
});

describe('captures', () => {
  const [first, second] = rowsOf(capturesCsv(visit));
  it('have units in the header, and times that say their zone', () => {
    expect(first).toMatchObject({
      ...{ visit: 'visit-1', unit: 'u1', total_W: '2640', total_U95_W: '110', latent_W: '660' },
      ...{ from: '2026-05-04T12:00:00.000Z', duration_s: '180', mode: 'cooling', state: 'steady' },
      ...{ unit_name: "'+Study", struck_out: 'no', simulated: 'no' },
    });
  });
  it('keep what a person noted, as text', () => {
    expect(first?.['note']).toBe('\'=HYPERLINK("x"), "quoted"\nand two lines');
  });
  it('keep negative figures as numbers, and say what is simulated', () => {
    expect(second).toMatchObject({ total_W: '-120.3', latent_W: '', mode: 'heating' });
    expect(second?.['simulated']).toBe('yes');
  });
});

describe('readings', () => {
  const lines: Line[] = [
    { type: 'probe', id: 'r', name: '@R', unit: 'u1', place: 'return' },
    { type: 'reading', t: T0, probe: 'r', temperatureC: -3.25, humidityPct: 48.2 },
    { type: 'probe', id: 'r', place: 'supply' },
    { type: 'event', t: T0, kind: 'note', text: 'x' },
    { type: 'reading', t: T0 + 500, probe: 'v', velocityMs: 3.9 },
    { type: 'reading', t: T0 + 1000, probe: 'r', temperatureC: 14 },
  ];
  it('come with the place where the probe hung then', () => {
    const rows = rowsOf([...readingsCsv(lines, true)].join(''));
    expect(rows.map((row) => [row['probe_name'], row['place'], row['temperature_C']])).toEqual([
      ["'@R", 'return', '-3.25'],
      ['v', '', ''],
      ["'@R", 'supply', '14'],
    ]);
    expect(rows[1]).toMatchObject({ velocity_m_s: '3.9', time: '2026-05-04T12:00:00.500Z' });
    expect(rows.every((row) => row['simulated'] === 'yes')).toBe(true);
  });
});
