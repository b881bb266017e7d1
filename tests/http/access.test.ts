/** Whoever comes from another machine, and what they try. */
import { describe, expect, test } from 'vitest';
import { WebSocket } from 'ws';
import { both, NOW, testServer, type TestServer } from './app.ts';

/** A phone on the network of the house, and a stranger's on the same. */
const PHONE = '192.0.2.20';
const STRANGER = '192.0.2.66';
/** As the phone calls this computer: an address that is its own is needed, and a name always is. */
const HOST = 'localhost:4747';

interface Asked {
  from?: string;
  method?: 'DELETE' | 'GET' | 'POST' | 'PUT';
  headers?: Record<string, string>;
  cookie?: string | null;
  body?: object;
}

async function ask(
  { app }: TestServer,
  url: string,
  { from = PHONE, method = 'GET', headers = {}, cookie = null, body }: Asked = {},
) {
  const response = await app.inject({
    ...{ url, method, remoteAddress: from },
    headers: { host: HOST, ...headers, ...(cookie === null ? {} : { cookie }) },
    ...(body === undefined ? {} : { payload: body }),
  });
  const text = response.body;
  const json = text.startsWith('{') ? (JSON.parse(text) as Record<string, unknown>) : {};
  return { status: response.statusCode, json, headers: response.headers };
}

/** Joins with a code. @returns the cookie that the phone then holds, null where it was not let in */
async function join(server: TestServer, code: string, from = PHONE, name = 'Ana') {
  const said = await ask(server, '/api/session', { from, method: 'POST', body: { code, name } });
  const [cookie] = [said.headers['set-cookie'] ?? null].flat();
  return { ...said, cookie: cookie?.split(';')[0] ?? null, attributes: cookie ?? '' };
}

async function letIn(server: TestServer, role: 'viewer' | 'operator', from = PHONE, name = 'Ana') {
  const { cookie } = await join(server, server.book.newCode(role).code, from, name);
  if (cookie === null) throw new Error('was not let in');
  return cookie;
}

/** Every call there is, as the documentation of the server itself names them. */
async function everyCall({ app }: TestServer): Promise<[string, string][]> {
  const docs = await app.inject({ url: '/api/docs', headers: { host: 'localhost' } });
  const { paths } = docs.json<{ paths: Record<string, object> }>();
  return Object.entries(paths).flatMap(([path, methods]) =>
    Object.keys(methods).map((method): [string, string] => [
      method.toUpperCase(),
      path.replace(/\{\w+\}/g, 'x'),
    ]),
  );
}

describe('without --lan', () => {
  test('nothing is open to another machine, not even the page', async () => {
    const server = await testServer();
    for (const url of ['/', '/api/state', '/api/health', '/api/session']) {
      const { status, json } = await ask(server, url);
      expect([url, status]).toEqual([url, 403]);
      expect(json['error']).toMatch(/Only the computer that runs Plateau.*--lan/);
    }
  });

  test('a program that lends its address lets nobody else in', async () => {
    const server = await testServer();
    for (const header of ['x-forwarded-for', 'forwarded', 'via', 'x-real-ip']) {
      const headers = { [header]: header === 'forwarded' ? `for=${STRANGER}` : STRANGER };
      const { status } = await ask(server, '/api/state', { from: '127.0.0.1', headers });
      expect([header, status]).toEqual([header, 403]);
    }
    expect((await ask(server, '/api/state', { from: '127.0.0.1' })).status).toBe(200);
  });

  test('makes no codes', async () => {
    const server = await testServer();
    const { status, json } = await ask(server, '/api/phones/codes', {
      ...{ from: '127.0.0.1', method: 'POST', body: { role: 'operator' } },
    });
    expect(status).toBe(409);
    expect(json['error']).toMatch(/--lan/);
  });
});

describe('no code', () => {
  test('reads and writes nothing, at any call', async () => {
    const server = await testServer({ lan: true });
    await server.post(both(0));
    const calls = await everyCall(server);
    expect(calls.length).toBeGreaterThan(30);
    for (const [method, url] of calls) {
      if (url === '/api/session') continue;
      const { status, json } = await ask(server, url, {
        method: method as 'GET',
        ...(method === 'POST' || method === 'PUT' ? { body: {} } : {}),
      });
      expect([method, url, status]).toEqual([method, url, 401]);
      expect(Object.keys(json)).toEqual(['error']);
    }
    expect((await ask(server, '/api/docs')).status).toBe(401);
    expect((await ask(server, '/api/session')).json).toEqual({
      ...{ role: null, id: null, name: null, lan: true },
    });
  });

  test('other spellings of an address open nothing', async () => {
    const server = await testServer({ lan: true });
    const spellings = ['/%61pi/state', '/api/%73tate', '//api/state', '/api//state', '/API/state'];
    for (const url of [...spellings, '/api/state/', '/x/../api/state', '/api/state?a=/session']) {
      const { status, json } = await ask(server, url);
      expect([url, status === 401 || status === 404]).toEqual([url, true]);
      expect(json['probes']).toBeUndefined();
    }
  });

  test('a computer that brings another name is not this one', async () => {
    const server = await testServer({ lan: true });
    const headers = { host: '192.0.2.7:4747' };
    // Called by the address that phones use, as by a tunnel that ends here.
    const { status } = await ask(server, '/api/state', { from: '127.0.0.1', headers });
    expect([401, 403]).toContain(status);
  });
});

describe('codes', () => {
  test('make a viewer or an operator, once', async () => {
    const server = await testServer({ lan: true });
    const { code, untilT } = server.book.newCode('operator');
    expect(code).toMatch(/^\d{8}$/);
    expect(untilT - NOW).toBe(600_000);
    const joined = await join(server, `${code.slice(0, 4)} ${code.slice(4)}`);
    expect(joined).toMatchObject({ status: 200, json: { role: 'operator', name: 'Ana' } });
    expect(joined.attributes).toMatch(/HttpOnly/);
    expect(joined.attributes).toMatch(/SameSite=Strict/);
    expect(JSON.stringify(joined.json)).not.toContain(joined.cookie?.split('=')[1]);
    expect((await ask(server, '/api/state', { cookie: joined.cookie })).status).toBe(200);
    const again = await join(server, code, STRANGER);
    expect(again).toMatchObject({ status: 401, cookie: null });
    expect(again.json['error']).toMatch(/works once, for ten minutes/);
  });

  test('are of no use after ten minutes, or when the visit has ended', async () => {
    const server = await testServer({ lan: true });
    const { code } = server.book.newCode('viewer');
    server.clock(600_001);
    expect((await join(server, code)).status).toBe(401);
    const other = server.book.newCode('viewer').code;
    server.book.endVisit('It has ended.');
    expect((await join(server, other)).status).toBe(401);
  });

  test('wrong ones: five from one address in a minute, then it waits, even with the right one', async () => {
    const server = await testServer({ lan: true });
    const { code } = server.book.newCode('operator');
    for (let i = 0; i < 5; i++) expect((await join(server, '00000000', STRANGER)).status).toBe(401);
    const held = await join(server, code, STRANGER);
    expect(held.status).toBe(429);
    expect(held.json['error']).toMatch(/wait \d+ seconds/);
    expect(held.headers['retry-after']).toBe('60');
    // Others are not kept waiting by it.
    expect((await join(server, code, PHONE)).status).toBe(200);
    server.clock(60_001);
    const fresh = server.book.newCode('viewer').code;
    expect((await join(server, fresh, STRANGER)).status).toBe(200);
  });

  test('wrong ones from many addresses: sixty a minute together', async () => {
    const server = await testServer({ lan: true });
    let tried = 0;
    for (let i = 0; i < 100; i++) {
      const { status } = await join(server, '00000000', `198.51.100.${i}`);
      if (status === 401) tried++;
    }
    expect(tried).toBe(60);
  });

  test('stand in no address, no answer but the one that makes them, and no frame', async () => {
    const server = await testServer({ lan: true });
    const owner = { from: '127.0.0.1', method: 'POST' as const, body: { role: 'viewer' } };
    const code = String((await ask(server, '/api/phones/codes', owner)).json['code']);
    const phones = await ask(server, '/api/phones', { from: '127.0.0.1' });
    expect(phones.json).toMatchObject({ codes: 1, phones: [] });
    expect(JSON.stringify([phones.json, server.visit.state()])).not.toContain(code);
    // What stands in an address comes into logs: no call takes one there.
    expect((await ask(server, `/api/session?code=${code}`)).json['role']).toBeNull();
    expect((await ask(server, `/api/state?code=${code}`)).status).toBe(401);
  });
});

describe('sessions', () => {
  test('a viewer reads this visit and changes nothing', async () => {
    const server = await testServer({ lan: true });
    await server.post(both(0));
    const cookie = await letIn(server, 'viewer');
    const before = JSON.stringify(server.visit.state());
    for (const [method, url] of await everyCall(server)) {
      if (method === 'GET' || url === '/api/session') continue;
      const { status, json } = await ask(server, url, {
        ...{ method: method as 'PUT', cookie },
        ...(method === 'DELETE' ? {} : { body: {} }),
      });
      expect([method, url, status]).toEqual([method, url, 403]);
      expect(json['error']).toMatch(/to look, not to change|at the computer/);
    }
    expect(JSON.stringify(server.visit.state())).toBe(before);
    expect((await ask(server, '/api/state', { cookie })).status).toBe(200);
  });

  test('an operator changes this visit, and lets nobody in', async () => {
    const server = await testServer({ lan: true });
    const cookie = await letIn(server, 'operator');
    const put = { cookie, method: 'PUT' as const, body: { name: 'Study' } };
    expect((await ask(server, '/api/units/u1', put)).status).toBe(200);
    expect(server.visit.state().visit.units['u1']?.name).toBe('Study');
    const post = { cookie, method: 'POST' as const, body: { role: 'operator' } };
    expect((await ask(server, '/api/phones/codes', post)).status).toBe(403);
    expect((await ask(server, '/api/phones', { cookie })).status).toBe(403);
    expect((await ask(server, '/api/visits', { ...post, body: {} })).status).toBe(403);
  });

  test('a cookie that another machine replays is nobody’s', async () => {
    const server = await testServer({ lan: true });
    const cookie = await letIn(server, 'operator');
    expect((await ask(server, '/api/state', { cookie })).status).toBe(200);
    expect((await ask(server, '/api/state', { cookie, from: STRANGER })).status).toBe(401);
    expect((await ask(server, '/api/state', { cookie })).status).toBe(200);
  });

  test('one that was withdrawn, or left, is of no use any more', async () => {
    const server = await testServer({ lan: true });
    const cookie = await letIn(server, 'operator');
    const { json } = await ask(server, '/api/phones', { from: '127.0.0.1' });
    const [phone] = json['phones'] as { id: string; name: string; address: string }[];
    expect(phone).toMatchObject({ name: 'Ana', address: PHONE });
    const out = { from: '127.0.0.1', method: 'DELETE' as const };
    expect((await ask(server, `/api/phones/${phone?.id}`, out)).status).toBe(200);
    expect((await ask(server, '/api/state', { cookie })).status).toBe(401);
    const other = await letIn(server, 'viewer');
    await ask(server, '/api/session', { cookie: other, method: 'DELETE' });
    expect((await ask(server, '/api/state', { cookie: other })).status).toBe(401);
  });

  test('end with the visit', async () => {
    const server = await testServer({ lan: true });
    const cookie = await letIn(server, 'operator');
    server.book.endVisit('The visit has ended.');
    expect((await ask(server, '/api/state', { cookie })).status).toBe(401);
  });

  test('made-up and damaged cookies are nobody’s', async () => {
    const server = await testServer({ lan: true });
    const cookie = await letIn(server, 'operator');
    const [name, token = ''] = cookie.split('=');
    const changed = (token.startsWith('A') ? 'B' : 'A') + token.slice(1);
    const made = [changed, '', token.slice(0, -1), `${token}A`, '__proto__', '%00', 'phone-1'];
    for (const each of made) {
      const { status } = await ask(server, '/api/state', { cookie: `${name}=${each}` });
      expect([each, status]).toEqual([each, 401]);
    }
  });

  test('1200 calls a minute, then 429 with how long to wait; the computer itself is not held up', async () => {
    const server = await testServer({ lan: true });
    const cookie = await letIn(server, 'viewer');
    let passed = 0;
    let said: Awaited<ReturnType<typeof ask>> | null = null;
    for (let i = 0; i < 1210 && said === null; i++) {
      const answer = await ask(server, '/api/session', { cookie });
      if (answer.status === 200) passed++;
      else said = answer;
    }
    expect(passed).toBe(1200);
    expect(said).toMatchObject({ status: 429 });
    expect(said?.json['error']).toMatch(/Too many calls in a minute: wait \d+ seconds/);
    expect((await ask(server, '/api/session', { from: '127.0.0.1' })).status).toBe(200);
  });
});

describe('names and origins', () => {
  test('a rebound name, and a page of another origin, are refused with a cookie too', async () => {
    const server = await testServer({ lan: true });
    const cookie = await letIn(server, 'operator');
    const rebound = { cookie, headers: { host: 'rebound.example' } };
    expect((await ask(server, '/api/state', rebound)).status).toBe(403);
    const other = { cookie, headers: { origin: 'http://evil.example' } };
    expect((await ask(server, '/api/state', other)).status).toBe(403);
    const put = { ...other, method: 'PUT' as const, body: { title: 'x' } };
    expect((await ask(server, '/api/visit', put)).status).toBe(403);
    const own = { cookie, headers: { origin: `http://${HOST}` } };
    expect((await ask(server, '/api/state', own)).status).toBe(200);
  });
});

describe('the stream', () => {
  /** Opens it as somebody at this computer who has joined: a real socket has a real address. */
  function open(port: number, headers: Record<string, string>) {
    const socket = new WebSocket(`ws://127.0.0.1:${port}/api/stream`, { headers });
    const frames: { type: string; by?: string; name?: string; what?: string }[] = [];
    socket.on('message', (data) => {
      frames.push(JSON.parse((data as Buffer).toString()) as (typeof frames)[number]);
    });
    const closed = new Promise<{ code: number; reason: string }>((resolve) => {
      socket.on('close', (code, reason) => resolve({ code, reason: reason.toString() }));
      socket.on('unexpected-response', (_request, { statusCode = 0 }) =>
        resolve({ code: statusCode, reason: '' }),
      );
      socket.on('error', () => undefined);
    });
    const opened = new Promise<void>((resolve) => socket.once('message', () => resolve()));
    return { socket, frames, closed, opened };
  }

  async function listening() {
    const server = await testServer({ lan: true });
    await server.app.listen({ port: 0, host: '127.0.0.1' });
    const address = server.app.server.address();
    const port = typeof address === 'object' && address !== null ? address.port : 0;
    /** Joins over the socket: the name of the cookie holds the port. */
    const joined = async (role: 'viewer' | 'operator', name: string): Promise<string> => {
      const response = await fetch(`http://127.0.0.1:${port}/api/session`, {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: JSON.stringify({ code: server.book.newCode(role).code, name }),
      });
      return response.headers.getSetCookie()[0]?.split(';')[0] ?? '';
    };
    return { server, port, joined };
  }

  test('needs a code as everything does, and a name of this server', async () => {
    const { port, joined } = await listening();
    const forwarded = { 'x-forwarded-for': STRANGER };
    expect((await open(port, forwarded).closed).code).toBe(401);
    const cookie = await joined('viewer', 'Ana');
    expect((await open(port, { cookie, host: 'rebound.example' }).closed).code).toBe(403);
    const foreign = { cookie, origin: 'http://evil.example' };
    expect((await open(port, foreign).closed).code).toBe(403);
    const { opened, socket } = open(port, { ...forwarded, cookie });
    await opened;
    socket.close();
  });

  test('ends at once when its phone is withdrawn, with why; others go on', async () => {
    const { server, port, joined } = await listening();
    const phone = open(port, { cookie: await joined('operator', 'Ana') });
    const other = open(port, { cookie: await joined('viewer', 'Ben') });
    await Promise.all([phone.opened, other.opened]);
    const [ana] = server.book.sessions;
    await fetch(`http://127.0.0.1:${port}/api/phones/${ana?.id}`, { method: 'DELETE' });
    expect(await phone.closed).toEqual({
      code: 1008,
      reason: 'You were signed off at the computer. Ask there for a new code.',
    });
    expect(other.socket.readyState).toBe(WebSocket.OPEN);
    other.socket.close();
  });

  test('tells everybody who has changed what', async () => {
    const { server, port, joined } = await listening();
    const cookie = await joined('operator', 'Ana');
    const viewer = open(port, { cookie: await joined('viewer', 'Ben') });
    await viewer.opened;
    const put = (path: string, body: object) =>
      fetch(`http://127.0.0.1:${port}/api/${path}`, {
        method: 'PUT',
        headers: { cookie, 'content-type': 'application/json' },
        body: JSON.stringify(body),
      });
    expect((await put('units/u1', { name: 'Study' })).status).toBe(200);
    expect((await put('units/u1', { name: 7 })).status).toBe(400); // nothing was changed
    await server.post(both(0)); // readings are nobody's doing
    await put('visit', { title: 'Mill Lane' });
    await expect
      .poll(() => viewer.frames.filter(({ type }) => type === 'changed'))
      .toEqual([
        { type: 'changed', by: 'phone-1', name: 'Ana', what: 'units/u1' },
        { type: 'changed', by: 'phone-1', name: 'Ana', what: 'visit' },
      ]);
    viewer.socket.close();
  });
});
