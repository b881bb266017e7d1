/**
 * A page that is given its frames by the test: the one server of all such tests serves the page only,
 * and what the page asks of it is answered here.
 */
import type { BrowserContextOptions, Page, WebSocketRoute } from 'playwright-core';
import { inject } from 'vitest';
import type {
  EarlierCaptures,
  Frame,
  History,
  State,
  UnitSnapshot,
} from '../../server/protocol.ts';
import type { Code, Phones } from '../../server/protocol/access.ts';
import { T0 } from '../client/fixtures.ts';
import { openPage, type Stage, type Watched } from './browser.ts';

/** What a page sent, and how it is to be answered: null is a yes, a text a refusal. */
export interface Call {
  method: string;
  path: string;
  body: unknown;
}

export interface Told extends Watched {
  /** Sends a frame to the page. */
  send: (frame: Frame) => void;
  /** Ends the beat that says each half second that nothing newer is to be had. */
  stall: () => void;
  /** Breaks the line, and every new one, until it is called again. */
  cut: () => void;
  /** What the page has sent so far. */
  calls: Call[];
  /** What the server answers to reading calls from now on, by path. */
  serve: (served: Record<string, unknown>) => void;
  /** What it has asked of the stream. */
  asked: string[];
}

export interface TellOptions {
  /** Sent when the page connects, the state first. */
  frames: Frame[];
  /** The answer to a call: null takes it, a text refuses it. */
  answer?: (call: Call) => string | null;
  /** Captures of earlier visits. */
  earlier?: EarlierCaptures['captures'];
  /** What the server answers to reading calls, by path. */
  served?: Record<string, unknown>;
  context?: BrowserContextOptions;
  prepare?: (page: Page) => Promise<unknown>;
}

/** Who has been let in, and a code for one more. */
const PHONES: Phones = {
  lan: true,
  urls: ['http://192.0.2.7:4747', 'http://[2001:db8::7]:4747', 'http://orchard-laptop.local:4747'],
  phones: (['operator', 'viewer'] as const).map((role, i) => ({
    ...{ id: `phone-${i + 1}`, name: ['Ana', 'Bartholomew of the upper floor'][i] ?? '', role },
    ...{ address: '192.0.2.9', sinceT: T0, lastT: T0, here: i === 0 },
  })),
  codes: 1,
};
const CODE: Code = { code: '04715823', role: 'operator', untilT: Date.now() + 3_600_000 };

/** Opens the page on frames. */
export async function openTold(on: Stage, options: TellOptions): Promise<Told> {
  const { answer = () => null, earlier = [], context = {}, prepare } = options;
  let { frames, served = {} } = options;
  const lines = new Set<WebSocketRoute>();
  let isCut = false;
  let t: number | null = null;
  const send = (frame: Frame): void => {
    // A page that connects again is told what is now.
    if (frame.type === 'state') frames = [frame, ...frames.filter(({ type }) => type !== 'state')];
    if (frame.type === 'state' || frame.type === 'snapshot') ({ t } = frame);
    for (const line of lines) line.send(JSON.stringify(frame));
  };
  const beat = setInterval(() => send({ type: 'beat', t }), 500);
  const calls: Call[] = [];
  const asked: string[] = [];
  const watched = await openPage(on.browser, inject('page'), context, async (page) => {
    await page.routeWebSocket(/\/api\/stream/, (line) => {
      if (isCut) {
        void line.close();
        return;
      }
      lines.add(line);
      line.onClose(() => lines.delete(line));
      line.onMessage((message) => asked.push(message.toString()));
      for (const frame of frames) {
        if (frame.type === 'state' || frame.type === 'snapshot') ({ t } = frame);
        line.send(JSON.stringify(frame));
      }
    });
    page.on('close', () => clearInterval(beat));
    await page.route(/\/api\/phones/, (route) =>
      route.fulfill({ json: route.request().method() === 'POST' ? CODE : PHONES }),
    );
    await page.route(
      /\/api\/(events|captures|visit|units|systems|probes|bluetooth|simulation|replay)/,
      async (route) => {
        const request = route.request();
        const isPicture = request.headers()['content-type'] === 'image/jpeg';
        const body: unknown = isPicture ? request.postDataBuffer() : request.postDataJSON();
        const { pathname } = new URL(request.url());
        if (pathname === '/api/captures/earlier') {
          await route.fulfill({ status: 200, json: { captures: earlier } });
          return;
        }
        const call = { method: request.method(), path: decodeURIComponent(pathname), body };
        calls.push(call);
        const refusal = answer(call);
        await route.fulfill(
          refusal === null
            ? { status: 200, json: { ok: true } }
            : { status: 400, json: { error: refusal } },
        );
      },
    );
    await page.route(/\/api\/(class|phones|session)/, async (route) => {
      const json = served[new URL(route.request().url()).pathname];
      await (json === undefined ? route.fallback() : route.fulfill({ status: 200, json }));
    });
    await prepare?.(page);
  });
  return {
    ...watched,
    calls,
    asked,
    send,
    serve: (now) => (served = now),
    stall: () => clearInterval(beat),
    cut: () => {
      isCut = !isCut;
      for (const line of lines) void line.close();
      lines.clear();
    },
  };
}

/** The snapshot that follows a state: the same with another time, and other units if told. */
export function snapshotOf(state: State, t: number, units: Record<string, UnitSnapshot>): Frame {
  return { type: 'snapshot', t, simulated: state.simulated, units, sum: state.sum };
}

/**
 * A past of so many seconds up to T0, a row a second.
 * @param totalW the total so many seconds before T0
 */
export function pastOf(
  seconds: number,
  totalW: (beforeS: number) => number,
  ids: string[] = ['u1'],
): History {
  const before = Array.from({ length: seconds + 1 }, (_, i) => seconds - i);
  const columns = {
    totalW: before.map(totalW),
    sensibleW: before.map((s) => 0.75 * totalW(s)),
    latentW: before.map((s) => 0.25 * totalW(s)),
    totalU95W: before.map(() => 110),
    returnC: before.map(() => 26),
    supplyC: before.map((s) => 26 - totalW(s) / 210),
  };
  return {
    type: 'history',
    t: before.map((s) => T0 - 1000 * s),
    units: Object.fromEntries(ids.map((id) => [id, columns])),
  };
}
