/** A replay over HTTP: led by one call, and altered by none. */
import { afterEach, describe, expect, test } from 'vitest';
import { createPushAdapter } from '../../adapters/push/index.ts';
import type { FastifyInstance } from 'fastify';
import { buildApp } from '../../server/http/app.ts';
import { AccessBook } from '../../server/http/access/book.ts';
import { allowedHosts } from '../../server/http/guard.ts';
import { type Replay, stateSchema } from '../../server/protocol.ts';
import { LiveVisit } from '../../server/visit.ts';
import { NOW, testServer } from './app.ts';
import type { ReplayDesk } from '../../server/http/stage.ts';

const PLAYED: Replay = {
  ...{ type: 'replay', speed: 1, paused: false, from: NOW, to: NOW + 3_600_000, at: NOW },
  ...{ toT: null, jumps: 0, ended: false },
};

let app: FastifyInstance | null = null;
afterEach(() => app?.close());

async function replayServer() {
  const visit = new LiveVisit(() => NOW);
  visit.recorded({ type: 'unit', id: 'u1', name: 'Study' }, { adapter: null, simulated: false });
  const asked: unknown[] = [];
  const desk: ReplayDesk = {
    state: () => PLAYED,
    change: async (change) => {
      asked.push(change);
      return (change.toT ?? NOW) < NOW ? 'toT: 5 is outside the visit log' : null;
    },
  };
  visit.replayed(PLAYED);
  const push = createPushAdapter({ now: () => NOW });
  const book = new AccessBook({ now: () => NOW, steady: () => NOW });
  app = await buildApp({
    house: {
      ...{ visit, replay: desk },
      push: (readings, turn) => push.push(readings, turn),
      told: () => asked.push('told'),
      forgot: () => asked.push('forgot'),
      setKey: () => null,
    },
    access: {
      ...{ book, lan: false, secure: false, allowed: allowedHosts('127.0.0.1', []) },
      urls: () => [],
    },
    ...{ version: '0.0.0', clientDir: '/nowhere' },
  });
  return { visit, asked, app };
}

async function call(
  on: FastifyInstance,
  method: 'DELETE' | 'GET' | 'POST' | 'PUT',
  url: string,
  payload?: object,
) {
  const headers = { host: 'localhost' };
  const response = await on.inject({
    ...{ method, url, headers },
    ...(payload === undefined ? {} : { payload }),
  });
  return { status: response.statusCode, json: response.json<Record<string, unknown>>() };
}

const READING = { t: NOW, probe: 'p1', temperatureC: 21 };
const CALLS = [
  ['POST', '/api/readings', [READING]],
  ['POST', '/api/events', { kind: 'note', unit: 'u1', text: 'door open' }],
  ['POST', '/api/events', { kind: 'capture', unit: 'u1' }],
  ['POST', '/api/events', { kind: 'nothing that there is' }],
  ['PUT', '/api/visit', { title: 'Another' }],
  ['PUT', '/api/units/u1', { name: 'Another' }],
  ['PUT', '/api/units/u2', { name: 'Another' }],
  [
    'PUT',
    '/api/units/u1/airflow',
    { source: 'entered', flowM3s: 0.1, basis: 'actual', plane: 'supply' },
  ],
  ['PUT', '/api/systems/s1', { name: 'Another' }],
  ['PUT', '/api/units/u1/expectation', { mode: 'cooling', points: [] }],
  ['PUT', '/api/outlets/o1', { unit: 'u1', sections: [{ widthM: 0.1, lengthM: 0.6 }] }],
  ['PUT', '/api/probes/p1', { name: 'Another' }],
  ['DELETE', '/api/probes/p1', undefined],
  ['POST', '/api/visits', { like: null }],
  ['POST', '/api/visits/u1/go-on', undefined],
  ['POST', '/api/visits/u1/keep', undefined],
  ['POST', '/api/captures/photo', undefined],
  ['PUT', '/api/bluetooth/keys/p1', { key: null }],
  ['PUT', '/api/simulation/warm', { probe: null }],
] as const;

describe('a replay', () => {
  test.each(CALLS)('is not altered by %s %s', async (method, url, payload) => {
    const { visit, asked, app: on } = await replayServer();
    const before = JSON.stringify(visit.state());
    const { status, json } = await call(on, method, url, payload);
    expect(status).toBe(409);
    expect(json['error']).toBe(
      'This is a replay of a visit log: it cannot be altered, and nothing of this was taken. ' +
        'To measure, start Plateau without --replay.',
    );
    expect(JSON.stringify(visit.state())).toBe(before);
    expect(asked).toEqual([]);
  });

  // The calls that change something are all in the list above, or change how it is played.
  test('has no other call that changes something', async () => {
    const { app: on } = await replayServer();
    const { paths } = (await call(on, 'GET', '/api/docs')).json as {
      paths: Record<string, Record<string, unknown>>;
    };
    const known = new Set(
      CALLS.map(([method, url]) => `${method} ${url.replace(/\/(u1|u2|p1|s1|o1)/, '/{id}')}`),
    );
    const all = Object.entries(paths).flatMap(([path, methods]) =>
      Object.keys(methods).map((m) => `${m.toUpperCase()} ${path.replace(/\{\w+\}/, '{id}')}`),
    );
    const others = all.filter((each) => !each.startsWith('GET') && !known.has(each));
    expect(others).toEqual([
      'PUT /api/replay',
      // Who looks on is nothing in the log.
      'POST /api/session',
      'DELETE /api/session',
      'POST /api/phones/codes',
      'DELETE /api/phones/{id}',
    ]);
  });

  test('is read as ever, and says that it is one', async () => {
    const { app: on } = await replayServer();
    const state = stateSchema.parse((await call(on, 'GET', '/api/state')).json);
    expect(state.replay).toEqual(PLAYED);
    expect((await call(on, 'GET', '/api/history')).status).toBe(200);
    expect((await call(on, 'GET', '/api/health')).json).toMatchObject({ recording: false });
  });

  test('is led: speed, pause and a time to jump to', async () => {
    const { asked, app: on } = await replayServer();
    const change = { speed: 30, paused: true, toT: NOW + 60_000 };
    expect(await call(on, 'PUT', '/api/replay', change)).toEqual({ status: 200, json: PLAYED });
    expect(asked).toEqual([change]);
  });

  test.each([
    [{ speed: 0 }, /^speed: /],
    [{ speed: 1001 }, /^speed: /],
    [{ paused: 'yes' }, /^paused: /],
    [{ toT: 'noon' }, /^toT: /],
    [{ toT: 5 }, /^toT: 5 is outside the visit log$/],
    [{}, /give speed, paused or toT/],
  ])('refuses %j with a sentence', async (change, why) => {
    const { app: on } = await replayServer();
    const { status, json } = await call(on, 'PUT', '/api/replay', change);
    expect(status).toBe(400);
    expect(json['error']).toMatch(why);
  });
});

test('where nothing is replayed there is nothing to lead', async () => {
  const { app: on } = await testServer();
  const { status, json } = await call(on, 'PUT', '/api/replay', { paused: true });
  expect(status).toBe(404);
  expect(json['error']).toMatch(
    /^Nothing is being replayed here: start Plateau with --replay FILE/,
  );
  expect((await call(on, 'GET', '/api/state')).json['replay']).toBeNull();
});
