/** What was acknowledged survives: kills at any moment, restarts in the middle of things. */
import { expect, test } from 'vitest';
import type { State } from '../../server/protocol.ts';
import { plateau } from '../program.ts';
import { stage } from './stage.ts';
import { runs } from '../long.ts';

/** Kills in the suite; more by `KILLS=200 npm test -- restart`. */
const KILLS = Number(process.env['KILLS'] ?? runs(20));
const PROBES = 40;

const on = stage();
const { call, state } = on;
const start = (): Promise<unknown> => on.run('start');
const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

test(
  `${KILLS} kills at any moment, under ${PROBES} probes and a stream of events: nothing acknowledged is lost`,
  async () => {
    const readings = new Set<string>();
    const notes = new Set<string>();
    const probes = new Set<string>();
    let n = 0;
    for (let kill = 0; kill < KILLS; kill++) {
      await start();
      let alive = true;
      const send = async (): Promise<void> => {
        while (alive) {
          const t = Date.now();
          const lines = Array.from({ length: PROBES }, (_, i) =>
            JSON.stringify({
              type: 'reading',
              t,
              probe: `p${i}`,
              temperatureC: 20 + (n++ % 997) / 100,
            }),
          );
          const answer = await call('/api/readings', 'POST', lines.join('\n'));
          const { taken } = (await answer.json()) as { taken: number };
          if (taken === lines.length) for (const line of lines) readings.add(line);
          await pause(1000 / 20);
        }
      };
      const tell = async (): Promise<void> => {
        while (alive) {
          const text = `note ${n++}`;
          const told = await call('/api/events', 'POST', { kind: 'note', text });
          if (told.ok) notes.add(text);
          const name = `P ${n++}`;
          const probe = `p${n % PROBES}`;
          if ((await call(`/api/probes/${probe}`, 'PUT', { name })).ok)
            probes.add(`${probe} ${name}`);
        }
      };
      const cut = [send(), tell()].map((work) => work.catch(() => {})); // cut off by the kill
      await pause(100 + ((kill * 7919) % 1000));
      on.server.child.kill('SIGKILL');
      await on.server.end('SIGKILL');
      alive = false;
      await Promise.all(cut);
    }
    expect(readings.size).toBeGreaterThan(KILLS * PROBES);
    const { status, out, err } = await plateau(['export', '--data', on.folder]);
    expect({ status, err }).toEqual({ status: 0, err: '' });
    const lines = new Set(
      out
        .trimEnd()
        .replaceAll(/,"after":-?\d+/g, '')
        .split('\n'),
    );
    for (const line of readings) if (!lines.has(line)) expect.fail(`lost: ${line}`);
    const parsed = [...lines].map((line) => JSON.parse(line) as Record<string, unknown>);
    const texts = new Set(parsed.map((line) => line['text']));
    for (const note of notes) if (!texts.has(note)) expect.fail(`lost: ${note}`);
    const named = new Set(parsed.map((line) => `${String(line['id'])} ${String(line['name'])}`));
    for (const probe of probes) if (!named.has(probe)) expect.fail(`lost: ${probe}`);
    expect(notes.size).toBeGreaterThan(KILLS);
    expect((await plateau(['doctor', '--data', on.folder])).out).toMatch(/well: \d of 1 visits/);
  },
  KILLS * 15_000,
);

test('a server that is started again goes on in the middle of a side-by-side check', async () => {
  await start();
  const feed = async (from: number, seconds: number): Promise<void> => {
    const lines = Array.from({ length: seconds * 2 }, (_, i) => ({
      ...{ t: from + Math.floor(i / 2) * 1000, probe: i % 2 === 0 ? 'a' : 'b' },
      ...{ temperatureC: i % 2 === 0 ? 21.5 : 21.7, humidityPct: 50 },
    }));
    await call('/api/readings', 'POST', lines.map((line) => JSON.stringify(line)).join('\n'));
  };
  await feed(Date.now() - 300_000, 200);
  await call('/api/events', 'POST', { kind: 'check', phase: 'start', probes: ['a', 'b'] });
  await feed(Date.now() - 99_000, 98);
  const before = (await state()).check;
  expect(before?.phase).toBe('running');
  await on.server.end('SIGKILL');
  await start();
  const { check, probes } = await state();
  expect(check).toMatchObject({ phase: 'running', from: before?.from });
  expect(Object.keys(check?.probes ?? {})).toEqual(['a', 'b']);
  expect(probes['a']?.lastT).not.toBeNull();
  await feed(Date.now() - 1000, 1);
  const ended = await call('/api/events', 'POST', {
    kind: 'check',
    phase: 'end',
    probes: ['a', 'b'],
  });
  expect(ended.status).toBe(200);
  const after = await state();
  expect(after.check?.phase).toBe('ended');
  expect(after.check?.probes['a']?.temperatureOffsetC).toBeCloseTo(-0.1, 2);
});

test('a server that is started again goes on in the middle of a walk', async () => {
  await start();
  const airflow = { source: 'entered', flowM3s: 0.2, basis: 'actual', plane: 'supply' };
  await call('/api/visit', 'PUT', { mode: 'cooling' });
  await call('/api/units/u1', 'PUT', { airflow });
  for (const [id, place] of [
    ['r', 'return'],
    ['s', 'supply'],
    ['w', 'supply'],
  ]) {
    await call(`/api/probes/${id}`, 'PUT', { unit: 'u1', place });
  }
  const feed = async (from: number, seconds: number): Promise<void> => {
    const lines = Array.from({ length: seconds * 3 }, (_, i) => ({
      ...{ t: from + Math.floor(i / 3) * 1000, probe: 'rsw'[i % 3] },
      ...{ temperatureC: [26.7, 12, 12.4][i % 3], humidityPct: [51, 94, 92][i % 3] },
    }));
    await call('/api/readings', 'POST', lines.map((line) => JSON.stringify(line)).join('\n'));
  };
  await feed(Date.now() - 300_000, 200);
  const step = { kind: 'walk', unit: 'u1', place: 'supply', probe: 'w' };
  expect((await call('/api/events', 'POST', { ...step, phase: 'start' })).status).toBe(200);
  await feed(Date.now() - 90_000, 30);
  expect((await call('/api/events', 'POST', { ...step, phase: 'go' })).status).toBe(200);
  await feed(Date.now() - 50_000, 48);
  const before = (await state()).walk;
  expect(before).toMatchObject({ phase: 'running', probe: 'w' });
  await on.server.end('SIGKILL');
  await start();
  const { walk } = await state();
  expect(walk).toMatchObject({ phase: 'running', probe: 'w', from: before?.from });
  expect(walk?.progress).toBeGreaterThanOrEqual(before?.progress ?? 1);
  await feed(Date.now() - 1000, 1);
  expect((await call('/api/events', 'POST', { ...step, phase: 'end' })).status).toBe(200);
  expect((await state()).walk?.phase).toBe('ended');
});

test('a demo that is started again keeps what a person entered', async () => {
  const demo = async (): Promise<void> => {
    await on.run('demo');
  };
  await demo();
  await expect.poll(async () => (await state()).t, { timeout: 10_000 }).not.toBeNull();
  const airflow = {
    source: 'entered',
    flowM3s: 0.123,
    basis: 'actual',
    plane: 'supply',
    limitPct: 4,
  };
  for (const [path, method, body] of [
    ['/api/visit', 'PUT', { title: 'Our own class', mode: 'cooling' }],
    ['/api/units/u1', 'PUT', { name: 'Front room', airflow }],
    ['/api/probes/p1', 'PUT', { name: 'Mine', limits: { temperatureC: 0.2 } }],
    ['/api/events', 'POST', { kind: 'setpoint', unit: 'u1', valueC: 16.5 }],
    ['/api/events', 'POST', { kind: 'fan', unit: 'u2', speed: 'low' }],
  ] as const) {
    expect((await call(path, method, body)).status).toBe(200);
  }
  const before = await state();
  await on.server.end('SIGKILL');
  await demo();
  await pause(1500);
  const after = await state();
  // How wet the coil is goes on with time.
  const told = ({ units, ...visit }: State['visit']) => ({
    ...visit,
    units: Object.fromEntries(
      Object.entries(units).map(([id, unit]) => [id, { ...unit, coil: null }]),
    ),
  });
  expect(told(after.visit)).toEqual(told(before.visit));
  expect(after.visit.units['u1']).toMatchObject({ name: 'Front room', setpointC: 16.5, airflow });
  expect(after.probes['p1']).toMatchObject({ name: 'Mine', limits: { temperatureC: 0.2 } });
  expect(after.events).toEqual(before.events);
});
