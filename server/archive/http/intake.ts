/** The calls by which a van sends its visits. */
import type { FastifyInstance, FastifyRequest } from 'fastify';
import type { ZodTypeProvider } from 'fastify-type-provider-zod';
import * as z from 'zod';
import { heldSchema } from '../../protocol/archive.ts';
import { idSchema } from '../../visit-log/schema.ts';
import { sent } from '../../words/sent.ts';
import { type Intake, MOST_PIECE_BYTES, OutOfTurn, Unfit, type Van } from '../intake.ts';
import { MOST_PARCEL_BYTES } from '../parcel.ts';
import { askerOf, ONLY_VANS } from './who.ts';

const path = '/api/archive/visits/:visit/versions/:hash';
const params = z.object({
  visit: idSchema,
  hash: z.string().regex(/^[0-9a-f]{64}$/, { error: 'is not a SHA-256 in hexadecimal digits' }),
});
const bytes = z.coerce.number().int().min(1).max(MOST_PARCEL_BYTES).describe('of all of it');
const refused = z.object({ error: z.string() });
const NO_PIECE = sent`The body is empty: send the next bytes of the visit.`;

export function intakeRoutes(plain: FastifyInstance, intake: Intake): void {
  plain.register(async (scope) => {
    const app = scope.withTypeProvider<ZodTypeProvider>();
    app.removeAllContentTypeParsers();
    app.addContentTypeParser(
      'application/octet-stream',
      { parseAs: 'buffer', bodyLimit: MOST_PIECE_BYTES },
      (_request, body, done) => done(null, body),
    );
    app.get(
      path,
      {
        config: { roles: ONLY_VANS },
        schema: {
          summary: 'How much of a version of a visit is here: from there on it is sent',
          params,
          querystring: z.object({ bytes }),
          response: { 200: heldSchema, 422: refused },
        },
      },
      async (request, reply) => {
        const of = { ...request.params, bytes: request.query.bytes };
        const held = await intake.held(vanOf(request), of);
        // All of it came, and the server was killed before it was taken.
        if (held.taken || held.held < of.bytes) return held;
        try {
          return await intake.finish(vanOf(request), of);
        } catch (error) {
          return reply.code(422).send({ error: whyNot(of.visit, error) });
        }
      },
    );
    app.put(
      path,
      {
        bodyLimit: MOST_PIECE_BYTES,
        config: { roles: ONLY_VANS },
        schema: {
          summary:
            'The next piece of a version of a visit; with the last one it stands in the archive',
          description:
            'The body is some bytes of the parcel, from `at` on; the version is the SHA-256 of all of ' +
            'it. What was sent already may be sent again.',
          consumes: ['application/octet-stream'],
          params,
          querystring: z.object({ bytes, at: z.coerce.number().int().min(0) }),
          response: {
            200: heldSchema,
            409: z.object({ error: z.string(), held: z.number() }),
            422: refused,
          },
        },
      },
      async (request, reply) => {
        const { query, body } = request;
        const of = { ...request.params, bytes: query.bytes };
        const piece = Buffer.isBuffer(body) ? body : Buffer.alloc(0);
        if (piece.length === 0) return reply.code(422).send({ error: NO_PIECE });
        try {
          return await intake.take(vanOf(request), of, query.at, piece);
        } catch (error) {
          if (error instanceof OutOfTurn) {
            return reply.code(409).send({ error: `at: ${error.message}`, held: error.held });
          }
          return reply.code(422).send({ error: whyNot(of.visit, error) });
        }
      },
    );
  });
}

/** As a sentence, why a visit is refused. @throws whatever else went wrong */
function whyNot(visit: string, error: unknown): string {
  if (!(error instanceof Unfit)) throw error;
  return sent`The visit "${visit}" was not taken: ${error.message}.`;
}

function vanOf(request: FastifyRequest): Van {
  const asker = askerOf(request);
  if (asker.van === null) throw new Error('only a van gets here');
  return { ...asker, van: asker.van };
}
