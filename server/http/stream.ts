/**
 * `GET /api/stream`: one `state` frame on connecting, with `?since=T` the `history` after T, then
 * frames as they happen. A viewer that cannot keep up misses frames instead of filling memory, and
 * is given state and history again as soon as its line is free: no hole stays.
 *
 * A `state` that comes later tells of another visit, clock or place of a replay; who wants the past is given
 * all of it again with it.
 *
 * In a second without a snapshot or a state they get a `beat`: the server is there.
 *
 * A viewer may send `{"type":"values","on":true}`: from then on it gets with each snapshot a `values`
 * frame, what every live probe reads. Anything else that it sends ends its line, with the reason; so does
 * a flood of messages, and one viewer more than there is room for.
 */
import type { FastifyInstance } from 'fastify';
import type { Socket } from 'node:net';
import type { WebSocket } from 'ws';
import * as z from 'zod';
import { askSchema, type Ask, type Beat, type Frame } from '../protocol.ts';
import { snapshotBytes } from '../snapshot-json.ts';
import type { LiveVisit } from '../visit.ts';
import { Together } from './together.ts';

/** Unsent bytes above which a viewer is behind, and below which it is free again. */
const BEHIND_BYTES = 1 << 20;
const FREE_BYTES = 1 << 14;
const PING_MS = 20_000;
const BEAT_MS = 1000;
/** More than there are screens in a house; each costs work every second. */
export const MOST_VIEWERS = 200;
/** Messages of one viewer between two pings: a person switches a few times. */
const MOST_MESSAGES = 200;
/** Viewers that were behind are given all they have missed one after another: so much a frame, ms. */
const CATCH_UP_MS = 20;

const querySchema = z.object({
  since: z.coerce
    .number()
    .min(0)
    .optional()
    .describe('the newest time that is known, ms; 0 for all of the past'),
});

/** At most 123 bytes: more does not fit into the frame that closes a line. */
const NOT_UNDERSTOOD =
  'a message is {"type":"values","on":true} or with false; nothing else is understood';

const FULL = `${MOST_VIEWERS} pages watch already, the most there may be: close one, then load this one again`;
const FLOOD = 'too many messages: one is enough to say what is wanted';

interface Viewer {
  socket: WebSocket;
  /** What is beneath it. */
  wire: Socket;
  /** Visit's time up to which it has everything; null while it does not want the past. */
  knownT: number | null;
  behind: boolean;
  answered: boolean;
  /** Whether it wants the values of the probes each second. */
  wantsValues: boolean;
  /** What it has sent since the last ping. */
  messages: number;
}

export function streamRoute(app: FastifyInstance, visit: LiveVisit): void {
  const viewers = new Set<Viewer>();
  /** Whether the last second has brought what shows that the server goes on. */
  let hasTold = false;
  const together = new Together();

  /** @param text what many are sent is made into bytes once */
  function send({ socket, wire }: Viewer, text: string | Buffer): void {
    together.hold(wire);
    socket.send(text, { binary: false });
  }

  function tell(frame: Frame): void {
    let text: Buffer | null = null;
    let past: Buffer | null = null;
    let values: Buffer | null = null;
    if (frame.type === 'snapshot' || frame.type === 'state') hasTold = true;
    const begunT = performance.now();
    for (const viewer of viewers) {
      // What it knows of the past is of no use: it is given all of it again, now or once its line is free.
      if (frame.type === 'state' && viewer.knownT !== null) viewer.knownT = 0;
      if (viewer.behind && viewer.socket.bufferedAmount > FREE_BYTES) continue;
      if (viewer.behind) {
        if (performance.now() - begunT > CATCH_UP_MS) continue; // with the next frame
        viewer.behind = false;
        catchUp(viewer); // this frame is part of what it is given
        continue;
      }
      if (viewer.socket.bufferedAmount > BEHIND_BYTES) {
        viewer.behind = true;
        continue;
      }
      text ??= frame.type === 'snapshot' ? snapshotBytes(frame) : bytesOf(frame); // once for all
      send(viewer, text);
      if (frame.type === 'state' && viewer.knownT !== null) {
        past ??= bytesOf(visit.history(0));
        send(viewer, past);
        viewer.knownT = frame.t ?? 0;
      }
      if (frame.type !== 'snapshot') continue;
      if (viewer.knownT !== null) viewer.knownT = frame.t;
      if (!viewer.wantsValues) continue;
      values ??= bytesOf(visit.values());
      send(viewer, values);
    }
  }

  /** While nobody looks, the visit need not say anything. */
  let unwatch: (() => void) | null = null;
  function leave(viewer: Viewer): void {
    viewers.delete(viewer);
    if (viewers.size > 0) return;
    unwatch?.();
    unwatch = null;
  }

  function catchUp(viewer: Viewer): void {
    const state = visit.state();
    send(viewer, JSON.stringify(state));
    if (viewer.knownT === null) return;
    send(viewer, JSON.stringify(visit.history(viewer.knownT)));
    viewer.knownT = state.t ?? viewer.knownT;
  }

  const ping = setInterval(() => {
    for (const viewer of viewers) {
      if (!viewer.answered) viewer.socket.terminate();
      viewer.answered = false;
      viewer.messages = 0;
      viewer.socket.ping();
    }
  }, PING_MS);

  const beat = setInterval(() => {
    if (!hasTold) {
      const frame: Beat = { type: 'beat', t: visit.shownT };
      const text = JSON.stringify(frame);
      for (const { socket, behind } of viewers) if (!behind) socket.send(text);
    }
    hasTold = false;
  }, BEAT_MS);

  app.addHook('onClose', async () => {
    clearInterval(ping);
    clearInterval(beat);
    unwatch?.();
  });

  app.route({
    method: 'GET',
    url: '/api/stream',
    schema: {
      summary: 'WebSocket: state, history after `since`, then frames as they happen',
      querystring: querySchema,
    },
    handler: async (_request, reply) =>
      reply.code(426).send({ error: 'This is a WebSocket: connect to it with ws://' }),
    wsHandler: (socket, request) => {
      if (viewers.size >= MOST_VIEWERS) {
        socket.on('error', () => socket.terminate());
        socket.close(1013, FULL);
        return;
      }
      const { since } = querySchema.parse(request.query);
      const viewer: Viewer = {
        socket,
        wire: request.raw.socket,
        knownT: since ?? null,
        behind: false,
        answered: true,
        wantsValues: false,
        messages: 0,
      };
      socket.on('error', () => socket.terminate());
      socket.on('close', () => leave(viewer));
      socket.on('pong', () => (viewer.answered = true));
      socket.on('message', (data) => {
        if (++viewer.messages > MOST_MESSAGES) {
          socket.close(1008, FLOOD);
          return;
        }
        const ask = askOf(Buffer.isBuffer(data) ? data.toString() : '');
        if (ask === null) socket.close(1008, NOT_UNDERSTOOD);
        else viewer.wantsValues = ask.on;
      });
      catchUp(viewer);
      viewers.add(viewer);
      unwatch ??= visit.watch(tell);
    },
  });
}

const bytesOf = (frame: Frame): Buffer => Buffer.from(JSON.stringify(frame));

/** What a viewer asks for; null where that is not understood. */
function askOf(text: string): Ask | null {
  try {
    const parsed = askSchema.safeParse(JSON.parse(text));
    return parsed.success ? parsed.data : null;
  } catch {
    return null; // not JSON
  }
}
