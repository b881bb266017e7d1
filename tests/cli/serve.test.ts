/** `start` and `demo` as processes: what they print, keep and refuse. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { openDatabase, readDatabase } from '../../server/store/database.ts';
import { allVisits } from '../../server/store/visits.ts';
import { plateau, type RunningServer } from '../program.ts';
import { stage } from './stage.ts';

const on = stage();
const { state } = on;
const start = (...more: string[]): Promise<RunningServer> => on.run('start', ...more);
async function put({ url }: RunningServer, path: string, body: object): Promise<number> {
  const headers = { 'content-type': 'application/json' };
  const response = await fetch(url + path, { method: 'PUT', headers, body: JSON.stringify(body) });
  return response.status;
}
async function post({ url }: RunningServer, readings: object[]): Promise<unknown> {
  const response = await fetch(`${url}/api/readings`, {
    method: 'POST',
    headers: { 'content-type': 'application/x-ndjson' },
    body: readings.map((r) => JSON.stringify(r)).join('\n'),
  });
  return response.json();
}
const AIRFLOW = { source: 'entered', flowM3s: 0.2, basis: 'actual', plane: 'supply', limitPct: 5 };

test('without Bluetooth it serves, and says what is missing and what to do', async () => {
  const running = await start('--bluetooth-adapter', '15'); // there is none that is the sixteenth
  await expect
    .poll(() => running.err(), { timeout: 20_000 })
    .toMatch(
      /^ble: (?:The Bluetooth library|This computer's system|No Bluetooth adapter|Plateau may)/m,
    );
  const { adapters } = await state();
  expect(adapters['ble']).toMatchObject({ state: 'unavailable' });
  expect(adapters['push']).toEqual({ state: 'running', text: null });
  expect((await fetch(running.url)).headers.get('content-type')).toMatch(/text\/html/);
});

test('options of Bluetooth that are wrong end the start with one sentence, status 2', async () => {
  const wrong = join(on.folder, 'vane.json');
  writeFileSync(wrong, '{"version":1,"name":"Vane"}');
  for (const [args, said] of [
    [['start', '--bluetooth-adapter', 'x'], /--bluetooth-adapter is a whole number from 0 to 15/],
    [['demo', '--bluetooth-adapter', '0'], /--bluetooth-adapter belongs to start/],
    [['start', '--probe-description', wrong], /vane\.json: .*advertises/],
    [['start', '--probe-description', `${wrong}.not`], /vane\.json\.not cannot be read/],
  ] as const) {
    const { status, out, err } = await plateau([...args, '--port', '0', '--data', on.folder]);
    expect({ status, out }).toEqual({ status: 2, out: '' });
    expect(err).toMatch(said);
    expect(err.trim()).not.toContain('\n');
  }
});

test('killed and started again it goes on with the visit; --new-visit keeps names and limits only', async () => {
  const first = await start();
  await put(first, '/api/visit', { mode: 'cooling', pressurePa: 98_300 });
  await put(first, '/api/units/u1', { name: 'Study', airflow: AIRFLOW });
  const limits = { temperatureC: 0.5, humidityPct: 2.5 };
  await put(first, '/api/probes/r', { name: 'R', unit: 'u1', place: 'return', limits });
  await put(first, '/api/probes/s', { name: 'S', unit: 'u1', place: 'supply', limits });
  const t = Date.now() - 3000;
  for (let i = 0; i < 4; i++) {
    await post(first, [
      { t: t + i * 1000, probe: 'r', temperatureC: 26.7, humidityPct: 51 },
      { t: t + i * 1000, probe: 's', temperatureC: 12, humidityPct: 94 },
    ]);
  }
  await expect.poll(async () => (await state()).units['u1']?.capacity.totalW).toBeGreaterThan(5000);
  await first.end('SIGKILL');

  await start();
  const back = await state();
  expect(back.visit.units['u1']).toMatchObject({ name: 'Study', airflow: AIRFLOW });
  expect(back.probes['r']).toMatchObject({ name: 'R', unit: 'u1', place: 'return', limits });
  const history = (await (await fetch(`${on.server.url}/api/history`)).json()) as { t: number[] };
  expect(history.t.length).toBeGreaterThanOrEqual(3);
  await on.server.end();
  expect(on.server.out()).toMatch(/^The record is in .*plateau\.db \(visit visit-/m);
  // It leaves as a visit log like any other.
  const { out } = await plateau(['export', '--data', on.folder]);
  expect(out).toContain('"temperatureC":26.7');
  const log = join(on.folder, 'log.ndjson');
  writeFileSync(log, out);
  expect(await plateau(['analyse', log])).toMatchObject({ status: 0, err: '' });

  await start('--new-visit');
  const fresh = await state();
  expect(fresh.visit).toMatchObject({ units: {}, pressureSource: 'assumed' });
  expect(fresh.probes['r']).toMatchObject({ name: 'R', limits, unit: null, place: null });
});

test('a port that is taken, a host that is not ours: one sentence, status 1', async () => {
  const { port } = await start();
  const other = join(on.folder, 'other');
  const taken = await plateau(['start', '--port', String(port), '--data', other]);
  expect(taken.status).toBe(1);
  expect(taken.err).toMatch(new RegExp(`port ${port} is taken: .*--port`));
  const host = await plateau(['start', '--port', '0', '--host', '192.0.2.1', '--data', other]);
  expect(host.err).toMatch(/has no address "192\.0\.2\.1": .*--host/);
});

test('a second server on the same data folder is refused, and an ended one leaves no lock', async () => {
  await start();
  const second = await plateau(['start', '--port', '0', '--data', on.folder]);
  expect(second.status).toBe(1);
  expect(second.err).toMatch(/in use by process \d+: .*--data/);
  await on.server.end();
  await start();
});

test('a log whose last reading is old is not shown as live after a restart', async () => {
  const first = await start();
  await put(first, '/api/visit', { mode: 'cooling', pressurePa: 98_300 });
  await put(first, '/api/units/u1', { airflow: AIRFLOW });
  await put(first, '/api/probes/r', { unit: 'u1', place: 'return' });
  await put(first, '/api/probes/s', { unit: 'u1', place: 'supply' });
  const t = Date.now() - 120_000;
  for (let i = 0; i < 5; i++) {
    await post(first, [
      { t: t + i * 1000, probe: 'r', temperatureC: 26.7, humidityPct: 51 },
      { t: t + i * 1000, probe: 's', temperatureC: 12, humidityPct: 94 },
    ]);
  }
  await first.end();
  await start();
  const after = await state();
  expect(after.units['u1']?.capacity.totalW).toBeNull();
  expect(after.probes['r']?.state).toBe('lost');
});

test('a demo goes on after a short break, and begins afresh for the next class', async () => {
  await on.run('demo');
  await expect.poll(async () => (await state()).t, { timeout: 10_000 }).not.toBeNull();
  await new Promise((resolve) => setTimeout(resolve, 2000));
  await on.server.end();
  await on.run('demo');
  const visits = (): number => {
    const db = readDatabase(on.folder);
    const found = db === null ? 0 : allVisits(db).length;
    db?.close();
    return found;
  };
  expect(visits()).toBe(1);
  await on.server.end();
  const db = openDatabase(on.folder);
  db.prepare('UPDATE visit SET written_t = ?').run(Date.now() - 11 * 60_000);
  db.close();
  await on.run('demo');
  await expect.poll(visits, { timeout: 10_000 }).toBe(2);
});

test('made-up readings stay marked in the record, also for a server without their source', async () => {
  const first = await on.run('demo');
  await expect.poll(async () => Object.keys((await state()).probes).length).toBeGreaterThan(3);
  await new Promise((resolve) => setTimeout(resolve, 2500));
  await first.end();
  await start();
  const { probes } = await state();
  expect(Object.values(probes).every((p) => p.simulated)).toBe(true);
});

test('a demo takes its probes in the hand, says that no source uses keys, and names anew what was forgotten', async () => {
  const running = await on.run('demo');
  expect(await put(running, '/api/simulation/warm', { probe: 'p5' })).toBe(200);
  expect(await put(running, '/api/simulation/warm', { probe: 'p99' })).toBe(404);
  const answer = await fetch(`${running.url}/api/bluetooth/keys/00aa01010001`, {
    method: 'PUT',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ key: '0'.repeat(32) }),
  });
  expect([answer.status, await answer.json()]).toEqual([
    400,
    { error: expect.stringMatching(/^There is no Bluetooth source here/) },
  ]);
  const before = (await state()).probes['p5'];
  expect(before).toMatchObject({ name: 'Workshop return', unit: 'u2', place: 'return' });
  await fetch(`${running.url}/api/probes/p5`, { method: 'DELETE' });
  const after = (await state()).probes['p5'];
  expect(after).toMatchObject({ name: 'Workshop return', unit: null, place: null });
  expect(after?.limits).toEqual(before?.limits);
});

test('a plug-in that cannot be loaded stops nothing; one that fails in a timer is charged and shown', async () => {
  const bad = join(on.folder, 'bad.mjs');
  const { writeFileSync } = await import('node:fs');
  writeFileSync(
    bad,
    `export const createAdapter = () => ({
       name: 'bad', start(host) { host.status('running'); setTimeout(() => { throw new Error('pump failure'); }, 50); }, stop() {},
     });`,
  );
  const running = await start('--adapter', join(on.folder, 'none.mjs'), '--adapter', bad);
  await expect.poll(async () => (await state()).adapters['bad']?.text).toMatch(/pump failure/);
  const { adapters } = await state();
  expect(
    Object.values(adapters).some(
      (a) => a.state === 'unavailable' && /none\.mjs/.test(a.text ?? ''),
    ),
  ).toBe(true);
  expect(adapters['push']?.state).toBe('running');
  expect(await post(running, [{ t: Date.now(), probe: 'x', temperatureC: 20 }])).toMatchObject({
    taken: 1,
  });
});

test('a recording is played into the same state', async () => {
  const log = join(on.folder, 'recording.txt');
  const t = 1_777_885_200_000;
  const lines: object[] = [
    { type: 'visit', version: 1, title: 'Recording', mode: 'cooling', pressurePa: 101_325 },
    { type: 'unit', id: 'u1', airflow: AIRFLOW },
    { type: 'probe', id: 'r', unit: 'u1', place: 'return' },
    { type: 'probe', id: 's', unit: 'u1', place: 'supply' },
  ];
  for (let s = 0; s < 20; s++) {
    lines.push({
      type: 'reading',
      t: t + s * 1000,
      probe: 'r',
      temperatureC: 26.7,
      humidityPct: 51,
    });
    lines.push({ type: 'reading', t: t + s * 1000, probe: 's', temperatureC: 12, humidityPct: 94 });
  }
  writeFileSync(log, lines.map((l) => JSON.stringify(l)).join('\n'));
  const running = await start('--replay', log, '--speed', '20');
  await expect
    .poll(async () => (await state()).adapters['replay']?.text, { timeout: 10_000 })
    .toBe('The replay has ended.');
  const { units, t: shown, visit } = await state();
  expect(visit.title).toBe('Recording');
  expect(shown).toBeGreaterThanOrEqual(t + 18_000);
  expect(units['u1']?.capacity.totalW).toBeGreaterThan(5000);

  // It is the only source, can be jumped about in, but not altered, and is not recorded.
  const { adapters, record } = await state();
  expect(Object.keys(adapters)).toEqual(['replay']);
  expect(record.visit).toBeNull();
  expect(await put(running, '/api/replay', { toT: t + 10_000, paused: true })).toBe(200);
  const jumped = await state();
  expect(jumped.replay).toMatchObject({ at: t + 10_000, paused: true, ended: false, jumps: 1 });
  expect(jumped.t).toBe(t + 9000); // the second of 10 s is worked out with the line after it
  expect(await put(running, '/api/visit', { title: 'Another' })).toBe(409);
  for (const path of ['/api/visits', '/api/visits/v1/go-on']) {
    const headers = { 'content-type': 'application/json' };
    const response = await fetch(running.url + path, { method: 'POST', headers, body: '{}' });
    expect(response.status, path).toBe(409);
  }
  await on.server.end();
  const db = readDatabase(on.folder);
  expect(db === null ? [] : allVisits(db)).toEqual([]);
  db?.close();
});
