/**
 * A day that a page is told: eight hours of eight heads, 40 probes that go on reading, and the real page
 * from the real server, its stream told from here.
 */
import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { createServer } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Browser, chromium } from 'playwright-core';
import { WebSocketServer } from 'ws';
import type { EventMessage, Frame, History, State } from '../../server/protocol.ts';
import { randomStream } from '../../simulator/random.ts';
import { eventWith, probeWith, stateWith, T0, unitWith } from '../client/fixtures.ts';

export const LAUNCH = 'server/launch.mjs';
const HEADS = Array.from({ length: 8 }, (_, i) => `u${i + 1}`);
const PROBES_A_HEAD = 5;
const SECONDS = 8 * 3600;

/** The past of it, all of it known. */
export function pastOfDay(): History {
  const random = randomStream(1, 'eight hours of a chart');
  const t = Array.from({ length: SECONDS + 1 }, (_, i) => T0 - 1000 * (SECONDS - i));
  const units = HEADS.map((id, head) => {
    const wave = t.map(
      (_, i) =>
        Math.round(
          10 * (2400 + 90 * head + 600 * Math.sin(i / 900 + head) + 60 * random.uniform()),
        ) / 10,
    );
    const columns = {
      totalW: wave,
      sensibleW: wave.map((w) => 0.75 * w),
      latentW: wave.map((w) => 0.25 * w),
      totalU95W: t.map(() => 110),
      returnC: t.map(() => 26 + random.uniform() / 10),
      supplyC: wave.map((w) => 26 - w / 210),
    };
    return [id, columns] as const;
  });
  return { type: 'history', t, units: Object.fromEntries(units) };
}

const UNIT = unitWith({ settling: { state: 'steady', since: T0 - 900_000, levelW: 2600 } });
const PROBES = HEADS.flatMap((unit, head) =>
  Array.from({ length: PROBES_A_HEAD }, (_, i) => ({
    id: `p${head}-${i}`,
    state: probeWith({ name: `P${head}-${i}`, unit, place: i % 2 === 0 ? 'return' : 'supply' }),
  })),
);

/** A day's flags: the setpoint of each head and a note, by turns. */
const EVENTS = Array.from({ length: 16 }, (_, i): EventMessage => {
  const t = T0 - 1_700_000 * (i + 1);
  const unit = HEADS[i % 4 === 0 ? 0 : i % HEADS.length] ?? 'u1';
  return i % 2 === 0
    ? eventWith({ id: `e${i}`, t, unit, kind: 'setpoint', valueC: 20 })
    : eventWith({ id: `e${i}`, t, kind: 'note', text: `Door open, ${i}` });
});

export function stateOfDay(): State {
  const plain = stateWith();
  const [setup] = Object.values(plain.visit.units);
  if (setup === undefined) throw new Error('There is no unit.');
  return {
    ...plain,
    units: Object.fromEntries(HEADS.map((id) => [id, UNIT])),
    sum: { totalW: 20_800, sensibleW: 15_600, latentW: 5200, totalU95W: 300 },
    probes: Object.fromEntries(PROBES.map(({ id, state }) => [id, state])),
    events: EVENTS,
    visit: {
      ...plain.visit,
      units: Object.fromEntries(HEADS.map((id, i) => [id, { ...setup, name: `Room ${i + 1}` }])),
    },
  };
}

/** What a visit of 40 probes says in a second. */
export function second(state: State, t: number): Frame[] {
  const w = 2600 + 40 * Math.sin(t / 9000);
  const unit = unitWith({
    capacity: { totalW: w },
    settling: { state: 'steady', since: T0 - 900_000, levelW: w },
  });
  const probes = PROBES.map(({ id }) => [
    id,
    { lastT: t, values: { temperatureC: 20 + (t % 977) / 500, humidityPct: 50 } },
  ]);
  return [
    {
      ...{ type: 'snapshot', t, simulated: false, sum: state.sum },
      units: Object.fromEntries(HEADS.map((id) => [id, unit])),
    },
    { type: 'values', t, probes: Object.fromEntries(probes) },
  ];
}

/** The server, which here serves the page and nothing else. */
export function served(data: string): Promise<{ url: string; child: ChildProcess }> {
  const args = [LAUNCH, 'start', '--port', '0', '--data', data];
  const child = spawn(process.execPath, args, { stdio: ['ignore', 'pipe', 'ignore'] });
  return new Promise((resolve, reject) => {
    child.on('close', (status) => reject(new Error(`The server ended with ${status}.`)));
    child.stdout.on('data', (text: Buffer) => {
      const url = /http:\S+/.exec(text.toString())?.[0];
      if (url !== undefined) resolve({ url, child });
    });
  });
}

interface Told {
  url: string;
  /** Sends to every page that is open. */
  send(frames: readonly Frame[]): void;
  end(): void;
}

/** The same page, its stream told from here: `first` to each that connects. */
export function toldFromHere(url: string, first: readonly string[]): Promise<Told> {
  const passed = ['content-type', 'content-security-policy'];
  const server = createServer((request, answer) => {
    void fetch(url + (request.url ?? '/'))
      .then(async (got) => {
        const headers = passed.flatMap((name) => {
          const value = got.headers.get(name);
          return value === null ? [] : [[name, value] as const];
        });
        answer.writeHead(got.status, Object.fromEntries(headers));
        answer.end(Buffer.from(await got.arrayBuffer()));
      })
      .catch(() => answer.destroy());
  });
  const stream = new WebSocketServer({ server, path: '/api/stream' });
  stream.on('connection', (socket) => {
    for (const text of first) socket.send(text);
  });
  const send = (frames: readonly Frame[]): void => {
    const texts = frames.map((frame) => JSON.stringify(frame));
    for (const socket of stream.clients) for (const text of texts) socket.send(text);
  };
  const end = (): void => {
    for (const socket of stream.clients) socket.terminate();
    stream.close();
    server.close();
  };
  return new Promise((resolve) => {
    server.listen(0, '127.0.0.1', () => {
      const address = server.address();
      const port = typeof address === 'object' ? (address?.port ?? 0) : 0;
      resolve({ url: `http://127.0.0.1:${port}`, send, end });
    });
  });
}

/** The page, built anew and served, and a browser for it; both end with `run`. */
export async function onPage(run: (browser: Browser, url: string) => Promise<void>): Promise<void> {
  const path = process.env['CHROMIUM_PATH'];
  if (path === undefined) throw new Error('No Chromium found: set CHROMIUM_PATH to one.');
  spawnSync(process.execPath, [LAUNCH, 'build'], { stdio: 'inherit' });
  const folder = mkdtempSync(join(tmpdir(), 'plateau-bench-'));
  const { url, child } = await served(folder);
  const browser = await chromium.launch({
    executablePath: path,
    args: ['--no-sandbox', '--disable-gpu', '--no-first-run', '--disable-background-networking'],
  });
  try {
    await run(browser, url);
  } finally {
    await browser.close();
    const ended = new Promise((resolve) => child.on('close', resolve));
    child.kill();
    await ended;
    rmSync(folder, { recursive: true, force: true });
  }
}
