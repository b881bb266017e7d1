/** The demo with its probes as Bluetooth devices: the whole program, radio process and all. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, expect, it } from 'vitest';
import * as z from 'zod';
import { stateSchema, type State } from '../../../server/protocol.ts';
import { plateau, type RunningServer, startServer, tempFolder } from '../../program.ts';
import { hasRadioLibrary } from '../../radio-library.mjs';

const ends: (() => unknown)[] = [];
afterEach(async () => {
  for (const end of ends.splice(0).reverse()) await end();
});

async function until(server: RunningServer, wanted: (state: State) => boolean): Promise<State> {
  const end = Date.now() + 60_000;
  for (;;) {
    const state = stateSchema.parse(await (await fetch(`${server.url}/api/state`)).json());
    if (wanted(state)) return state;
    if (Date.now() > end) throw new Error(`it never came to that: ${JSON.stringify(state)}`);
    await new Promise((resolve) => setTimeout(resolve, 200));
  }
}

it.skipIf(!hasRadioLibrary)(
  'finds all probes by radio, works out capacities, and follows what is told',
  { timeout: 120_000 },
  async () => {
    const folder = tempFolder();
    ends.push(folder.remove);
    const args = ['--over-bluetooth', '--port', '0', '--data', folder.path];
    const server = await startServer('demo', args);
    ends.push(() => server.end());

    const state = await until(
      server,
      ({ probes, units }) =>
        Object.values(probes).filter((probe) => probe.state === 'live').length === 7 &&
        ['u1', 'u2'].every((unit) => units[unit]?.capacity.totalW !== null),
    );
    expect(state.simulated).toBe(true);
    for (const [id, probe] of Object.entries(state.probes)) {
      expect(id).toMatch(/^ble:f01ab000000[1-7]$/);
      expect(probe).toMatchObject({ adapter: 'ble', simulated: true });
      expect(probe.signalDbm).toBeLessThan(-40);
    }
    expect(state.probes['ble:f01ab0000001']).toMatchObject({
      ...{ name: 'Reading room return', unit: 'u1', place: 'return', batteryPct: 93 },
    });
    expect(Object.keys(state.probes['ble:f01ab0000007']?.values ?? {})).toEqual(
      expect.arrayContaining(['temperatureC', 'pressurePa']),
    );

    const before = state.units['u1']?.airflow?.flowM3s ?? NaN;
    await fetch(`${server.url}/api/events`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ kind: 'fan', unit: 'u1', speed: 'quiet' }),
    });
    await until(server, ({ units }) => (units['u1']?.airflow?.flowM3s ?? NaN) < 0.8 * before);

    expect(await server.end()).toBe(0);
    const { out } = await plateau(['export', '--data', folder.path]);
    expect(out).toMatch(/"type":"probe","id":"ble:f01ab0000001".*"simulated":true/);
  },
);

it.skipIf(!hasRadioLibrary)(
  'gives its probes up, takes and misses their keys, and lets one be warmed',
  { timeout: 120_000 },
  async () => {
    const folder = tempFolder();
    ends.push(folder.remove);
    const args = ['--over-bluetooth', '--port', '0', '--data', folder.path];
    const server = await startServer('demo', args);
    ends.push(() => server.end());
    const call = async (method: 'PUT' | 'DELETE', path: string, body?: object): Promise<number> => {
      const response = await fetch(`${server.url}/api/${path}`, {
        method,
        ...(body === undefined ? {} : { body: JSON.stringify(body) }),
        headers: body === undefined ? {} : { 'content-type': 'application/json' },
      });
      return response.status;
    };
    const LINKED = 'ble:f01ab0000001';
    const SEALED = 'ble:f01ab0000004';
    await until(
      server,
      ({ probes }) => probes[LINKED]?.state === 'live' && probes[SEALED]?.state === 'live',
    );

    const keys: unknown = JSON.parse(
      readFileSync(join(folder.path, 'bluetooth-keys.json'), 'utf8'),
    );
    const key = z.record(z.string(), z.string()).parse(keys)['f01ab0000004'] ?? '';
    const keyPath = `bluetooth/keys/${encodeURIComponent(SEALED)}`;
    for (const wrong of [null, 'f'.repeat(32)]) {
      expect(await call('PUT', keyPath, { key: wrong })).toBe(200);
      await until(server, ({ probes }) => probes[SEALED]?.needs === 'key');
    }
    expect(await call('PUT', keyPath, { key })).toBe(200);
    await until(
      server,
      ({ probes }) => probes[SEALED]?.state === 'live' && probes[SEALED].needs === undefined,
    );

    for (const id of [LINKED, SEALED]) {
      expect(await call('DELETE', `probes/${encodeURIComponent(id)}`)).toBe(200);
      const back = await until(server, ({ probes }) => probes[id]?.state === 'live');
      expect(back.probes[id]).toMatchObject({ adapter: 'ble', unit: null, place: null });
      expect(back.probes[id]?.name).toMatch(/^Reading room/);
    }

    expect(await call('PUT', 'simulation/warm', { probe: 'p1' })).toBe(404);
    expect(await call('PUT', 'simulation/warm', { probe: LINKED })).toBe(200);
    await until(server, ({ probes }) => (probes[LINKED]?.values.temperatureC ?? 0) > 30);
  },
);

it('goes at the pace of the clock only', async () => {
  const { status, err } = await plateau(['demo', '--over-bluetooth', '--speed', '10']);
  expect(status).toBe(2);
  expect(err.trim()).toBe('plateau: --over-bluetooth goes with neither --speed nor --replay');
});
