/** `POST /api/readings`: readings from scripts, loggers and other programs. */
import type { FastifyInstance } from 'fastify';
import * as z from 'zod';
import type { Reading } from '../../adapters/contract.ts';
import { parseJsonLine } from '../visit-log/reader.ts';
import { MAX_LINE } from '../visit-log/recorded.ts';
import { checkReading } from '../visit-log/schema.ts';

/** Largest body that is taken: about forty thousand readings. */
export const MAX_BODY = 4 * 1024 * 1024;
/** Most refusals that are told one by one. */
const MAX_TOLD = 1000;

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

type Item = { line: number } & ({ reading: Reading } | { why: string });

/** Takes readings of checked shape; for each null, or why it was refused. */
export type PushReadings = (readings: readonly Reading[]) => (string | null)[];

export function readingsRoute(app: FastifyInstance, push: PushReadings): void {
  app.register(async (scope) => {
    // The body stays text: each line is answered for itself, whatever the others are like.
    scope.removeAllContentTypeParsers();
    scope.addContentTypeParser(
      ['application/x-ndjson', 'application/jsonl', 'application/json'],
      { parseAs: 'string', bodyLimit: MAX_BODY },
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
        response: { 200: answerSchema, 400: answerSchema },
      },
      handler: async (request, reply) => {
        const body = typeof request.body === 'string' ? request.body : '';
        const items = itemsOf(body);
        const good = items.filter((item) => 'reading' in item);
        const answers = push(good.map(({ reading }) => reading));
        const refused = [
          ...items.flatMap((item) => ('why' in item ? [item] : [])),
          ...good.flatMap(({ line }, i) => {
            const why = answers[i] ?? null;
            return why === null ? [] : [{ line, why }];
          }),
        ].sort((a, b) => a.line - b.line);
        const taken = items.length - refused.length;
        if (items.length === 0) {
          refused.push({ line: 1, why: 'the body is empty: send one JSON object a line' });
        }
        return reply.code(taken > 0 ? 200 : 400).send({
          taken,
          refused: refused.slice(0, MAX_TOLD),
          refusedCount: refused.length,
        });
      },
    });
  });
}

/** The readings of a body, each with its line; a body that begins with [ is one array. */
function itemsOf(body: string): Item[] {
  if (/^\uFEFF?\s*\[/.test(body)) {
    const parsed = parseJsonLine(body);
    if (parsed !== null && 'value' in parsed && Array.isArray(parsed.value)) {
      return parsed.value.map((value: unknown, i) => itemOf(value, i + 1));
    }
    return [
      { line: 1, why: parsed !== null && 'refusal' in parsed ? parsed.refusal : 'is no array' },
    ];
  }
  const items: Item[] = [];
  let line = 0;
  for (const raw of body.split('\n')) {
    line++;
    if (raw.length > MAX_LINE) {
      items.push({ line, why: `is longer than ${MAX_LINE} characters, the longest line taken` });
      continue;
    }
    const parsed = parseJsonLine(raw);
    if (parsed === null) continue;
    items.push('refusal' in parsed ? { line, why: parsed.refusal } : itemOf(parsed.value, line));
  }
  return items;
}

function itemOf(value: unknown, line: number): Item {
  const checked = checkReading(value);
  return 'refusal' in checked ? { line, why: checked.refusal } : { line, reading: checked.line };
}
