/** What one request, or one viewer, may cost: counted, not timed. */
import type { AddressInfo } from 'node:net';
import { describe, expect, onTestFinished, test } from 'vitest';
import WebSocket from 'ws';
import { HistoryColumns } from '../../server/history.ts';
import { LineOfWork } from '../../server/http/line-of-work.ts';
import { ReadingsBody } from '../../server/http/readings-body.ts';
import { Slices } from '../../server/http/slices.ts';
import { MOST_VIEWERS } from '../../server/http/stream.ts';
import { historySchema, type Snapshot } from '../../server/protocol.ts';
import { both, NOW, testServer } from './app.ts';

function readAll(text: string): { body: ReadingsBody; steps: number } {
  const body = new ReadingsBody(Buffer.from(text));
  let steps = 0;
  while (body.step()) steps++;
  return { body, steps };
}

describe('a body', () => {
  test('of refusals alone: all are counted, a thousand are kept', () => {
    for (const text of ['1\n'.repeat(200_000), `[${'{},'.repeat(199_999)}{}]`]) {
      const { body } = readAll(text);
      expect(body.refused).toBe(200_000);
      expect(body.told).toHaveLength(1000);
      expect(body.told.at(-1)?.line).toBe(1000);
    }
  });

  test('is read a line a step: no step is the whole of it', () => {
    expect(readAll('\n'.repeat(100_000)).steps).toBe(100_000);
    expect(readAll(`[${'1,'.repeat(50_000)}1]`).steps).toBe(50_000);
  });

  test('that is a list is read as JSON reads it: property of many', () => {
    const reading = { t: NOW, probe: 'p"}],[{\\', temperatureC: 20, more: [{ a: '[' }] };
    for (let n = 0; n < 20; n++) {
      const list = Array.from({ length: n }, () => reading);
      for (const text of [JSON.stringify(list), `\uFEFF \n${JSON.stringify(list, null, 2)}\n`]) {
        const { body } = readAll(text);
        expect(body.refused).toBe(0);
        expect(body.readings).toEqual(list.map((each) => ({ ...each, type: 'reading' })));
        expect(body.lines).toEqual(list.map((_, i) => i + 1));
      }
    }
  });

  test.each([
    ['[', /^is cut short/],
    ['[1', /^is cut short/],
    ['[{"t":1}', /^is cut short/],
    ['['.repeat(100_000), /^is cut short/],
    ['[1] 2', /goes on after the end/],
    ['[1,,2]', /is a number/],
    ['[}]', /^is cut short/],
  ])('%j is refused in words', (text, why) => {
    const { body } = readAll(text);
    expect(body.readings).toEqual([]);
    expect(body.told[0]?.why).toMatch(why);
  });
});

test('a slice ends after 5 ms, or where it had better go on after 20', async () => {
  let now = 0;
  const slices = new Slices(() => now);
  const ends: number[] = [];
  for (let mayEnd = true; now < 100; now++, mayEnd = now < 50) {
    const pause = slices.turn(mayEnd);
    if (pause === null) continue;
    ends.push(now);
    await pause;
  }
  expect(ends).toEqual([5, 10, 15, 20, 25, 30, 35, 40, 45, 65, 85]);
});

describe('bodies that come at once', () => {
  test('are taken one after another: none makes the other’s readings late', async () => {
    const server = await testServer();
    server.clock(100_000_000);
    const series = (fromS: number): string =>
      Array.from({ length: 3000 }, (_, i) => both((fromS + i) * 1000)).join('\n');
    const answers = await Promise.all([server.post(series(0)), server.post(series(3000))]);
    expect(answers.map(({ json }) => [json.taken, json.refusedCount])).toEqual([
      [6000, 0],
      [6000, 0],
    ]);
  });

  test('wait, but not without end: beyond 32 MiB they are refused', async () => {
    const line = new LineOfWork();
    let release = (): void => {};
    const first = line.add(4 << 20, () => new Promise<void>((resolve) => (release = resolve)));
    const others = Array.from({ length: 9 }, (_, i) => line.add(4 << 20, async () => i));
    await Promise.resolve();
    release();
    await first;
    expect(await Promise.all(others)).toEqual([0, 1, 2, 3, 4, 5, 6, null, null]);
    expect(await line.add(40 << 20, async () => 'alone')).toBe('alone');
  });

  test('one that fails is told to who brought it, and the next is done', async () => {
    const line = new LineOfWork();
    const fails = line.add(1, async () => Promise.reject(new Error('no')));
    const next = line.add(1, async () => 'done');
    await expect(fails).rejects.toThrow('no');
    expect(await next).toBe('done');
  });
});

describe('viewers', () => {
  test('beyond the most are told so; when one has gone there is room again', async () => {
    const { app } = await testServer();
    await app.listen({ port: 0, host: '127.0.0.1' });
    const { port } = app.server.address() as AddressInfo;
    const open = (): WebSocket => {
      const socket = new WebSocket(`ws://127.0.0.1:${port}/api/stream`);
      onTestFinished(() => socket.terminate());
      return socket;
    };
    const first = (socket: WebSocket): Promise<string> =>
      new Promise((resolve) => {
        socket.on('message', () => resolve('state'));
        socket.on('close', (code, why) => resolve(`${code} ${why.toString()}`));
      });
    const sockets = Array.from({ length: MOST_VIEWERS }, open);
    expect(new Set(await Promise.all(sockets.map(first)))).toEqual(new Set(['state']));
    expect(await first(open())).toMatch(/^1013 200 pages watch already/);
    const gone = new Promise((resolve) => sockets[0]?.on('close', resolve));
    sockets[0]?.close();
    await gone;
    await expect.poll(() => first(open())).toBe('state');
  });

  test('that flood it with messages are closed, with the reason', async () => {
    const { app } = await testServer();
    await app.listen({ port: 0, host: '127.0.0.1' });
    const { port } = app.server.address() as AddressInfo;
    const socket = new WebSocket(`ws://127.0.0.1:${port}/api/stream`);
    onTestFinished(() => socket.terminate());
    await new Promise((resolve) => socket.on('open', resolve));
    const closed = new Promise<string>((resolve) =>
      socket.on('close', (code, why) => resolve(`${code} ${why.toString()}`)),
    );
    for (let i = 0; i < 2000; i++) socket.send('{"type":"values","on":true}');
    expect(await closed).toMatch(/^1008 too many messages/);
  });
});

test('the past of many units is thinned to what is made in one go; in pieces it is the same', () => {
  const history = new HistoryColumns();
  const capacity = { totalW: 3000, sensibleW: 2000, latentW: 1000, totalU95W: 100 };
  const unit = { mode: 'cooling', capacity, return: {}, supply: {} };
  const names = Array.from({ length: 64 }, (_, i) => `u${i}`);
  for (let row = 0; row < 5000; row++) {
    const units = Object.fromEntries(names.map((name) => [name, unit]));
    history.add({ t: row * 1000, units } as unknown as Snapshot);
  }
  expect(history.between(0, Infinity, 4000).t.length).toBeLessThanOrEqual(1000);
  const pieces = (most: number): unknown =>
    historySchema.parse(JSON.parse([...history.pieces(0, Infinity, most)].join('')));
  expect(pieces(400)).toEqual(history.between(0, Infinity, 400));
  expect(historySchema.parse(pieces(200_000)).t.length).toBeLessThanOrEqual(3125);
});
