/**
 * `PUT /api/bluetooth/keys/:address`: the keys of probes that encrypt what they broadcast. A key goes
 * in and never comes out again: no call answers with it, and no refusal quotes it.
 */
import type { FastifyInstance } from 'fastify';
import type { ZodTypeProvider } from 'fastify-type-provider-zod';
import * as z from 'zod';
import { answers, badRequest } from './answers.ts';
import type { StageOf } from './stage.ts';
import { sent } from '../words/sent.ts';

const DIGITS = 32;

const bodySchema = z.object({
  // What is no key is refused by hand: a schema's refusal would quote it.
  key: z.unknown().meta({
    type: ['string', 'null'],
    description:
      `${DIGITS} hexadecimal digits; spaces, hyphens, colons and capitals do not matter. ` +
      'null takes the key away.',
  }),
});

export function keysRoute(plain: FastifyInstance, stageOf: StageOf): void {
  plain.withTypeProvider<ZodTypeProvider>().put(
    '/api/bluetooth/keys/:address',
    {
      schema: {
        summary: 'Keeps the key of a Bluetooth probe that encrypts what it broadcasts',
        params: z.object({
          address: z.string().min(1).max(128).describe("the probe's id, or its address"),
        }),
        body: bodySchema,
        response: answers,
      },
    },
    async (request) => {
      const { params, body } = request;
      const key = body.key === null ? null : keyOf(body.key);
      const refusal = stageOf(request).setKey(params.address, key);
      if (refusal !== null) throw badRequest(refusal);
      return { ok: true as const };
    },
  );
}

/** The digits of a key. @throws a refusal that says what is wrong with it, without quoting it */
function keyOf(given: unknown): string {
  const accepted = sent`a key has ${DIGITS} hexadecimal digits (0 to 9, a to f)`;
  if (typeof given !== 'string') throw badRequest(sent`key: is not a text: ${accepted}`);
  const digits = given.replaceAll(/[\s:-]/g, '').toLowerCase();
  const other = /[^0-9a-f]/.exec(digits);
  if (other !== null) throw badRequest(sent`key: holds other characters than digits: ${accepted}`);
  if (digits.length !== DIGITS) {
    throw badRequest(sent`key: has ${digits.length} digits: ${accepted}`);
  }
  return digits;
}
