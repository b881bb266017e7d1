/**
 * `GET /api/stream`: one `state` frame on connecting, with `?since=T` the `history` after T, then
 * frames as they happen (viewers.ts).
 *
 * A `state` that comes later tells of another visit, clock or place of a replay; who wants the past is given
 * all of it again with it.
 *
 * In a second without a snapshot or a state they get a `beat`: the server is there.
 *
 * A viewer may send `{"type":"values","on":true}`: from then on it gets with each snapshot a `values`
 * frame, what every live probe reads. Anything else that it sends ends its line, with the reason; so does
 * a flood of messages, one viewer more than there is room for, and the end of the session that let it in.
 */
import type { FastifyInstance } from 'fastify';
import * as z from 'zod';
import { askSchema, type Ask } from '../protocol.ts';
import type { LiveVisit } from '../visit.ts';
import type { AccessBook } from './access/book.ts';
import { changeBy } from './access/who.ts';
import type { StageOf } from './stage.ts';
import { Together } from './together.ts';
import { type Viewer, Viewers } from './viewers.ts';

const PING_MS = 20_000;
const BEAT_MS = 1000;
/** More than there are screens in a house or a class; each costs work every second. */
export const MOST_VIEWERS = 200;
/** Messages of one viewer between two pings: a person switches a few times. */
const MOST_MESSAGES = 200;

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
/** How a line is closed that may not go on (RFC 6455, 7.4.1), and one for which there is no room. */
const POLICY = 1008;
const TRY_LATER = 1013;

export function streamRoute(app: FastifyInstance, stageOf: StageOf, book: AccessBook): void {
  const together = new Together();
  const visits = new Map<LiveVisit, Viewers>();

  function of(visit: LiveVisit): Viewers {
    const found = visits.get(visit) ?? new Viewers(visit, together);
    visits.set(visit, found);
    return found;
  }
  function leave(visit: LiveVisit, viewer: Viewer): void {
    const viewers = visits.get(visit);
    viewers?.remove(viewer);
    const { session } = viewer;
    if (session !== null && ![...everyone()].some((each) => each.session === session)) {
      book.watching(session, false);
    }
    if (viewers?.all.size === 0) visits.delete(visit);
  }
  function* everyone(): Generator<Viewer> {
    for (const { all } of visits.values()) yield* all;
  }

  const ping = setInterval(() => {
    for (const viewer of everyone()) {
      if (!viewer.answered) viewer.socket.terminate();
      viewer.answered = false;
      viewer.messages = 0;
      viewer.socket.ping();
    }
  }, PING_MS);

  const beat = setInterval(() => {
    for (const viewers of visits.values()) viewers.beat();
  }, BEAT_MS);

  book.onEnd(({ id }, why) => {
    for (const { session, socket } of everyone()) if (session === id) socket.close(POLICY, why);
  });

  // Who has the same thing open sees that somebody has changed it.
  app.addHook('onResponse', async (request, { statusCode }) => {
    const change = changeBy(request, statusCode);
    if (change !== null) visits.get(stageOf(request).visit)?.tell(change);
  });

  app.addHook('onClose', async () => {
    clearInterval(ping);
    clearInterval(beat);
    for (const viewers of visits.values()) viewers.end();
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
      if ([...everyone()].length >= MOST_VIEWERS) {
        socket.on('error', () => socket.terminate());
        socket.close(TRY_LATER, FULL);
        return;
      }
      const { since } = querySchema.parse(request.query);
      const { visit } = stageOf(request);
      const viewer: Viewer = {
        socket,
        wire: request.raw.socket,
        session: request.who.session?.id ?? null,
        knownT: since ?? null,
        behind: false,
        answered: true,
        wantsValues: false,
        messages: 0,
      };
      socket.on('error', () => socket.terminate());
      socket.on('close', () => leave(visit, viewer));
      socket.on('pong', () => {
        viewer.answered = true;
        if (request.who.session !== null) book.heard(request.who.session);
      });
      socket.on('message', (data) => {
        if (++viewer.messages > MOST_MESSAGES) {
          socket.close(POLICY, FLOOD);
          return;
        }
        const ask = askOf(Buffer.isBuffer(data) ? data.toString() : '');
        if (ask === null) socket.close(POLICY, NOT_UNDERSTOOD);
        else viewer.wantsValues = ask.on;
      });
      of(visit).add(viewer);
      if (viewer.session !== null) book.watching(viewer.session, true);
    },
  });
}

/** What a viewer asks for; null where that is not understood. */
function askOf(text: string): Ask | null {
  try {
    const parsed = askSchema.safeParse(JSON.parse(text));
    return parsed.success ? parsed.data : null;
  } catch {
    return null; // not JSON
  }
}
