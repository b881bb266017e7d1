/** The report and the tables of a visit, by the whole program: from the page's side and from the command line. */
import { parse } from 'csv-parse/sync';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { getDocumentProxy } from 'unpdf';
import { expect, test } from 'vitest';
import * as z from 'zod';
import { plateau, tempFolder } from '../program.ts';
import { stage } from './stage.ts';

const on = stage();
const { call, state } = on;
const limits = { temperatureC: 0.3, humidityPct: 2 };
const AIRFLOW = { source: 'entered', flowM3s: 0.2, basis: 'actual', plane: 'supply', limitPct: 5 };
const SECONDS = 900;

/** A visit that has come to rest. @returns its id */
async function recorded(): Promise<string> {
  await on.run('start');
  await call('/api/visit', 'PUT', { title: 'Alder Court 9', mode: 'cooling', pressurePa: 98_300 });
  await call('/api/units/u1', 'PUT', { name: 'Study', airflow: AIRFLOW });
  await call('/api/probes/r', 'PUT', { name: '=R', unit: 'u1', place: 'return', limits });
  await call('/api/probes/s', 'PUT', { name: 'S', unit: 'u1', place: 'supply', limits });
  const t = Date.now() - SECONDS * 1000;
  const readings = Array.from({ length: SECONDS * 2 }, (_, i) => ({
    ...{ t: t + Math.floor(i / 2) * 1000, probe: i % 2 === 0 ? 'r' : 's' },
    ...{ temperatureC: i % 2 === 0 ? 26.7 : 12, humidityPct: i % 2 === 0 ? 51 : 94 },
  }));
  const answer = await call('/api/readings', 'POST', readings);
  expect(await answer.json()).toMatchObject({ taken: SECONDS * 2 });
  return (await state()).record.visit ?? '';
}

async function pageText(bytes: Uint8Array): Promise<string> {
  const pdf = await getDocumentProxy(bytes);
  const { items } = await (await pdf.getPage(1)).getTextContent();
  return items.map((item) => ('str' in item ? item.str : '')).join(' ');
}
const rowsOf = (text: string): Record<string, string>[] =>
  z.array(z.record(z.string(), z.string())).parse(parse(text, { columns: true }));

test('the report of the live visit as it stands, while the server goes on answering', async () => {
  const id = await recorded();
  const asked = call(`/api/visits/${id}/report.pdf?units=ip`);
  expect((await call('/api/health')).status).toBe(200);
  const report = await asked;
  expect(report.status).toBe(200);
  expect(report.headers.get('content-type')).toBe('application/pdf');
  expect(report.headers.get('content-disposition')).toContain(`${id}.pdf`);
  const text = await pageText(new Uint8Array(await report.arrayBuffer()));
  expect(text).toContain('Alder Court 9');
  expect(text).toContain('Btu/h');

  const captures = await call(`/api/visits/${id}/captures.csv`);
  expect(captures.headers.get('content-type')).toContain('text/csv');
  const [capture] = rowsOf(await captures.text());
  expect(capture).toMatchObject({ unit_name: 'Study', state: 'steady', simulated: 'no' });
  expect(Number(capture?.['total_W'])).toBeGreaterThan(4000);
  const readings = rowsOf(await (await call(`/api/visits/${id}/readings.csv`)).text());
  expect(readings).toHaveLength(SECONDS * 2);
  expect(readings[0]).toMatchObject({ probe_name: "'=R", place: 'return', temperature_C: '26.7' });

  const folder = tempFolder();
  const out = join(folder.path, 'a.pdf');
  const made = await plateau(['report', '--data', on.folder, '--visit', id, '--out', out]);
  expect(made.status, made.err).toBe(0);
  expect(await pageText(new Uint8Array(readFileSync(out)))).toContain('kW');
  folder.remove();
  const piped = await plateau(['report', '--data', on.folder]);
  expect(piped.out.startsWith('%PDF-1.7')).toBe(true);
});

test('what cannot be made is a sentence', async () => {
  await on.run('start');
  for (const path of ['report.pdf', 'captures.csv', 'readings.csv']) {
    const none = await call(`/api/visits/nowhere/${path}`);
    expect(none.status).toBe(404);
    expect(await none.json()).toMatchObject({ error: expect.stringContaining('"nowhere"') });
  }
  const id = (await state()).record.visit ?? '';
  const wrong = await call(`/api/visits/${id}/report.pdf?paper=tabloid`);
  expect(wrong.status).toBe(400);
  expect(await wrong.json()).toMatchObject({ error: expect.stringContaining('paper') });
  const unknown = await plateau(['report', '--data', on.folder, '--visit', 'x']);
  expect(unknown.status).toBe(1);
  expect(unknown.err).toContain('there is no visit "x"');
});

test.each([
  [['--units', 'metric'], '--units is si or ip, not "metric"'],
  [['--paper', 'a5'], '--paper is letter or a4, not "a5"'],
  [['more'], '"more" is one too many for report'],
  [['--all', 'x'], '--all'],
])('a wrong option, %j, is one line and status 2', async (args, why) => {
  const { status, err, out } = await plateau(['report', ...args]);
  expect(status).toBe(2);
  expect(err).toContain(why);
  expect(err.trim().split('\n')).toHaveLength(1);
  expect(out).toBe('');
});
