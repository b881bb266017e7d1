/** The calls about probes: forgetting, the keys of their broadcasts, taking a simulated one in hand. */
import { describe, expect, test } from 'vitest';
import { stateSchema } from '../../server/protocol.ts';
import { both, NOW, testServer, type TestServer } from './app.ts';

const headers = { host: 'localhost' };
const KEY = '231d39c1d7cc1ab1aee224cd096db932';

async function call(
  { app }: TestServer,
  method: 'DELETE' | 'POST' | 'PUT',
  url: string,
  body?: object,
) {
  const response = await app.inject({
    ...{ method, url, headers },
    ...(body === undefined ? {} : { payload: body }),
  });
  return { status: response.statusCode, text: response.body, error: errorOf(response.json()) };
}
function errorOf(json: unknown): string | null {
  if (typeof json !== 'object' || json === null || !('error' in json)) return null;
  return String(json.error);
}
async function probes({ app }: TestServer) {
  return stateSchema.parse((await app.inject({ url: '/api/state', headers })).json()).probes;
}

describe('DELETE /api/probes/:probe', () => {
  test('forgets it, tells the sources, and the record says when', async () => {
    const server = await testServer();
    const recorded: object[] = [];
    await server.post(both(0));
    server.visit.recordTo({ add: (line) => recorded.push(line) });
    server.clock(1000);
    server.visit.tick();
    expect((await call(server, 'DELETE', '/api/probes/r')).status).toBe(200);
    expect(Object.keys(await probes(server))).toEqual(['s']);
    expect(server.forgotten).toEqual(['r']);
    expect(recorded).toEqual([{ type: 'probe', id: 'r', t: expect.any(Number), forgotten: true }]);
    server.clock(2000);
    await server.post(both(2000));
    expect((await probes(server))['r']).toMatchObject({ name: 'r', place: null, limits: {} });
  });

  test('one that is not known: 404, in words', async () => {
    const server = await testServer();
    const { status, error } = await call(server, 'DELETE', '/api/probes/x%20y');
    expect(status).toBe(404);
    expect(error).toBe('probe: there is no probe "x y" in this visit');
    expect(server.forgotten).toEqual([]);
  });

  test('one that lies in a check: refused, in words, and no source is told', async () => {
    const server = await testServer();
    await server.post(both(0));
    const check = { kind: 'check', phase: 'start', probes: ['r', 's'] };
    expect((await call(server, 'POST', '/api/events', check)).status).toBe(200);
    const { status, error } = await call(server, 'DELETE', '/api/probes/r');
    expect(status).toBe(400);
    expect(error).toMatch(/^probe: "r" lies in a side-by-side check: end the check/);
    expect(server.forgotten).toEqual([]);
    expect(Object.keys(await probes(server))).toEqual(['r', 's']);
  });

  test('a probe whose id is long can be named and forgotten as well', async () => {
    const server = await testServer();
    const url = `/api/probes/${encodeURIComponent('読'.repeat(128))}`;
    expect((await call(server, 'PUT', url, { name: 'long' })).status).toBe(200);
    expect((await call(server, 'DELETE', url)).status).toBe(200);
  });

  test('a probe that is moved while its readings come is moved at a time', async () => {
    const server = await testServer();
    const recorded: { type: string; t?: number | undefined }[] = [];
    server.visit.recordTo({ add: (line) => recorded.push(line) });
    await call(server, 'PUT', '/api/probes/r', { name: 'Return' });
    await server.post(both(0));
    server.clock(4000);
    server.visit.tick();
    await call(server, 'PUT', '/api/probes/r', { place: 'outdoor' });
    const times = recorded.flatMap(({ type, t }) => (type === 'probe' ? [t] : []));
    expect(times).toEqual([undefined, NOW + 4001]);
  });
});

describe('PUT /api/bluetooth/keys/:address', () => {
  const put = (server: TestServer, key: unknown, address = 'ble%3A00aa01010001') =>
    call(server, 'PUT', `/api/bluetooth/keys/${address}`, key === undefined ? {} : { key });

  test('hands the key on, in one spelling, or takes it away', async () => {
    const server = await testServer();
    const spelt = KEY.toUpperCase().replaceAll(/(..)(?=.)/g, '$1:');
    expect(await put(server, spelt)).toMatchObject({ status: 200, text: '{"ok":true}' });
    expect((await put(server, null)).status).toBe(200);
    expect(server.keys).toEqual([
      ['ble:00aa01010001', KEY],
      ['ble:00aa01010001', null],
    ]);
  });

  test.each([
    [undefined, /^key: is missing/],
    [KEY.slice(1), /^key: has 31 digits: a key has 32/],
    [`${KEY}0`, /^key: has 33 digits/],
    [`${KEY.slice(2)}zz`, /^key: holds other characters than digits/],
    ['', /^key: has 0 digits/],
    [23139, /^key: is not a text/],
    [[KEY], /^key: is not a text/],
  ])('what is no key is refused without being quoted (%#)', async (key, why) => {
    const server = await testServer();
    const { status, error, text } = await put(server, key);
    expect(status).toBe(400);
    expect(error).toMatch(why);
    expect(text).not.toContain(KEY.slice(2, 12));
    expect(server.keys).toEqual([]);
  });

  test('what the source says against it is answered', async () => {
    const { status, error } = await put(await testServer(), KEY, 'full');
    expect([status, error]).toEqual([400, 'The key could not be written: see to the data folder.']);
  });

  test('no call tells a key', async () => {
    const server = await testServer();
    await put(server, KEY);
    await server.post(both(0));
    for (const url of ['/api/state', '/api/history', '/api/docs', '/api/health']) {
      expect((await server.app.inject({ url, headers })).body).not.toContain(KEY);
    }
    const { statusCode } = await server.app.inject({ url: '/api/bluetooth/keys/full', headers });
    expect(statusCode).toBe(404);
  });
});

describe('PUT /api/simulation/warm', () => {
  test('where nothing is simulated it says so', async () => {
    const { status, error } = await call(await testServer(), 'PUT', '/api/simulation/warm', {
      probe: 'p1',
    });
    expect([status, error]).toEqual([404, expect.stringMatching(/^Nothing is simulated here/)]);
  });
});
