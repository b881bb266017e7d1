/**
 * Every door with whatever comes: each answer is a sentence with a status below 500, and the server lives.
 * A few seconds with a fixed seed; `FUZZ_MINUTES` and `FUZZ_SEED` for longer, and for others. The seed of
 * a failure is in its message.
 */
import type { AddressInfo } from 'node:net';
import { connect } from 'node:net';
import { expect, test } from 'vitest';
import WebSocket from 'ws';
import { type Random, randomStream } from '../../simulator/random.ts';
import { NOW, testServer, type TestServer } from './app.ts';

const SEED = Number(process.env['FUZZ_SEED'] ?? 1);
const MINUTES = Number(process.env['FUZZ_MINUTES'] ?? 0);
/** In the suite, so many requests; by the clock otherwise. */
const REQUESTS = 1500;
const SOCKETS = 30;

const PATHS = [
  '/api/health',
  '/api/state',
  '/api/history',
  '/api/docs',
  '/api/readings',
  '/api/visit',
  '/api/units/:id',
  '/api/units/:id/airflow',
  '/api/probes/:id',
  '/api/events',
  '/api/captures/photo',
  '/api/photos/:id',
  '/api/bluetooth/keys/:id',
  '/api/simulation/warm',
  '/api/stream',
  '/api/nothing',
  '/',
] as const;
const METHODS = ['GET', 'PUT', 'POST', 'DELETE', 'HEAD', 'PATCH', 'OPTIONS'] as const;
const IDS = [
  'u1',
  'r',
  'ble:00aa01010001',
  '__proto__',
  'constructor',
  '%00',
  '..%2f..%2fetc',
  '%E0%A4%A',
  'x'.repeat(2000),
  '%F0%9F%8C%A1',
  '%0d%0aset-cookie:a',
] as const;
const TYPES = [
  ...['application/json', 'application/x-ndjson', 'text/plain', 'application/json;x', ''],
  ...['image/jpeg', 'image/png'],
];
const WORDS = [
  ...[
    'type',
    't',
    'probe',
    'temperatureC',
    'humidityPct',
    'kind',
    'unit',
    'place',
    'phase',
    'text',
  ],
  ...['airflow', 'flowM3s', 'basis', 'plane', 'source', 'limits', 'k', 'name', 'valueC', 'speed'],
  ...['event', 'toT', 'from', 'by', 'to', 'struck', 'probes', 'title', 'pressurePa', 'altitudeM'],
  ...[
    'mode',
    'captureAfterS',
    'key',
    'photo',
    'off',
    'part',
    'of',
    'data',
    '__proto__',
    'constructor',
    'toString',
    'id',
    'check',
    '',
  ],
  ...['unevenPct', 'return', 'fanSpeeds', 'flowShare', 'forgotten', 'simulated', 'version', 'atC'],
];
const VALUES: readonly string[] = [
  ...[
    'reading',
    'setpoint',
    'fan',
    'note',
    'check',
    'walk',
    'capture',
    'amend',
    'strike',
    'remark',
    'photo',
    'start',
  ],
  ...[
    'end',
    'go',
    'return',
    'supply',
    'outlet',
    'r',
    's',
    'u1',
    'e1',
    'cooling',
    'heating',
    'touch',
  ],
  ...['entered', 'actual', 'standard', 'itself', 'field', 'strict', '\u0000', '\uD800', '🌡', ''],
];
const NUMBERS = ['0', '-1', '1', '1e999', '-1e999', '1e-400', '0.2', '20', '101325', '1e308'];
const NUMBERS_OF_TIME = [NOW, NOW + 1000, NOW - 4000, NOW + 1e9, NOW / 1000].map(String);

class Fuzz {
  readonly #random: Random;
  constructor(seed: number) {
    this.#random = randomStream(seed, 'doors');
  }
  below(n: number): number {
    return Math.floor(this.#random.uniform() * n);
  }
  of<T>(list: readonly T[]): T {
    const one = list[this.below(list.length)];
    if (one === undefined) throw new RangeError('nothing to choose from');
    return one;
  }
  /** JSON text of anything. */
  json(depth = 0): string {
    const kind = this.below(depth > 3 ? 6 : 9);
    if (kind < 2) return JSON.stringify(this.of(VALUES));
    if (kind < 4) return this.of([...NUMBERS, ...NUMBERS_OF_TIME]);
    if (kind === 4) return this.of(['true', 'false', 'null']);
    if (kind === 5) return this.of(['{}', '[]', '"x"', '['.repeat(8000) + ']'.repeat(8000)]);
    const parts = Array.from({ length: this.below(7) }, () => this.json(depth + 1));
    if (kind === 6) return `[${parts.join(',')}]`;
    return `{${parts.map((part) => `${JSON.stringify(this.of(WORDS))}:${part}`).join(',')}}`;
  }
  /** What might be meant, with one field of it anything. */
  meant(): string {
    const fields = new Map<string, string>(
      this.of([
        [
          ['t', this.of(NUMBERS_OF_TIME)],
          ['probe', '"r"'],
          ['temperatureC', '21'],
        ],
        [
          ['kind', '"setpoint"'],
          ['unit', '"u1"'],
          ['valueC', '21'],
        ],
        [
          ['kind', '"walk"'],
          ['phase', '"start"'],
          ['unit', '"u1"'],
          ['place', '"supply"'],
          ['probe', '"r"'],
        ],
        [
          ['kind', '"check"'],
          ['phase', this.of(['"start"', '"end"'])],
          ['probes', '["r","s"]'],
        ],
        [
          ['unit', '"u1"'],
          ['place', this.of(['"return"', '"supply"', '"outlet"', '"outdoor"'])],
          ['flowShare', '2'],
        ],
        [
          ['name', '"Study"'],
          [
            'airflow',
            '{"source":"entered","flowM3s":0.2,"basis":"actual","plane":"supply","limitPct":5}',
          ],
        ],
      ] satisfies [string, string][][]),
    );
    if (this.below(3) > 0) fields.set(this.of([...fields.keys(), ...WORDS]), this.json(2));
    return `{${[...fields].map(([key, value]) => `${JSON.stringify(key)}:${value}`).join(',')}}`;
  }
  body(): Buffer {
    const text = this.#text();
    const bytes = Buffer.from(text);
    const spoilt = this.below(5);
    if (spoilt === 0 && bytes.length > 0) bytes[this.below(bytes.length)] = this.below(256);
    return spoilt === 1 ? bytes.subarray(0, this.below(bytes.length + 1)) : bytes;
  }
  #text(): string {
    switch (this.below(6)) {
      case 0:
        return this.json();
      case 1:
        return Array.from({ length: this.below(30) }, () => this.json()).join('\n');
      case 2:
        return `[${Array.from({ length: this.below(30) }, () => this.meant()).join(',')}]`;
      case 3:
        return this.of(['', '\n', ' ', '\uFEFF', '{', '[', '"', 'x'.repeat(70_000)]);
      default:
        return this.meant();
    }
  }
  url(): string {
    const path = this.of(PATHS).replace(':id', this.of(IDS));
    if (this.below(4) > 0) return path;
    const value = this.of([...NUMBERS, 'x', '', '%00', 'NaN', String(NOW)]);
    return `${path}?${this.of(['since', 'until', 'points', 'x', '__proto__'])}=${value}`;
  }
}

/** One request; what is wrong with its answer, or null. */
async function tryOne({ app }: TestServer, fuzz: Fuzz): Promise<string | null> {
  const method = fuzz.of(METHODS);
  const url = fuzz.url();
  const type = fuzz.of(TYPES);
  const payload = method === 'GET' || method === 'HEAD' ? undefined : fuzz.body();
  const answer = await app.inject({
    ...{ method, url },
    headers: { host: 'localhost', ...(type === '' ? {} : { 'content-type': type }) },
    ...(payload === undefined ? {} : { payload }),
  });
  const said = `${method} ${url.slice(0, 80)} ${payload?.toString().slice(0, 300) ?? ''}`;
  const { statusCode: status, body } = answer;
  if (status >= 500) return `${status} to ${said}: ${body.slice(0, 300)}`;
  if (status < 400 || method === 'HEAD') return null;
  const json = answer.json<{ error?: unknown; refused?: { why: string }[] }>();
  const why = json.error ?? json.refused?.[0]?.why;
  const isSentence =
    typeof why === 'string' && why.length > 10 && !/call stack|undefined/i.test(why);
  return isSentence ? null : `no sentence to ${said}: ${body.slice(0, 300)}`;
}

/** A viewer that sends anything; resolves when its line has ended, or it has had enough. */
async function oneViewer(port: number, fuzz: Fuzz): Promise<void> {
  const query = fuzz.of(['', '?since=0', '?since=x', '?since=1e999', `?since=${NOW}`, '?since=-1']);
  const socket = new WebSocket(`ws://127.0.0.1:${port}/api/stream${query}`);
  const ended = new Promise<void>((resolve) => {
    socket.on('close', () => resolve());
    socket.on('error', () => resolve());
  });
  socket.on('open', () => {
    for (let i = fuzz.below(20); i > 0; i--) {
      const data = fuzz.of([Buffer.from('{"type":"values","on":true}'), fuzz.body()]);
      socket.send(data, { binary: fuzz.below(2) === 0 });
      if (fuzz.below(5) === 0) socket.ping(Buffer.alloc(fuzz.below(125)));
    }
    setTimeout(() => (fuzz.below(2) === 0 ? socket.terminate() : socket.close()), 20);
  });
  await ended;
}

/** Bytes that are no HTTP, or the beginning of some. */
async function rawBytes(port: number, fuzz: Fuzz): Promise<void> {
  const socket = connect(port, '127.0.0.1');
  const ended = new Promise<void>((resolve) => {
    socket.on('close', () => resolve());
    socket.on('error', () => resolve());
  });
  const head = fuzz.of([
    'GET / HTTP/1.1\r\n',
    'POST /api/readings HTTP/1.1\r\nHost: localhost\r\n',
    '',
  ]);
  socket.write(Buffer.concat([Buffer.from(head), fuzz.body()]));
  socket.resume();
  setTimeout(() => socket.destroy(), 20);
  await ended;
}

async function health(port: number): Promise<unknown> {
  return (await fetch(`http://127.0.0.1:${port}/api/health`)).json();
}

test(
  'every door answers anything with a sentence, and the server lives',
  async () => {
    const fuzz = new Fuzz(SEED);
    const server = await testServer();
    await server.app.listen({ port: 0, host: '127.0.0.1' });
    const { port } = server.app.server.address() as AddressInfo;
    const until = performance.now() + MINUTES * 60_000;
    const wrong: string[] = [];
    for (let n = 0; MINUTES > 0 ? performance.now() < until : n < REQUESTS; n++) {
      const fault = await tryOne(server, fuzz);
      if (fault !== null) wrong.push(fault);
      if (n % Math.floor(REQUESTS / SOCKETS) === 0) {
        await Promise.all([oneViewer(port, fuzz), rawBytes(port, fuzz)]);
        expect(await health(port), `seed ${SEED}, after ${n} requests`).toMatchObject({ ok: true });
      }
      server.clock(n * 50);
      server.visit.tick();
    }
    expect(wrong.slice(0, 10), `seed ${SEED}`).toEqual([]);
    const state = await fetch(`http://127.0.0.1:${port}/api/state`);
    expect(state.status).toBe(200);
  },
  (MINUTES + 1) * 60_000,
);
