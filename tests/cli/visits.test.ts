/** Visits from the page: begun, gone on with, listed, shown; and a record that cannot be written. */
import { renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import {
  knownOutletsSchema,
  type OldVisit,
  oldVisitSchema,
  type VisitList,
  visitListSchema,
} from '../../server/protocol.ts';
import { plateau } from '../program.ts';
import { stage } from './stage.ts';

const on = stage();
const { call, state } = on;
const json = async (path: string): Promise<unknown> => (await call(path)).json();
const list = async (query = ''): Promise<VisitList> =>
  visitListSchema.parse(await json(`/api/visits${query}`));
const show = async (id: string): Promise<OldVisit> =>
  oldVisitSchema.parse(await json(`/api/visits/${id}`));
const start = (...more: string[]): Promise<unknown> => on.run('start', ...more);
async function feed(seconds: number): Promise<void> {
  const t = Date.now() - seconds * 1000;
  const readings = Array.from({ length: seconds * 2 }, (_, i) => ({
    ...{ t: t + Math.floor(i / 2) * 1000, probe: i % 2 === 0 ? 'r' : 's' },
    ...{ temperatureC: i % 2 === 0 ? 26.7 : 12, humidityPct: i % 2 === 0 ? 51 : 94 },
  }));
  const answer = await call('/api/readings', 'POST', readings);
  expect(await answer.json()).toMatchObject({ taken: seconds * 2 });
}
const AIRFLOW = { source: 'entered', flowM3s: 0.2, basis: 'actual', plane: 'supply', limitPct: 5 };

const limits = { temperatureC: 0.3, humidityPct: 2 };

async function setUp(title: string): Promise<void> {
  await call('/api/visit', 'PUT', {
    ...{ title, mode: 'cooling', altitudeM: 300, address: `${title}, Wrenfold` },
    ...{ customer: 'The library', technician: 'R. Finch', why: 'noisy fan' },
  });
  await call('/api/units/u1', 'PUT', { name: 'Study', airflow: AIRFLOW, serial: '0042' });
  await call('/api/probes/r', 'PUT', {
    name: 'R',
    unit: 'u1',
    place: 'return',
    serial: '7',
    limits,
  });
  await call('/api/probes/s', 'PUT', { name: 'S', unit: 'u1', place: 'supply', limits });
}

test('a visit is begun at the same site, at another, and an earlier one gone on with', async () => {
  await start();
  await setUp('Orchard Lane 4');
  await feed(120);
  const first = (await list()).live ?? '';
  expect((await state()).record).toEqual({
    ...{ type: 'record', visit: first, trouble: null, kept: true },
  });

  expect((await call('/api/visits', 'POST', { like: first })).status).toBe(200);
  const again = await state();
  expect(again.record.visit).not.toBe(first);
  expect(again.t).toBeNull();
  expect(again.visit).toMatchObject({ title: 'Orchard Lane 4', altitudeM: 300 });
  expect(again.visit.details).toMatchObject({ address: 'Orchard Lane 4, Wrenfold' });
  expect(again.visit.details.technician).toBeUndefined();
  expect(again.visit.units['u1']).toMatchObject({ name: 'Study', airflow: AIRFLOW });
  expect(again.probes['r']).toMatchObject({ name: 'R', unit: null, details: { serial: '7' } });
  await feed(30);

  const other = await call('/api/visits', 'POST', {});
  expect(other.status).toBe(200);
  expect(Object.keys((await state()).visit.units)).toEqual([]);
  await call('/api/visit', 'PUT', { title: 'Mill Yard 2' });
  await feed(2);
  const { visits, live } = await list();
  expect(visits.map((v) => v.title)).toEqual(['Mill Yard 2', 'Orchard Lane 4', 'Orchard Lane 4']);
  expect(visits[0]?.id).toBe(live);
  expect(visits[1]?.site).toBe(visits[2]?.site);
  expect(visits[1]?.site).not.toBe(visits[0]?.site);
  expect((await list('?text=finch+orchard')).visits.map((v) => v.id)).toEqual([first]);
  expect((await list('?text=study')).visits).toHaveLength(2);
  expect((await list('?text=100%25')).visits).toEqual([]);
  expect((await list(`?until=${Date.now() - 3_600_000}`)).visits).toEqual([]);

  expect((await call(`/api/visits/${first}/go-on`, 'POST', {})).status).toBe(200);
  const back = await state();
  expect(back.record.visit).toBe(first);
  expect(back.visit).toMatchObject({ title: 'Orchard Lane 4' });
  expect(back.visit.details.technician).toBe('R. Finch');
  expect(back.probes['r']).toMatchObject({ unit: 'u1', place: 'return' });
  await feed(1);
  const totalW = async (): Promise<unknown> => (await state()).units['u1']?.capacity.totalW;
  await expect.poll(totalW).toBeGreaterThan(5000);
  expect((await call(`/api/visits/${first}/go-on`, 'POST', {})).status).toBe(400);
  const none = await call('/api/visits/x/go-on', 'POST', {});
  expect([none.status, await none.json()]).toEqual([
    404,
    { error: 'visit: there is no visit "x" in this record' },
  ]);
});

test('openings of earlier visits are known by how they are built, the newest of each kind', async () => {
  await start();
  const outlet = (id: string, more: object): Promise<Response> =>
    call(`/api/outlets/${id}`, 'PUT', { unit: 'u1', ...more });
  const known = async (): Promise<unknown[]> =>
    knownOutletsSchema.parse(await json('/api/outlets/known')).outlets;
  const slot = [{ widthM: 0.064, lengthM: 0.61 }];
  await setUp('Orchard Lane 4');
  await outlet('o1', { sections: slot, form: 'Wall unit, one slot', freeArea: 0.9 });
  await outlet('o2', { sections: slot, plane: 'return' });
  // A part of it is told later.
  await outlet('o1', { freeArea: 0.86, freeAreaLimit: 0.04, louverDeg: 30 });
  await feed(2);
  expect(await known()).toEqual([]);
  const first = (await list()).live ?? '';

  await call('/api/visits', 'POST', {});
  await call('/api/visit', 'PUT', { title: 'Mill Yard 2' });
  const of = { unit: 'u1', name: '', plane: 'supply', sections: slot };
  const before = {
    ...{ visit: first, title: 'Orchard Lane 4', unitName: 'Study' },
    outlet: {
      ...{ ...of, freeArea: 0.86, freeAreaLimit: 0.04, louverDeg: 30 },
      form: 'Wall unit, one slot',
    },
  };
  expect(await known()).toMatchObject([before]);

  // Of one kind, in whatever case it is written, the newest visit's counts.
  await call('/api/units/u1', 'PUT', { name: 'Hall' });
  await outlet('o1', { sections: slot, form: 'wall unit, one slot', freeArea: 0.88 });
  await outlet('o2', { sections: slot, form: 'wall unit, one slot', plane: 'return' });
  await feed(2);
  await call('/api/visits', 'POST', {});
  const found = await known();
  expect(found).toHaveLength(2);
  expect(found).toMatchObject([
    { title: 'Mill Yard 2', unitName: 'Hall', outlet: { plane: 'return' } },
    { title: 'Mill Yard 2', unitName: 'Hall', outlet: { plane: 'supply', freeArea: 0.88 } },
  ]);
});

test('a quick look leaves nothing behind, unless it is kept: then from its beginning', async () => {
  await start();
  await call('/api/visits', 'POST', { kept: false });
  const first = (await state()).record;
  expect(first).toMatchObject({ kept: false, trouble: null });
  await setUp('Passing by');
  await feed(20);
  expect((await list()).visits.map((v) => v.title)).not.toContain('Passing by');
  await on.server.end('SIGTERM');
  await start();
  expect((await list()).visits.map((v) => v.title)).not.toContain('Passing by');
  expect((await state()).visit.units).toEqual({});

  await call('/api/visits', 'POST', { kept: false });
  await setUp('Orchard Lane 4');
  await feed(20);
  const { visit } = (await state()).record;
  expect((await call('/api/visits/another/keep', 'POST', {})).status).toBe(404);
  expect((await call(`/api/visits/${visit}/keep`, 'POST', {})).status).toBe(200);
  expect((await state()).record).toMatchObject({ visit, kept: true });
  await on.server.end('SIGKILL');
  await start();
  expect((await state()).visit.title).toBe('Orchard Lane 4');
  const log = await (await call(`/api/visits/${visit}/log`)).text();
  expect(log.split('"type":"reading"').length - 1).toBe(40);
});

test('an old visit is shown with its chart, captures and events, also when its server was killed', async () => {
  await start();
  await setUp('Orchard Lane 4');
  await call('/api/systems/s1', 'PUT', { name: 'Yard', lineLengthM: 7.5, lineHeightM: 3 });
  await call('/api/units/u1', 'PUT', { system: 's1', nominalW: 3500 });
  await feed(400);
  await call('/api/events', 'POST', { kind: 'note', unit: 'u1', text: 'filter cleaned' });
  // What was said is taken away by null.
  await call('/api/units/u1', 'PUT', { nominalW: null });
  await call('/api/systems/s1', 'PUT', { lineHeightM: null });
  expect((await state()).visit.units['u1']?.details).toEqual({ serial: '0042', system: 's1' });
  await call('/api/events', 'POST', { kind: 'check', phase: 'start', probes: ['r', 's'] });
  const id = (await list()).live ?? '';
  const live = await show(id);
  await on.server.end('SIGKILL');
  await start('--new-visit');
  const old = await show(id);
  expect(old).toMatchObject({ title: 'Orchard Lane 4', technician: 'R. Finch', why: 'noisy fan' });
  expect(old.unitDetails['u1']).toMatchObject({ name: 'Study', serial: '0042' });
  expect(old.unitDetails['u1']).toMatchObject({ nominalW: null, system: 's1', airflow: AIRFLOW });
  expect(old.systems).toEqual({ s1: { name: 'Yard', lineLengthM: 7.5 } });
  expect(old.checks).toHaveLength(1);
  expect(old.probeNames).toEqual({ r: 'R', s: 'S' });
  expect(old.events.map((e) => e.text)).toEqual(['filter cleaned', undefined]);
  expect(live.captures).toHaveLength(1);
  expect(old.captures[0]).toMatchObject({ unit: 'u1', from: live.captures[0]?.from });
  expect(old.history.t.length).toBeGreaterThan(390);
  const log = await (await call(`/api/visits/${id}/log`)).text();
  expect(log).toContain('filter cleaned');
  expect((await call('/api/visits/x/log')).status).toBe(404);
});

test('a record that cannot be written is part of the state and of health, and heals', async () => {
  await start();
  await setUp('Orchard Lane 4');
  await feed(3);
  const away = `${on.folder}-away`;
  renameSync(on.folder, away);
  writeFileSync(on.folder, 'a file in the way');
  const trouble = async (): Promise<string | null> => (await state()).record.trouble;
  await expect.poll(trouble, { timeout: 10_000 }).toMatch(/^The visit is not being recorded: /);
  expect(await json('/api/health')).toMatchObject({ ok: true, recording: false });
  await feed(2); // kept in memory
  expect(on.server.err()).toMatch(/not being recorded/);
  rmSync(on.folder);
  await expect.poll(trouble, { timeout: 10_000 }).toBeNull();
  expect(await json('/api/health')).toMatchObject({ recording: true });
  await on.server.end();
  const { out } = await plateau(['export', '--data', on.folder]);
  expect(out.split('\n').filter((line) => line.includes('"reading"'))).toHaveLength(10);
  rmSync(join(away), { recursive: true });
});
