import type { AddressInfo } from 'node:net';
import { onTestFinished, expect, test, vi } from 'vitest';
import WebSocket from 'ws';
import { type Frame, frameSchema } from '../../server/protocol.ts';
import { both, NOW, testServer, type TestServer } from './app.ts';

async function listen({ app }: TestServer): Promise<number> {
  await app.listen({ port: 0, host: '127.0.0.1' });
  return (app.server.address() as AddressInfo).port;
}

/** Connects and collects frames, each checked against the protocol. */
async function watch(port: number, query = ''): Promise<{ frames: Frame[]; socket: WebSocket }> {
  const socket = new WebSocket(`ws://127.0.0.1:${port}/api/stream${query}`);
  const frames: Frame[] = [];
  socket.on('message', (data: Buffer) =>
    frames.push(frameSchema.parse(JSON.parse(data.toString()))),
  );
  onTestFinished(() => socket.terminate());
  await new Promise((resolve, reject) => socket.on('open', resolve).on('error', reject));
  await until(() => frames.length > 0);
  return { frames, socket };
}

async function until(done: () => boolean): Promise<void> {
  for (let i = 0; i < 500 && !done(); i++) await new Promise((resolve) => setTimeout(resolve, 10));
  expect(done()).toBe(true);
}

async function seconds(server: TestServer, from: number, to: number): Promise<void> {
  for (let s = from; s < to; s++) {
    server.clock(s * 1000);
    await server.post(both(s * 1000));
    server.visit.tick();
  }
}

test('one state on connecting, then what happens as it happens', async () => {
  const server = await testServer();
  const port = await listen(server);
  const { frames } = await watch(port);
  expect(frames.map((f) => f.type)).toEqual(['state']);
  server.visit.line({ type: 'unit', id: 'u1' }, { adapter: null, simulated: false });
  await seconds(server, 0, 3);
  server.visit.line(
    { type: 'event', t: NOW + 2000, kind: 'note', text: 'door opened' },
    { adapter: null, simulated: false },
  );
  await until(() => frames.some((f) => f.type === 'event'));
  const types = new Set(frames.map((f) => f.type));
  expect(types).toEqual(new Set(['state', 'visit', 'probe', 'snapshot', 'event']));
  expect(frames.filter((f) => f.type === 'snapshot').map((f) => f.t - NOW)).toEqual([
    0, 1000, 2000,
  ]);
});

test('resumes without a hole: state, history since the last seen, then live', async () => {
  const server = await testServer();
  const port = await listen(server);
  server.visit.line({ type: 'unit', id: 'u1' }, { adapter: null, simulated: false });
  await seconds(server, 0, 5);
  const first = await watch(port, '?since=0');
  await until(() => first.frames.length >= 2);
  first.socket.terminate();
  await seconds(server, 5, 9);
  const lastSeen = NOW + 4000;
  const { frames } = await watch(port, `?since=${lastSeen}`);
  await seconds(server, 9, 12);
  await until(() => frames.filter((f) => f.type === 'snapshot').length >= 3);
  expect(frames.slice(0, 2).map((f) => f.type)).toEqual(['state', 'history']);
  const times = frames.flatMap((f) =>
    f.type === 'history' ? f.t : f.type === 'snapshot' ? [f.t] : [],
  );
  expect(times.map((t) => (t - NOW) / 1000)).toEqual([5, 6, 7, 8, 9, 10, 11]);
});

test('a viewer that does not read costs no memory, and is made whole when it does', async () => {
  const server = await testServer();
  const port = await listen(server);
  for (let i = 0; i < 40; i++) {
    server.visit.line({ type: 'unit', id: `u${i}` }, { adapter: null, simulated: false });
  }
  const { frames, socket } = await watch(port, '?since=0');
  socket.pause();
  for (let s = 0; s < 1500; s++) {
    server.visit.line(
      { type: 'reading', t: NOW + s * 1000, probe: 'r', temperatureC: 20 + (s % 7) },
      { adapter: 'push', simulated: false },
    );
    if (s % 100 === 0) await new Promise((resolve) => setTimeout(resolve, 1));
  }
  socket.resume();
  await until(() => frames.some((f) => f.type === 'snapshot'));
  await new Promise((resolve) => setTimeout(resolve, 300));
  await seconds(server, 1500, 1503);
  await until(() => frames.some((f) => f.type === 'history' && f.t.length > 100));
  const seen = new Set(
    frames.flatMap((f) => (f.type === 'history' ? f.t : f.type === 'snapshot' ? [f.t] : [])),
  );
  for (let s = 0; s < 1500; s++) expect(seen.has(NOW + s * 1000), `second ${s}`).toBe(true);
  expect(frames.filter((f) => f.type === 'snapshot').length).toBeLessThan(1400);
}, 20_000);

test('who asks for values gets them each second, and only who asks', async () => {
  const server = await testServer();
  const port = await listen(server);
  const asking = await watch(port);
  const other = await watch(port);
  asking.socket.send('{"type":"values","on":true}');
  await new Promise((resolve) => setTimeout(resolve, 50));
  await seconds(server, 0, 4);
  const valuesOf = ({ frames }: { frames: Frame[] }) => frames.filter((f) => f.type === 'values');
  await until(() => valuesOf(asking).length >= 4);
  expect(valuesOf(asking).map((f) => f.t - NOW)).toEqual([0, 1000, 2000, 3000]);
  expect(valuesOf(asking)[3]?.probes).toEqual({
    r: { lastT: NOW + 3000, values: { temperatureC: 26.7, humidityPct: 51 } },
    s: { lastT: NOW + 3000, values: { temperatureC: 12, humidityPct: 94 } },
  });
  // What has fallen silent is not told as if it were of now.
  server.clock(60_000);
  server.visit.tick();
  await until(() => valuesOf(asking).some((f) => f.t === NOW + 60_000));
  expect(valuesOf(asking).at(-1)?.probes).toEqual({});
  const before = valuesOf(asking).length;
  asking.socket.send('{"type":"values","on":false}');
  await new Promise((resolve) => setTimeout(resolve, 50));
  await seconds(server, 61, 63);
  await until(() => asking.frames.some((f) => f.type === 'snapshot' && f.t === NOW + 62_000));
  expect(valuesOf(asking)).toHaveLength(before);
  expect(valuesOf(other)).toEqual([]);
});

test.each(['values', '{"type":"values"}', '{"type":"readings","on":true}', 'null', ''])(
  'a message that is not understood ends the line, with the reason: %s',
  async (text) => {
    const port = await listen(await testServer());
    const { socket } = await watch(port);
    const closed = new Promise((resolve) =>
      socket.on('close', (code, reason) => resolve([code, reason.toString()])),
    );
    socket.send(text);
    expect(await closed).toEqual([1008, expect.stringMatching(/^a message is \{"type":"values"/)]);
  },
);

test('strangers are refused at the upgrade as well', async () => {
  const server = await testServer();
  const port = await listen(server);
  for (const headers of [{ host: 'rebound.example' }, { origin: 'http://elsewhere.example' }]) {
    const socket = new WebSocket(`ws://127.0.0.1:${port}/api/stream`, { headers });
    const status = await new Promise((resolve) => {
      socket.on('unexpected-response', (_request, response) => resolve(response.statusCode));
      socket.on('open', () => resolve('open'));
      socket.on('error', () => {});
    });
    socket.terminate();
    expect(status).toBe(403);
  }
});

test('the server ends although pages are open', async () => {
  const server = await testServer();
  const port = await listen(server);
  const { socket } = await watch(port);
  const closed = new Promise<number>((resolve) => socket.on('close', resolve));
  await server.app.close();
  expect(await closed).toBe(1001);
});

test('a beat each second in which nothing newer went out: the server is there', async () => {
  const server = await testServer();
  const port = await listen(server);
  const { frames } = await watch(port);
  const beats = (): (number | null)[] => frames.flatMap((f) => (f.type === 'beat' ? [f.t] : []));
  await until(() => beats().length > 0);
  expect(beats()[0]).toBeNull();
  server.visit.line({ type: 'unit', id: 'u1' }, { adapter: null, simulated: false });
  await seconds(server, 0, 3);
  await until(() => beats().at(-1) !== null);
  expect(beats().at(-1)).toBe(NOW + 2000);
});

test('while nobody looks, the visit makes no frames', async () => {
  const server = await testServer();
  const unwatched = vi.fn<() => void>();
  const { visit } = server;
  const watching = visit.watch.bind(visit);
  const watched = vi.spyOn(visit, 'watch').mockImplementation((watcher) => {
    const end = watching(watcher);
    return () => {
      unwatched();
      end();
    };
  });
  const port = await listen(server);
  await seconds(server, 0, 2);
  expect(watched).not.toHaveBeenCalled();
  const [first, second] = [await watch(port), await watch(port)];
  expect(watched).toHaveBeenCalledTimes(1);
  first.socket.close();
  await seconds(server, 2, 4);
  await until(() => second.frames.some((f) => f.type === 'snapshot'));
  expect(unwatched).not.toHaveBeenCalled();
  second.socket.close();
  await until(() => unwatched.mock.calls.length === 1);
  const { frames } = await watch(port);
  await seconds(server, 4, 6);
  await until(() => frames.some((f) => f.type === 'snapshot'));
});
