/** A class over HTTP: who leads it, who is in it, and what each of them may. */
import { afterEach, describe, expect, test, vi } from 'vitest';
import { Classroom } from '../../server/class/classroom.ts';
import type { Lesson } from '../../server/class/lesson.ts';
import { LESSONS } from '../../server/class/lessons.ts';
import type { ClassState, Mine } from '../../server/protocol/class.ts';
import type { State } from '../../server/protocol.ts';
import example from '../../server/class/example-lesson.json' with { type: 'json' };
import { NOW, testServer, type TestServer } from './app.ts';

afterEach(() => {
  vi.useRealTimers();
});

/** A server with a class of its own; its time is that of fake timers. */
async function classServer() {
  vi.useFakeTimers({ now: NOW, toFake: ['setInterval', 'clearInterval', 'Date'] });
  const kept: Lesson[] = [];
  const server = await testServer({
    lan: true,
    classroom: (book) => ({
      room: new Classroom({
        now: () => NOW,
        steady: () => Date.now() - NOW,
        every: (ms, work) => {
          const timer = setInterval(work, ms);
          return () => clearInterval(timer);
        },
        newCode: () => book.freshDigits(),
        isHere: (id) => book.sessions.some(({ trainee, here }) => trainee === id && here),
        left: (id) => book.endClass('The class has ended.', id),
      }),
      shelf: {
        list: async () => ({ lessons: kept, refused: [] }),
        keep: async (lesson) => {
          kept.push(lesson);
          return null;
        },
      },
      random: () => 0.999,
    }),
  });
  return server;
}

type Method = 'DELETE' | 'GET' | 'POST' | 'PUT';

async function call<T>(
  { app }: TestServer,
  method: Method,
  url: string,
  { body, cookie }: { body?: unknown; cookie?: string } = {},
) {
  const response = await app.inject({
    ...{ method, url, remoteAddress: cookie === undefined ? '127.0.0.1' : '192.0.2.20' },
    headers: { host: 'localhost', ...(cookie === undefined ? {} : { cookie }) },
    ...(body === undefined ? {} : { payload: body as object }),
  });
  return { status: response.statusCode, json: response.json<T & { error?: string }>() };
}

async function open(server: TestServer, lesson: string | null, seed = 3): Promise<string> {
  const { status, json } = await call<ClassState>(server, 'POST', '/api/class', {
    body: { lesson, seed },
  });
  expect(status).toBe(200);
  return json.code ?? '';
}

async function join({ app }: TestServer, code: string, name: string): Promise<string> {
  const response = await app.inject({
    ...{ method: 'POST', url: '/api/session', remoteAddress: '192.0.2.20' },
    headers: { host: 'localhost' },
    payload: { code, name },
  });
  expect([response.statusCode, response.json<{ role: string }>().role]).toEqual([200, 'trainee']);
  return String(response.headers['set-cookie']).split(';')[0] ?? '';
}

const run = (server: TestServer, change: { speed?: number; frozen?: boolean }) =>
  call(server, 'PUT', '/api/class', { body: change });

const stateOf = async (server: TestServer, cookie: string): Promise<State> =>
  (await call<State>(server, 'GET', '/api/state', { cookie })).json;

/** Places the probes of the lesson where their names say. */
async function place(server: TestServer, cookie: string): Promise<void> {
  for (const [probe, at] of [
    ['p1', { unit: 'u1', place: 'return' }],
    ['p2', { unit: 'u1', place: 'supply' }],
    ['p3', { place: 'outdoor' }],
  ] as const) {
    const { status } = await call(server, 'PUT', `/api/probes/${probe}`, { cookie, body: at });
    expect(status).toBe(200);
  }
}

describe('a lesson', () => {
  test('from its opening to the truth beside what was found', async () => {
    const server = await classServer();
    const code = await open(server, 'healthy');
    const ana = await join(server, code, 'Ana');
    const ben = await join(server, code, 'Ben');
    // It stands still until it is let go.
    await vi.advanceTimersByTimeAsync(5000);
    expect((await stateOf(server, ana)).t ?? NOW).toBe(NOW);
    await run(server, { frozen: false, speed: 10 });
    await vi.advanceTimersByTimeAsync(3000);
    const [a, b] = [await stateOf(server, ana), await stateOf(server, ben)];
    expect(Object.keys(a.probes)).toEqual(['p1', 'p2', 'p3', 'p4', 'p5', 'v1']);
    expect(a.simulated).toBe(true);
    // The same air, read by probes of their own.
    const gap =
      (a.probes['p1']?.values.temperatureC ?? 0) - (b.probes['p1']?.values.temperatureC ?? 0);
    expect(Math.abs(gap)).toBeGreaterThan(0.005);
    expect(Math.abs(gap)).toBeLessThan(0.8);

    await place(server, ana);
    await vi.advanceTimersByTimeAsync(90_000);
    const steady = (await call<ClassState>(server, 'GET', '/api/class')).json;
    expect(steady.trainees.map(({ name, placed, probes }) => [name, placed, probes])).toEqual([
      ['Ana', 3, 5],
      ['Ben', 0, 5],
    ]);
    expect(steady.trainees[0]?.state).toBe('steady');
    await call(server, 'POST', '/api/events', {
      cookie: ana,
      body: { kind: 'capture', unit: 'u1' },
    });
    const decide = (cookie: string, cause: string) =>
      call<Mine>(server, 'PUT', '/api/class/mine/decision', { cookie, body: { cause } });
    expect((await decide(ana, 'nothing')).json.decision?.cause).toBe('nothing');
    await decide(ben, 'wheel');

    // Nobody is told the answer before the end.
    const before = JSON.stringify([await decide(ana, 'nothing'), await stateOf(server, ana)]);
    for (const { title, lookFor } of LESSONS) {
      expect(before).not.toContain(title);
      expect(before).not.toContain(lookFor);
    }

    const ended = (await call<ClassState>(server, 'POST', '/api/class/end')).json;
    expect([ended.phase, ended.frozen, ended.code]).toEqual(['ended', true, null]);
    const [first, second] = ended.trainees.map(({ result }) => result);
    expect(first).toMatchObject({ right: true });
    expect(second).toMatchObject({ right: false, captures: [] });
    const capture = first?.captures.at(-1);
    expect(capture?.total.truth).toBeGreaterThan(3000);
    const { value = 0, u95 = 0, truth = 0, inside } = capture?.total ?? {};
    expect(inside).toBe(Math.abs(value - (truth ?? 0)) <= (u95 ?? 0));
    expect(inside).toBe(true);
    expect(first?.decidedS).toBeGreaterThan(900);
    // Each has their own in front of them, and nothing can be changed any more.
    const mine = (await call<Mine>(server, 'GET', '/api/class/mine', { cookie: ana })).json;
    expect(mine.lesson?.title).toBe('A unit as it should be');
    expect(mine.result).toEqual(first);
    expect((await decide(ana, 'wheel')).status).toBe(409);
    const { t } = await stateOf(server, ana);
    await vi.advanceTimersByTimeAsync(10_000);
    expect((await stateOf(server, ana)).t).toBe(t);
  });

  test('frozen it stands still, and goes on where it was', async () => {
    const server = await classServer();
    const ana = await join(server, await open(server, 'healthy'), 'Ana');
    await run(server, { frozen: false });
    await vi.advanceTimersByTimeAsync(20_000);
    await run(server, { frozen: true });
    await vi.advanceTimersByTimeAsync(1000);
    const { t: before } = await stateOf(server, ana);
    await vi.advanceTimersByTimeAsync(600_000);
    expect((await stateOf(server, ana)).t).toBe(before);
    await run(server, { frozen: false });
    await vi.advanceTimersByTimeAsync(5000);
    const { t: after } = await stateOf(server, ana);
    expect(((after ?? 0) - (before ?? 0)) / 1000).toBeCloseTo(5, -0.5);
  });

  test('a fault that is added changes what is true, for all and for who comes later', async () => {
    const server = await classServer();
    const code = await open(server, 'healthy');
    const ana = await join(server, code, 'Ana');
    await place(server, ana);
    await run(server, { frozen: false, speed: 30 });
    await vi.advanceTimersByTimeAsync(20_000);
    const before = (await stateOf(server, ana)).units['u1']?.supply.temperatureC ?? NaN;
    const fault = { kind: 'dirty-wheel', size: 1 };
    expect((await call(server, 'POST', '/api/class/faults', { body: fault })).status).toBe(200);
    const ben = await join(server, code, 'Ben');
    await place(server, ben);
    await vi.advanceTimersByTimeAsync(20_000);
    const after = await Promise.all([ana, ben].map((cookie) => stateOf(server, cookie)));
    for (const { units } of after) {
      expect(units['u1']?.supply.temperatureC).toBeLessThan(before - 1);
    }
    const { json } = await call<ClassState>(server, 'POST', '/api/class/end');
    expect(json.lesson?.cause).toEqual(['wheel']);
    expect(json.faults).toMatchObject([fault]);
  });

  test('what one does to the machine is not done to the others', async () => {
    const server = await classServer();
    const code = await open(server, 'healthy');
    const [ana, ben] = [await join(server, code, 'Ana'), await join(server, code, 'Ben')];
    for (const cookie of [ana, ben]) await place(server, cookie);
    await run(server, { frozen: false, speed: 20 });
    await vi.advanceTimersByTimeAsync(10_000);
    const low = { kind: 'fan', unit: 'u1', speed: 'quiet' };
    await call(server, 'POST', '/api/events', { cookie: ana, body: low });
    await vi.advanceTimersByTimeAsync(20_000);
    const [a, b] = [await stateOf(server, ana), await stateOf(server, ben)];
    expect(a.visit.units['u1']?.fan).toBe('quiet');
    expect(b.visit.units['u1']?.fan).toBe('high');
    const supply = (s: State): number => s.units['u1']?.supply.temperatureC ?? NaN;
    expect(supply(a)).toBeLessThan(supply(b) - 1);
  });
});

describe('who may', () => {
  test('a trainee has their own visit, and nothing of the house or of the class', async () => {
    const server = await classServer();
    const ana = await join(server, await open(server, 'dirty-wheel'), 'Ana');
    server.visit.line({ type: 'unit', id: 'secret' }, { adapter: null, simulated: false });
    expect(Object.keys((await stateOf(server, ana)).visit.units)).toEqual(['u1']);
    const forbidden: [Method, string, unknown?][] = [
      ...([
        ['GET', '/api/class'],
        ['GET', '/api/class/lessons'],
        ['POST', '/api/class/end'],
        ['DELETE', '/api/class'],
        ['DELETE', '/api/class/trainees/t2'],
        ['GET', '/api/phones'],
      ] as [Method, string][]),
      ['POST', '/api/class', { lesson: 'healthy' }],
      ['PUT', '/api/class', { frozen: true }],
      ['POST', '/api/class/faults', { kind: 'reheat', size: 0.5 }],
      ['POST', '/api/class/preview', { lesson: 'dirty-wheel' }],
      ['PUT', '/api/class/lessons', example],
      ['POST', '/api/phones/codes', { role: 'operator' }],
      ['POST', '/api/visits', { like: null }],
    ];
    for (const [method, url, body] of forbidden) {
      const { status, json } = await call(server, method, url, { cookie: ana, body });
      expect([method, url, status]).toEqual([method, url, 403]);
      expect(json.error).toMatch(/\.$/);
    }
    const readings = [{ t: NOW, probe: 'x', temperatureC: 20 }];
    const pushed = await call<{ taken: number }>(server, 'POST', '/api/readings', {
      ...{ cookie: ana, body: readings },
    });
    expect(pushed.json.taken).toBe(0);
    expect(
      (await call<{ visits: [] }>(server, 'GET', '/api/visits', { cookie: ana })).json.visits,
    ).toEqual([]);
    // And it does not come from the house either.
    await call(server, 'PUT', '/api/visit', { cookie: ana, body: { title: 'Mine' } });
    expect(server.visit.state().visit.title).toBe('');
  });

  test('who comes again by the same name from the same machine has their visit back', async () => {
    const server = await classServer();
    const code = await open(server, 'healthy');
    const first = await join(server, code, 'Ana');
    await call(server, 'PUT', '/api/visit', { cookie: first, body: { title: 'Mine' } });
    const again = await join(server, code, 'Ana');
    expect((await stateOf(server, again)).visit.title).toBe('Mine');
    const { json } = await call<ClassState>(server, 'GET', '/api/class');
    expect(json.trainees.map(({ name }) => name)).toEqual(['Ana']);
  });

  test('the code is of no use once the lesson has ended, or the class is closed', async () => {
    const server = await classServer();
    const code = await open(server, 'healthy');
    const ana = await join(server, code, 'Ana');
    await call(server, 'POST', '/api/class/end');
    const late = { body: { code, name: 'Eve' } };
    expect((await call(server, 'POST', '/api/session', late)).status).toBe(401);
    await call(server, 'DELETE', '/api/class');
    expect((await call(server, 'GET', '/api/state', { cookie: ana })).status).toBe(401);
    expect((await call(server, 'POST', '/api/session', late)).status).toBe(401);
    // Room for another.
    expect(await open(server, null)).toMatch(/^\d{8}$/);
  });

  test('one that is sent away is out; the others stay', async () => {
    const server = await classServer();
    const code = await open(server, 'healthy');
    const [ana, ben] = [await join(server, code, 'Ana'), await join(server, code, 'Ben')];
    expect((await call(server, 'DELETE', '/api/class/trainees/t1')).status).toBe(200);
    expect((await call(server, 'GET', '/api/state', { cookie: ana })).status).toBe(401);
    expect((await call(server, 'GET', '/api/state', { cookie: ben })).status).toBe(200);
    expect((await call(server, 'DELETE', '/api/class/trainees/t1')).status).toBe(404);
  });

  test('there is room for sixty, and a sentence for the next', async () => {
    const server = await classServer();
    const code = await open(server, 'healthy');
    for (let i = 0; i < 60; i++) await join(server, code, `Trainee ${i}`);
    const one = { body: { code, name: 'One more' } };
    const { status, json } = await call(server, 'POST', '/api/session', one);
    expect([status, json.error]).toEqual([503, expect.stringMatching(/no room/)]);
    await call(server, 'DELETE', '/api/class');
  });
});

describe('lessons of an instructor', () => {
  test('are checked, previewed and kept; what is wrong is said by its field', async () => {
    const server = await classServer();
    const kept = await call<{ id: string; own: boolean }[]>(server, 'PUT', '/api/class/lessons', {
      body: example,
    });
    expect(kept.json).toMatchObject([{ id: example.id, own: true }]);
    const preview = await call<{ course: unknown[] }>(server, 'POST', '/api/class/preview', {
      body: { lesson: example, minutes: 10 },
    });
    expect(preview.json.course).toHaveLength(61);
    await open(server, example.id);
    const wrong = { ...example, setpointC: 90 };
    const { status, json } = await call(server, 'PUT', '/api/class/lessons', { body: wrong });
    expect(status).toBe(400);
    expect(json.error).toMatch(/^setpointC: .*90.*35/);
    const taken = { ...example, id: 'dirty-wheel' };
    const built = await call(server, 'PUT', '/api/class/lessons', { body: taken });
    expect(built.json.error).toMatch(/^id: "dirty-wheel" is a lesson that is built in/);
  });

  test('one class at a time, and a lesson that there is', async () => {
    const server = await classServer();
    await open(server, 'healthy');
    const second = await call(server, 'POST', '/api/class', { body: { lesson: 'healthy' } });
    expect([second.status, second.json.error]).toEqual([
      409,
      expect.stringMatching(/A class is open/),
    ]);
    await call(server, 'DELETE', '/api/class');
    expect((await call(server, 'POST', '/api/class', { body: { lesson: 'x' } })).status).toBe(404);
    expect((await run(server, { frozen: false })).status).toBe(409);
  });
});
