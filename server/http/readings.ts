/** `POST /api/readings`: readings from scripts, loggers and other programs. */
import type { FastifyInstance } from 'fastify';
import * as z from 'zod';
import { LineOfWork } from './line-of-work.ts';
import { MAX_TOLD, ReadingsBody, type Refusal } from './readings-body.ts';
import { Slices } from './slices.ts';
import type { PushReadings, StageOf } from './stage.ts';

/** Largest body that is taken: about forty thousand readings. */
export const MAX_BODY = 4 * 1024 * 1024;

const refusalSchema = z.object({ error: z.string() });
const answerSchema = z.object({
  taken: z.number().int().describe('how many readings were taken'),
  refused: z.array(
    z.object({
      line: z.number().int().describe('line of the body, or place in the array, from 1'),
      why: z.string().describe('what is wrong, beginning with the field'),
    }),
  ),
  refusedCount: z.number().int().describe(`all refused; "refused" names the first ${MAX_TOLD}`),
});

type Answer = z.infer<typeof answerSchema>;

const BUSY =
  'Too many readings are waiting to be taken: nothing of this was. Send it again in a few seconds, ' +
  'and less at once.';

export function readingsRoute(app: FastifyInstance, stageOf: StageOf): void {
  // One after another: the sorted readings of two bodies that mix would make each other late.
  const work = new LineOfWork();
  app.register(async (scope) => {
    // The body stays as it came: each line is answered for itself, whatever the others are like.
    scope.removeAllContentTypeParsers();
    scope.addContentTypeParser(
      ['application/x-ndjson', 'application/jsonl', 'application/json'],
      { parseAs: 'buffer', bodyLimit: MAX_BODY },
      (_request, body, done) => done(null, body),
    );
    scope.route({
      method: 'POST',
      url: '/api/readings',
      bodyLimit: MAX_BODY,
      schema: {
        summary: 'Takes readings',
        description:
          'JSON lines of readings (application/x-ndjson) or a JSON array of them ' +
          `(application/json), at most ${MAX_BODY / 1024 / 1024} MiB. A reading has t (ms since ` +
          'the epoch), probe, and at least one of temperatureC, humidityPct, dewPointC, velocityMs, ' +
          'pressurePa, powerW, batteryPct. Good ones are taken even if others are refused; the ' +
          'status is 400 when none was taken.',
        consumes: ['application/x-ndjson', 'application/json'],
        response: { 200: answerSchema, 400: answerSchema, 503: refusalSchema, 507: refusalSchema },
      },
      handler: async (request, reply) => {
        const body = Buffer.isBuffer(request.body) ? request.body : Buffer.alloc(0);
        const { full, push } = stageOf(request);
        const why = full?.() ?? null;
        if (why !== null) return reply.code(507).send({ error: why });
        const answer = await work.add(body.length, () => take(body, push));
        if (answer === null) return reply.code(503).header('retry-after', 5).send({ error: BUSY });
        return reply.code(answer.taken > 0 ? 200 : 400).send(answer);
      },
    });
  });
}

/** Reads a body and hands its readings over, in slices. */
async function take(bytes: Buffer, push: PushReadings): Promise<Answer> {
  const slices = new Slices();
  const body = new ReadingsBody(bytes);
  while (body.step()) {
    const pause = slices.turn();
    if (pause !== null) await pause;
  }
  let second = NaN;
  const answers = await push(body.readings, (t) => {
    // Time may go on meanwhile: not within a second whose readings are not all there.
    const before = second;
    second = Math.ceil(t / 1000);
    return slices.turn(second !== before);
  });
  const refused: Refusal[] = [];
  let refusedCount = body.refused;
  let told = 0;
  for (const [i, why] of answers.entries()) {
    if (why === null) continue;
    refusedCount++;
    const line = body.lines[i] ?? 0;
    if (refused.length >= MAX_TOLD) continue;
    for (let each = body.told[told]; each !== undefined && each.line < line;) {
      refused.push(each);
      each = body.told[++told];
    }
    refused.push({ line, why });
  }
  refused.push(...body.told.slice(told));
  if (body.readings.length === 0 && refusedCount === 0) {
    refusedCount++;
    refused.push({ line: 1, why: 'the body is empty: send one JSON object a line' });
  }
  const taken = body.readings.length + body.refused - refusedCount;
  return { taken: Math.max(0, taken), refused: refused.slice(0, MAX_TOLD), refusedCount };
}
