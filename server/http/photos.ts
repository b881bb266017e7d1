/** Photos of captures: taken, encoded anew and recorded before they are answered; and given out. */
import type { FastifyInstance, FastifyReply } from 'fastify';
import type { ZodTypeProvider } from 'fastify-type-provider-zod';
import * as z from 'zod';
import type { Line } from '../../adapters/contract.ts';
import { MOST_BYTES_IN, MOST_PIXELS } from '../photo/limits.ts';
import { photoId } from '../store/photos.ts';
import { piecesOf } from '../visit-log/photo-pieces.ts';
import { idSchema, photoIdSchema, timeSchema } from '../visit-log/schema.ts';
import type { LiveVisit } from '../visit.ts';
import type {} from './access/who.ts'; // what a request says of who asks
import { answers, badRequest, notFound } from './answers.ts';
import { LineOfWork } from './line-of-work.ts';
import type { PhotoDesk, StageOf } from './stage.ts';
import { sent } from '../words/sent.ts';

/** Where there is no record. */
const NONE: PhotoDesk = {
  reencode: async () => ({ refusal: sent`photo: nothing is recorded here that could hold it` }),
  photo: () => null,
  trouble: () => null,
};
const PERSON = { adapter: null, simulated: false };
const BUSY = sent`Too many pictures are waiting to be taken: nothing of this was. Send it again soon.`;
const EMPTY = sent`The body is empty: send a picture, a JPEG or a PNG.`;
const ofCapture = z.object({
  unit: idSchema,
  from: z.coerce
    .number()
    .pipe(timeSchema)
    .describe('of the capture, as it was told; so are by and to'),
  by: z.enum(['touch', 'itself']),
  to: z.coerce.number().pipe(timeSchema).optional(),
});
const refused = z.object({ error: z.string() });
/** A photo that is opened by itself may do nothing, whatever a reader might see in it. */
const NOTHING_ELSE = "default-src 'none'; sandbox";

export function photoRoutes(plain: FastifyInstance, stageOf: StageOf): void {
  const work = new LineOfWork();
  plain.register(async (scope) => {
    const app = scope.withTypeProvider<ZodTypeProvider>();
    app.removeAllContentTypeParsers();
    app.addContentTypeParser(
      ['image/jpeg', 'image/png', 'application/octet-stream'],
      { parseAs: 'buffer', bodyLimit: MOST_BYTES_IN },
      (_request, body, done) => done(null, body),
    );
    app.post(
      '/api/captures/photo',
      {
        bodyLimit: MOST_BYTES_IN,
        schema: {
          summary: 'Puts a photo to a capture',
          description:
            `The body is a JPEG or a PNG of at most ${MOST_BYTES_IN / 1024 / 1024} MiB and ` +
            `${MOST_PIXELS / 1e6} million pixels. Its pixels are encoded anew, smaller: nothing else ` +
            'of it is kept, no place, no time, no camera.',
          consumes: ['image/jpeg', 'image/png'],
          querystring: ofCapture,
          response: {
            200: z.object({
              id: z.string(),
              bytes: z.number(),
              width: z.number(),
              height: z.number(),
            }),
            ...{ 400: answers[400], 503: refused, 507: refused },
          },
        },
      },
      async (request, reply) => {
        const { query, body } = request;
        const { visit, photos: desk = NONE } = stageOf(request);
        const bytes = Buffer.isBuffer(body) ? body : Buffer.alloc(0);
        if (bytes.length === 0) throw badRequest(EMPTY);
        const notRecorded = desk.trouble();
        if (notRecorded !== null) return reply.code(507).send({ error: notRecorded });
        refuse(visit.whyNoPhoto(query));
        const made = await work.add(bytes.length, () => desk.reencode(bytes));
        if (made === null) return reply.code(503).header('retry-after', 5).send({ error: BUSY });
        if ('refusal' in made) throw badRequest(made.refusal);
        const { jpeg, width, height } = made;
        const id = photoId(jpeg);
        refuse(visit.whyNoPhoto(query, id));
        // All of it in one go: the record holds the photo with what it is of, or neither.
        const pieces = visit.hasPhoto(id) ? [] : piecesOf(id, jpeg);
        for (const piece of pieces) put(visit, piece);
        put(visit, { type: 'event', kind: 'remark', t: visit.eventTime(), ...query, photo: id });
        const lost = desk.trouble();
        if (lost !== null) return reply.code(507).send({ error: lost });
        return { id, bytes: jpeg.length, width, height };
      },
    );

    app.get(
      '/api/photos/:photo',
      {
        schema: {
          summary: 'A photo of the record, of this visit or an earlier one: a JPEG',
          params: z.object({ photo: photoIdSchema }),
        },
      },
      async (request, reply) => {
        const { params } = request;
        const { visit, photos: desk = NONE } = stageOf(request);
        // Earlier visits are not for the phones that are let into this one.
        const isOpen = request.who.role === 'owner' || visit.hasPhoto(params.photo);
        const photo = isOpen ? desk.photo(params.photo) : null;
        return sendPhoto(reply, params.photo, photo);
      },
    );
  });
}

/** Answers with a photo, or why there is none. */
export function sendPhoto(
  reply: FastifyReply,
  id: string,
  photo: Uint8Array | 'damaged' | null,
): FastifyReply {
  if (photo === null) throw notFound(sent`photo: there is no "${id}" in this record`);
  if (photo === 'damaged') {
    throw notFound(
      sent`photo: pieces of "${id}" are missing or were changed; a backup may hold it`,
    );
  }
  return reply
    .type('image/jpeg')
    .header('content-security-policy', NOTHING_ELSE)
    .header('cache-control', 'private, max-age=31536000, immutable')
    .send(Buffer.from(photo.buffer, photo.byteOffset, photo.byteLength));
}

function put(visit: LiveVisit, line: Line): void {
  refuse(visit.line(line, PERSON));
}

function refuse(why: string | null): void {
  if (why !== null) throw badRequest(why);
}
