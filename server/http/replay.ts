/** `PUT /api/replay`: how a visit log is played; and that nothing else can be changed meanwhile. */
import type { FastifyInstance } from 'fastify';
import type { ZodTypeProvider } from 'fastify-type-provider-zod';
import * as z from 'zod';
import { replaySchema } from '../protocol.ts';
import { answers, badRequest, conflict, notFound } from './answers.ts';
import type { StageOf } from './stage.ts';
import { sent } from '../words/sent.ts';

const PATH = '/api/replay';
/** Who plays it, and who may look on, is nothing in the log. */
const NOT_OF_IT = [PATH, '/api/session', '/api/phones', '/api/class'];
const READS = new Set(['GET', 'HEAD', 'OPTIONS']);
const NONE = sent`Nothing is being replayed here: start Plateau with --replay FILE to play a visit log.`;
const UNALTERABLE = sent`This is a replay of a visit log: it cannot be altered, and nothing of this was taken. To measure, start Plateau without --replay.`;

const bodySchema = z
  .object({
    speed: z.number().min(1).max(1000).describe('times as fast as it was recorded'),
    paused: z.boolean(),
    toT: z.number().describe('where to jump, ms: from `from` to `to` of the replay in the state'),
  })
  .partial();

export function replayRoute(plain: FastifyInstance, stageOf: StageOf): void {
  const app = plain.withTypeProvider<ZodTypeProvider>();
  // After the body has been read: who is still sending one would not hear the answer.
  app.addHook('preValidation', async (request) => {
    const { method, routeOptions } = request;
    if (READS.has(method) || NOT_OF_IT.some((path) => routeOptions.url?.startsWith(path))) return;
    if (stageOf(request).replay !== undefined) throw conflict(UNALTERABLE);
  });
  app.put(
    PATH,
    {
      schema: {
        summary: 'In a replay: sets its speed, pauses it or goes on, or jumps to a time',
        body: bodySchema,
        response: { 200: replaySchema, 400: answers[400], 404: answers[404] },
      },
    },
    async (request) => {
      const { body } = request;
      const { replay: desk } = stageOf(request);
      if (desk === undefined) throw notFound(NONE);
      if (Object.values(body).every((value) => value === undefined)) {
        throw badRequest(sent`The body says nothing: give speed, paused or toT`);
      }
      const why = await desk.change(body);
      if (why !== null) throw badRequest(why);
      return desk.state();
    },
  );
}
