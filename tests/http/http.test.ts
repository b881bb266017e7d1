import { hostname } from 'node:os';
import { describe, expect, test } from 'vitest';
import { stateSchema } from '../../server/protocol.ts';
import { allowedHosts, hostnameOf, refuseRequest } from '../../server/http/guard.ts';
import { both, NOW, testServer, type TestServer } from './app.ts';

const headers = { host: 'localhost' };

async function put({ app }: TestServer, url: string, body: object, method: 'PUT' | 'POST' = 'PUT') {
  const response = await app.inject({ method, url, headers, payload: body });
  return { status: response.statusCode, json: response.json<{ error?: string }>() };
}
async function state({ app }: TestServer) {
  const response = await app.inject({ url: '/api/state', headers });
  return stateSchema.parse(response.json());
}
async function place(server: TestServer): Promise<void> {
  const limits = { temperatureC: 0.5, humidityPct: 2.5 };
  const airflow = {
    source: 'entered',
    flowM3s: 0.2,
    basis: 'actual',
    plane: 'supply',
    limitPct: 5,
  };
  expect(
    (await put(server, '/api/visit', { title: 'Mill Lane', mode: 'cooling', pressurePa: 101325 }))
      .status,
  ).toBe(200);
  expect((await put(server, '/api/units/u1', { name: 'Study', airflow })).status).toBe(200);
  expect((await put(server, '/api/probes/r', { unit: 'u1', place: 'return', limits })).status).toBe(
    200,
  );
  expect((await put(server, '/api/probes/s', { unit: 'u1', place: 'supply', limits })).status).toBe(
    200,
  );
}

describe('readings in, capacity out', () => {
  test('new probes appear unplaced; placed at a unit with an airflow they give a capacity', async () => {
    const server = await testServer();
    const { status, json } = await server.post(both(0));
    expect({ status, ...json }).toEqual({ status: 200, taken: 2, refused: [], refusedCount: 0 });
    server.visit.tick();
    expect((await state(server)).probes).toMatchObject({
      r: {
        adapter: 'push',
        unit: null,
        place: null,
        state: 'live',
        values: { temperatureC: 26.7 },
      },
    });
    await place(server);
    server.clock(1000);
    await server.post(both(1000));
    server.clock(2000);
    server.visit.tick();
    const after = await state(server);
    expect(after.units['u1']?.capacity.totalW).toBeGreaterThan(5000);
    expect(after.visit).toMatchObject({ title: 'Mill Lane', pressureSource: 'entered' });
    expect(after.simulated).toBe(false);
  });

  test('a JSON array is taken as well; a recorded series brings its own time', async () => {
    const server = await testServer();
    const rows = both(-86_400_000)
      .split('\n')
      .map((line) => JSON.parse(line) as object);
    expect((await server.post(rows, 'application/json')).json.taken).toBe(2);
    server.visit.tick();
    expect((await state(server)).t).toBe(NOW - 86_400_000);
    // Time goes on from there at the pace of the clock: what falls silent goes stale.
    server.clock(400_000);
    server.visit.tick();
    expect((await state(server)).probes['r']?.state).toBe('lost');
  });

  test('a probe’s own block of lines after another’s is sorted within the body', async () => {
    const server = await testServer();
    const lines = ['r', 's'].flatMap((probe) =>
      [0, 60, 120, 180].map((s) =>
        JSON.stringify({ t: NOW - 200_000 + s * 1000, probe, temperatureC: 20 }),
      ),
    );
    expect((await server.post(lines.join('\n'))).json).toMatchObject({ taken: 8, refused: [] });
  });
});

describe('bad readings: line and field are named, the good ones are taken', () => {
  test.each([
    ['truncated', '{"t":1777885200000,"pro', /is cut short/],
    [
      'wrong type',
      JSON.stringify({ t: NOW, probe: 'x', temperatureC: '20' }),
      /^temperatureC: "20" is a string/,
    ],
    ['no quantity', JSON.stringify({ t: NOW, probe: 'x' }), /has none of temperatureC/],
    [
      'seconds',
      JSON.stringify({ t: NOW / 1000, probe: 'x', temperatureC: 2 }),
      /^t: .*looks like seconds/,
    ],
    [
      'future-dated',
      JSON.stringify({ t: NOW + 3_600_000, probe: 'x', temperatureC: 2 }),
      /^t is 60\.0 min ahead|^t:? .*ahead/,
    ],
    ['another line', '{"type":"unit","id":"u1"}', /^type: "unit" is not taken here/],
    ['binary', '\u0000\u0001\u0002', /not text but binary/],
    [
      'long',
      JSON.stringify({ t: NOW, probe: 'x'.repeat(20_000), temperatureC: 2 }),
      /longer than 16384/,
    ],
  ])('%s', async (_, bad, why) => {
    const server = await testServer();
    const { status, json } = await server.post([both(0), bad, both(500)].join('\n'));
    expect(status).toBe(200);
    expect(json.taken).toBe(4);
    expect(json.refused).toEqual([{ line: 3, why: expect.stringMatching(why) }]);
    const alone = await server.post(bad);
    expect(alone.status).toBe(400);
    expect(alone.json.refused[0]?.line).toBe(1);
  });

  test('the same reading twice, and one that is too late', async () => {
    const server = await testServer();
    await server.post(both(0));
    const again = await server.post(both(0));
    expect(again.status).toBe(400);
    expect(again.json.refused.map((r) => r.why)).toEqual([
      expect.stringMatching(/^t: .*"r" has sent a reading of that time already/),
      expect.stringMatching(/^t: .*"s"/),
    ]);
    const late = await server.post(both(-6000));
    expect(late.json.refused[0]?.why).toMatch(/^t: .*6\.0 s older than the newest/);
  });

  test('too large, empty, and of another content type', async () => {
    const server = await testServer();
    const large = await server.post('x'.repeat(4 * 1024 * 1024 + 1));
    expect(large.status).toBe(413);
    expect(large.json.error).toMatch(/at most 4 MiB/);
    expect((await server.post('\n\n')).json.refused[0]?.why).toMatch(/empty/);
    const other = await server.post('t=1', 'text/plain');
    expect(other.status).toBe(415);
    expect(other.json.error).toMatch(/application\/x-ndjson/);
  });
});

describe('set-up and events', () => {
  test('refusals name field and what is accepted', async () => {
    const server = await testServer();
    await place(server);
    const cases: [string, object, number, RegExp][] = [
      [
        '/api/units/u1/airflow',
        { source: 'entered', flowM3s: 'much', basis: 'actual', plane: 'supply' },
        400,
        /^flowM3s: "much" is a string/,
      ],
      [
        '/api/units/u9/airflow',
        { source: 'entered', flowM3s: 0.2, basis: 'actual', plane: 'supply' },
        404,
        /^unit: there is no unit "u9"/,
      ],
      [
        '/api/probes/r',
        { place: 'attic' },
        400,
        /^place: "attic" is not accepted: it is "return" or "supply"/,
      ],
      ['/api/probes/r', { unit: 'u9' }, 404, /no unit "u9"/],
      ['/api/visit', { pressurePa: 98 }, 400, /^pressurePa: 98 is too small: at least 50000/],
    ];
    for (const [url, body, status, why] of cases) {
      const answer = await put(server, url, body);
      expect(answer.status, url).toBe(status);
      expect(answer.json.error).toMatch(why);
    }
    const event = await put(
      server,
      '/api/events',
      { kind: 'setpoint', unit: 'u1', valueC: 'x' },
      'POST',
    );
    expect(event).toMatchObject({
      status: 400,
      json: { error: expect.stringMatching(/^valueC: "x"/) },
    });
  });

  test('an event is dated, told to the sources, shown and recorded', async () => {
    const server = await testServer();
    const recorded: string[] = [];
    server.visit.recordTo({ add: (line) => recorded.push(line.type) });
    await place(server);
    await server.post(both(0));
    const { status, json } = await put(
      server,
      '/api/events',
      { kind: 'setpoint', unit: 'u1', valueC: 18 },
      'POST',
    );
    expect(status).toBe(200);
    expect(json).toMatchObject({ type: 'event', t: NOW, kind: 'setpoint', unit: 'u1', valueC: 18 });
    expect(server.told).toEqual([json]);
    const { events, visit } = await state(server);
    expect(events).toEqual([json]);
    expect(visit.units['u1']?.setpointC).toBe(18);
    expect(recorded).toEqual(['visit', 'unit', 'probe', 'probe', 'reading', 'reading', 'event']);
  });

  test('an airflow told before the first reading does not shut a recorded series out', async () => {
    const server = await testServer();
    await place(server);
    const airflow = { source: 'entered', flowM3s: 0.1, basis: 'actual', plane: 'supply' };
    expect((await put(server, '/api/units/u1/airflow', airflow)).status).toBe(200);
    expect((await put(server, '/api/events', { kind: 'note', text: 'begin' }, 'POST')).status).toBe(
      200,
    );
    expect((await server.post(both(-86_400_000))).json.taken).toBe(2);
    server.visit.tick();
    expect((await state(server)).units['u1']?.airflow.flowM3s).toBeCloseTo(0.1, 9);
  });

  test('an airflow told during the visit holds from after what is worked out already', async () => {
    const server = await testServer();
    const recorded: { type: string; t?: number | undefined }[] = [];
    server.visit.recordTo({ add: (line) => recorded.push(line) });
    await place(server);
    await server.post(both(0));
    server.clock(3100);
    server.visit.tick();
    const airflow = { source: 'entered', flowM3s: 0.1, basis: 'actual', plane: 'supply' };
    await put(server, '/api/units/u1/airflow', airflow);
    const { t } = await state(server);
    expect(recorded.at(-1)?.t).toBeGreaterThan(t ?? Infinity);
  });

  /** On until it is steady, and two seconds more. */
  async function steady(server: TestServer, fromS = 0): Promise<number> {
    let left = 1000;
    for (let s = fromS; left > 0; s++, left--) {
      server.clock(s * 1000);
      await server.post(both(s * 1000));
      server.visit.tick();
      const isSteady = server.visit.state().units['u1']?.settling.state === 'steady';
      if (isSteady && left > 2) left = 2;
      if (left === 1) return s + 1;
    }
    throw new Error('never steady');
  }

  test('a capture by touch is refused in words, or made, kept and recorded; no source is told', async () => {
    const server = await testServer();
    const recorded: string[] = [];
    server.visit.recordTo({ add: (line) => recorded.push(line.type) });
    await place(server);
    await server.post(both(0));
    const capture = () => put(server, '/api/events', { kind: 'capture', unit: 'u1' }, 'POST');
    expect(await capture()).toMatchObject({
      status: 400,
      json: { error: expect.stringMatching(/^unit: "u1" is not steady: .*wait/) },
    });
    expect(await put(server, '/api/events', { kind: 'capture', unit: 'u9' }, 'POST')).toMatchObject(
      { status: 404 },
    );
    expect(recorded).not.toContain('event');
    await steady(server, 1);
    expect(await capture()).toMatchObject({ status: 200, json: { kind: 'capture', unit: 'u1' } });
    const { captures, events } = await state(server);
    expect(captures).toMatchObject([{ unit: 'u1', by: 'touch', state: 'steady' }]);
    expect(events).toEqual([]);
    expect(server.told).toEqual([]);
    expect(recorded.at(-1)).toBe('event');
  });

  test('a capture is struck out with its own fields, and taken back; no source is told', async () => {
    const server = await testServer();
    const recorded: string[] = [];
    server.visit.recordTo({ add: (line) => recorded.push(JSON.stringify(line)) });
    await place(server);
    await server.post(both(0));
    await steady(server, 1);
    await put(server, '/api/events', { kind: 'capture', unit: 'u1' }, 'POST');
    const [made] = (await state(server)).captures as { from: number; to: number; by: string }[];
    if (made === undefined) throw new Error('no capture');
    const { from, to, by } = made;
    const strike = (more: object) =>
      put(server, '/api/events', { kind: 'strike', unit: 'u1', from, by, ...more }, 'POST');
    const frames: object[] = [];
    server.visit.watch((frame) => frames.push(frame));
    const answer = await strike({ to, text: 'the door was open' });
    expect(answer).toMatchObject({ status: 200, json: { kind: 'strike', from, by } });
    const struck = { t: expect.any(Number), text: 'the door was open' };
    expect((await state(server)).captures).toEqual([{ ...made, struck }]);
    expect(frames).toEqual([{ ...made, struck }]);
    expect(recorded.at(-1)).toContain('"kind":"strike"');
    expect((await strike({ struck: false })).status).toBe(200);
    expect((await state(server)).captures).toEqual([made]);
    expect(await strike({ to: to + 1 })).toMatchObject({
      status: 400,
      json: { error: expect.stringMatching(/^from: no capture of "u1" by touch .* ends at/) },
    });
    expect(await strike({ unit: 'u9' })).toMatchObject({ status: 404 });
    expect(await strike({ by: 'me' })).toMatchObject({ status: 400 });
    expect((await state(server)).events).toEqual([]);
    expect(server.told).toEqual([]);
  });

  test('an event is named and dated anew by the id that its answer gives', async () => {
    const server = await testServer();
    await place(server);
    await server.post(both(0));
    const { json } = await put(
      server,
      '/api/events',
      { kind: 'setpoint', unit: 'u1', valueC: 18, id: 'e5' },
      'POST',
    );
    expect(json).toMatchObject({ id: 'e1' });
    const amend = (more: object) =>
      put(server, '/api/events', { kind: 'amend', event: 'e1', ...more }, 'POST');
    expect((await amend({ text: 'by hand', toT: NOW - 60_000 })).status).toBe(200);
    expect((await state(server)).events).toEqual([{ ...json, t: NOW - 60_000, text: 'by hand' }]);
    expect(server.told).toHaveLength(1);
    expect(await amend({ toT: NOW + 60_000 })).toMatchObject({
      status: 400,
      json: { error: expect.stringMatching(/^toT: .*in the future/) },
    });
    expect(await amend({ event: 'e2', text: 'x' })).toMatchObject({
      status: 400,
      json: { error: expect.stringMatching(/^event: there is no event "e2"/) },
    });
  });

  test('the test for steady and when it captures by itself are set, told and checked', async () => {
    const server = await testServer();
    expect((await state(server)).visit).toMatchObject({ steadyTest: 'field', captureAfterS: 120 });
    const set = (body: object) => put(server, '/api/visit', body);
    expect((await set({ steadyTest: 'strict', captureAfterS: null })).status).toBe(200);
    expect((await state(server)).visit).toMatchObject({
      steadyTest: 'strict',
      captureAfterS: null,
    });
    expect((await set({ captureAfterS: 600 })).status).toBe(200);
    expect((await state(server)).visit.captureAfterS).toBe(600);
    expect(await set({ captureAfterS: -1 })).toMatchObject({
      status: 400,
      json: { error: expect.stringMatching(/^captureAfterS: -1 is too small/) },
    });
    expect(await set({ steadyTest: 'loose' })).toMatchObject({
      status: 400,
      json: { error: expect.stringMatching(/^steadyTest: "loose" is not accepted/) },
    });
  });

  test('OpenAPI knows the events that capture and amend, and the settings of the visit', async () => {
    const { app } = await testServer();
    const docs = JSON.stringify((await app.inject({ url: '/api/docs', headers })).json());
    for (const word of ['"amend"', '"capture"', '"toT"', '"captureAfterS"', '"steadyTest"']) {
      expect(docs).toContain(word);
    }
  });

  test('an outdoor unit and what belongs to it is told, and checked', async () => {
    const server = await testServer();
    const system = { name: 'North yard', model: 'Outdoor 36', lineLengthM: 12, lineHeightM: -3 };
    expect((await put(server, '/api/systems/s1', system)).status).toBe(200);
    expect((await put(server, '/api/units/u1', { system: 's1', form: 'wall' })).status).toBe(200);
    const { visit } = server.visit.state();
    expect(visit.systems).toEqual({ s1: system });
    expect(visit.units['u1']?.details).toEqual({ system: 's1', form: 'wall' });
    const refused = await put(server, '/api/systems/s1', { lineLengthM: 900 });
    expect(refused.status).toBe(400);
    expect(refused.json.error).toContain('lineLengthM');
    expect(server.visit.state().visit.systems).toEqual({ s1: system });
  });

  test('OpenAPI lists every call', async () => {
    const { app } = await testServer();
    const docs = (await app.inject({ url: '/api/docs', headers })).json<{ paths: object }>();
    expect(Object.keys(docs.paths).sort()).toEqual([
      '/api/airflows/earlier',
      '/api/bluetooth/keys/{address}',
      '/api/captures/earlier',
      '/api/captures/photo',
      '/api/events',
      '/api/health',
      '/api/history',
      '/api/outlets/known',
      '/api/outlets/{outlet}',
      '/api/phones',
      '/api/phones/codes',
      '/api/phones/{phone}',
      '/api/photos/{photo}',
      '/api/probes/{probe}',
      '/api/readings',
      '/api/replay',
      '/api/sending',
      '/api/session',
      '/api/simulation/warm',
      '/api/state',
      '/api/stream',
      '/api/systems/{system}',
      '/api/units/{unit}',
      '/api/units/{unit}/airflow',
      '/api/units/{unit}/expectation',
      '/api/visit',
      '/api/visits',
      '/api/visits/{visit}',
      '/api/visits/{visit}/captures.csv',
      '/api/visits/{visit}/go-on',
      '/api/visits/{visit}/keep',
      '/api/visits/{visit}/log',
      '/api/visits/{visit}/readings.csv',
      '/api/visits/{visit}/report.pdf',
    ]);
  });

  test('readings that cannot be kept any more are refused whole: 507 and why', async () => {
    const server = await testServer();
    const why = 'The visit is not being recorded: the disk is full.';
    server.setFull(why);
    expect(await server.post(both(0))).toEqual({ status: 507, json: { error: why } });
    expect(server.record).toEqual([]);
    server.setFull(null);
    expect(await server.post(both(0))).toMatchObject({ status: 200, json: { taken: 2 } });
  });

  test('health, an unknown call, a bad query', async () => {
    const { app } = await testServer();
    expect((await app.inject({ url: '/api/health', headers })).json()).toEqual({
      ok: true,
      version: '0.0.0',
      recording: true,
    });
    const none = await app.inject({ url: '/api/nothing', headers });
    expect(none.statusCode).toBe(404);
    expect(none.json<{ error: string }>().error).toMatch(/\/api\/docs/);
    const query = await app.inject({ url: '/api/history?since=yesterday', headers });
    expect(query.statusCode).toBe(400);
    expect(query.json<{ error: string }>().error).toMatch(/^since: "yesterday"/);
  });
});

describe('strangers are kept out', () => {
  const allowed = allowedHosts('127.0.0.1', ['shop.local']);
  test.each([
    ['localhost:4747', undefined, true],
    ['127.0.0.1:4747', 'http://127.0.0.1:4747', true],
    ['[::1]:4747', 'http://[::1]:4747', true],
    ['SHOP.local', 'http://shop.local', true],
    ['rebound.example:4747', undefined, false],
    ['rebound.example:4747', 'http://rebound.example:4747', false],
    ['localhost:4747', 'http://rebound.example', false],
    ['localhost:4747', 'http://localhost:8080', false],
    ['localhost:4747', 'null', false],
    ['localhost.rebound.example', undefined, false],
    ['localhost@rebound.example', undefined, false],
    ['', undefined, false],
    [undefined, undefined, false],
  ])('Host %s, Origin %s: %s', (host, origin, taken) => {
    expect(refuseRequest(allowed, host, origin) === null).toBe(taken);
  });

  test('on every path, also for what does not exist, before anything is read', async () => {
    const { app } = await testServer();
    for (const url of ['/', '/api/state', '/api/nothing', '/api/stream']) {
      const response = await app.inject({ url, headers: { host: 'rebound.example' } });
      expect(response.statusCode, url).toBe(403);
      expect(response.json<{ error: string }>().error).toMatch(/--allowed-host/);
    }
    const post = await app.inject({
      method: 'POST',
      url: '/api/events',
      headers: { ...headers, origin: 'http://elsewhere.example' },
      payload: { kind: 'note', text: 'x' },
    });
    expect(post.statusCode).toBe(403);
  });

  test('listening everywhere it answers to its name on the local network', () => {
    const name = hostname()
      .toLowerCase()
      .replace(/\.local$/, '');
    const everywhere = allowedHosts('0.0.0.0', []);
    for (const host of [name, `${name}.local`, `${name}.local:4747`]) {
      expect(refuseRequest(everywhere, host, undefined)).toBeNull();
    }
  });

  test('names without their ports', () => {
    expect(hostnameOf('[FE80::1]:80')).toBe('fe80::1');
    expect(hostnameOf('a b')).toBeNull();
  });
});
