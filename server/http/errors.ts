/** Every failure as a sentence: what is wrong, where, what to do. */
import type { FastifyError, FastifyInstance } from 'fastify';
import { hasZodFastifySchemaValidationErrors } from 'fastify-type-provider-zod';
import { sentence } from '../visit-log/schema.ts';
import { MOST_BYTES_IN } from '../photo/limits.ts';
import { MAX_BODY } from './readings.ts';
import { sent } from '../words/sent.ts';

/** What fastify's own refusals mean to a person. */
const SENTENCES: Record<string, string> = {
  FST_ERR_CTP_BODY_TOO_LARGE: sent`The body is too large: at most ${MAX_BODY / 1024 / 1024} MiB of readings, ${MOST_BYTES_IN / 1024 / 1024} MiB of a picture (64 KiB elsewhere) are taken at once. Send less.`,
  FST_ERR_CTP_INVALID_MEDIA_TYPE: sent`This content type is not taken: send application/x-ndjson (readings, one a line) or application/json; of a picture image/jpeg or image/png.`,
  FST_ERR_CTP_EMPTY_JSON_BODY: sent`The body is empty: send a JSON object.`,
  FST_ERR_CTP_INVALID_JSON_BODY: sent`The body is not JSON: check for a missing quote or bracket.`,
};

export function explainFailures(app: FastifyInstance): void {
  app.setErrorHandler((error: FastifyError, request, reply) => {
    const status = error.statusCode ?? 500;
    if (hasZodFastifySchemaValidationErrors(error)) {
      const first = error.validation[0];
      if (first === undefined) return reply.code(400).send({ error: error.message });
      const complaint = {
        ...first.params,
        code: first.keyword,
        path: first.instancePath.split('/').filter((key) => key !== ''),
        message: first.message ?? sent`is not accepted`,
      };
      const { validationContext: context } = error;
      const inAddress = context === 'params' ? request.params : request.query;
      const given = context === 'body' ? request.body : inAddress;
      if (given === undefined) {
        return reply.code(400).send({ error: SENTENCES['FST_ERR_CTP_EMPTY_JSON_BODY'] });
      }
      return reply.code(400).send({ error: sentence(given, complaint) });
    }
    // Of what is only away for now its own sentence is the best.
    if (status >= 500 && status !== 503) {
      process.stderr.write(`${request.method} ${request.url}: ${error.stack ?? error.message}\n`);
      const why = sent`The server failed at this call; its own output says more. Try again.`;
      return reply.code(status).send({ error: why });
    }
    return reply.code(status).send({ error: SENTENCES[error.code] ?? error.message });
  });
  app.setNotFoundHandler((request, reply) => {
    const error = sent`There is nothing at ${request.method} ${request.url.split('?')[0] ?? ''}: /api/docs lists the calls.`;
    return reply.code(404).send({ error });
  });
}
