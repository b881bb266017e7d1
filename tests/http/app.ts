/** The HTTP side of the server in a test: a live visit with a clock of its own, no adapters. */
import type { FastifyInstance } from 'fastify';
import { onTestFinished } from 'vitest';
import type { EventLine } from '../../adapters/contract.ts';
import { createPushAdapter } from '../../adapters/push/index.ts';
import { ClockWatch } from '../../server/clock-watch.ts';
import { buildApp } from '../../server/http/app.ts';
import type { ClassDesk } from '../../server/http/class.ts';
import { AccessBook } from '../../server/http/access/book.ts';
import type { Stage } from '../../server/http/stage.ts';
import { reencode } from '../../server/photo/reencode.ts';
import { allowedHosts } from '../../server/http/guard.ts';
import { photoId } from '../../server/store/photos.ts';
import { Pieces } from '../../server/visit-log/photo-pieces.ts';
import { LiveVisit } from '../../server/visit.ts';

export const NOW = 1_777_885_200_000;

export interface TestServer {
  app: FastifyInstance;
  /** Who is let in. */
  book: AccessBook;
  visit: LiveVisit;
  told: EventLine[];
  /** Probes that a person has forgotten. */
  forgotten: string[];
  /** The keys that were set. */
  keys: [string, string | null][];
  /** Nothing more can be kept, and why; null: it can. */
  setFull: (why: string | null) => void;
  /** The lines of the record, as they are written. */
  record: string[];
  /** Lets time go on until the computer's clock shows so many ms after `NOW`. */
  clock(ms: number): void;
  /** Sets that clock ahead by so much. */
  setClock(ms: number): void;
  post(body: string | object, type?: string): Promise<{ status: number; json: Answer }>;
}
export interface Answer {
  taken: number;
  refused: { line: number; why: string }[];
  refusedCount: number;
  error?: string;
}

/** @param house what of it is another than usual */
export async function testServer({
  lan = false,
  house = {},
  classroom,
}: {
  lan?: boolean;
  house?: Partial<Stage>;
  classroom?: (book: AccessBook) => ClassDesk;
} = {}): Promise<TestServer> {
  let now = NOW;
  let setMs = 0;
  const even = (): number => now - setMs;
  const watch = new ClockWatch({ wall: () => now, even, sinceOn: even });
  const visit = new LiveVisit(() => now, watch);
  const record: string[] = [];
  const pieces = new Pieces();
  const photos = new Map<string, Uint8Array>();
  visit.recordTo({
    add: (line) => {
      record.push(JSON.stringify(line));
      const photo = line.type === 'photo' ? pieces.take(line) : null;
      if (photo !== null) photos.set(photoId(photo), photo);
    },
  });
  const push = createPushAdapter({ now: () => now });
  await push.start({
    emit: (line) => visit.line(line, { adapter: 'push', simulated: false }),
    link: () => {},
    status: () => {},
    signal: new AbortController().signal,
  });
  let full: string | null = null;
  const told: EventLine[] = [];
  const forgotten: string[] = [];
  const keys: [string, string | null][] = [];
  const book = new AccessBook({ now: () => now, steady: even });
  const room = classroom?.(book);
  const app = await buildApp({
    house: {
      visit,
      push: (readings, turn) => push.push(readings, turn),
      full: () => full,
      told: (event) => told.push(event),
      photos: {
        reencode: (bytes) => reencode(Buffer.from(bytes)),
        photo: (id) => photos.get(id) ?? null,
        trouble: () => full,
      },
      forgot: (probe) => forgotten.push(probe),
      setKey: (address, key) => {
        keys.push([address, key]);
        return address === 'full' ? 'The key could not be written: see to the data folder.' : null;
      },
      ...house,
    },
    access: {
      ...{ book, lan, secure: false, allowed: allowedHosts(lan ? '0.0.0.0' : '127.0.0.1', []) },
      urls: () => ['http://192.0.2.7:4747'],
      ...(room === undefined
        ? {}
        : { ofClass: (code, name, from) => room.room.join(code, name, from) }),
    },
    ...(room === undefined ? {} : { classroom: room }),
    version: '0.0.0',
    clientDir: '/nowhere',
  });
  onTestFinished(() => app.close());
  return {
    app,
    book,
    visit,
    told,
    forgotten,
    keys,
    record,
    setFull: (why) => (full = why),
    clock: (ms) => (now = NOW + ms),
    setClock: (ms) => {
      now += ms;
      setMs += ms;
    },
    post: async (body, type = 'application/x-ndjson') => {
      const response = await app.inject({
        method: 'POST',
        url: '/api/readings',
        headers: { 'content-type': type, host: 'localhost' },
        payload: typeof body === 'string' ? body : JSON.stringify(body),
      });
      return { status: response.statusCode, json: response.json<Answer>() };
    },
  };
}

/** A reading of both places at `ms` after `NOW`, as JSON lines. */
export function both(ms: number): string {
  const t = NOW + ms;
  return (
    JSON.stringify({ type: 'reading', t, probe: 'r', temperatureC: 26.7, humidityPct: 51 }) +
    '\n' +
    JSON.stringify({ t, probe: 's', temperatureC: 12, humidityPct: 94 })
  );
}
