/** What the calls that change something answer, and how they refuse. */
import * as z from 'zod';
import { sent } from '../words/sent.ts';

export const answers = {
  200: z.object({ ok: z.literal(true) }),
  400: z.object({ error: z.string() }),
  404: z.object({ error: z.string() }),
  409: z.object({ error: z.string() }).describe('a replay cannot be altered'),
};

/** A refusal of what was sent. @param why a sentence that begins with the field */
export function badRequest(why: string): Error {
  return Object.assign(new Error(why), { statusCode: 400 });
}

/** A refusal because there is no such thing. */
export function notFound(why: string): Error {
  return Object.assign(new Error(why), { statusCode: 404 });
}

/** A refusal because of what the visit is. */
export function conflict(why: string): Error {
  return Object.assign(new Error(why), { statusCode: 409 });
}

/** A refusal because it is not for who is asking. */
export function forbidden(why: string): Error {
  return Object.assign(new Error(why), { statusCode: 403 });
}

/** A refusal of one call too many. */
export function tooMany(waitS: number): Error {
  const why = sent`Too many calls in a minute: wait ${waitS} seconds, then go on.`;
  return Object.assign(new Error(why), { statusCode: 429 });
}
