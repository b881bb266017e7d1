/** The calls by which the owner lets phones in, sees them and sends them away. */
import type * as z from 'zod/mini';
import {
  type Code,
  codeSchema,
  type Phones,
  phonesSchema,
  type Role,
} from '../../server/protocol/access.ts';
import { NO_PHONES } from '../words/phones.ts';
import { NO_ANSWER, noReasonWords, refusalWords } from '../words/refusals.ts';
import { deleteOf, refusalSchema } from './api.ts';
import type { Asked } from './visits.ts';

/** Who has been let in, and where other machines find this one. */
export const listPhones = (): Promise<Asked<Phones>> =>
  ask('/api/phones', {}, phonesSchema, NO_PHONES);

/** Makes a code, which is told this once. */
export const newCode = (role: Role): Promise<Asked<Code>> =>
  ask(
    '/api/phones/codes',
    {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ role }),
    },
    codeSchema,
    NO_ANSWER,
  );

/** Sends a phone away. Answers null, or why not. */
export const withdrawPhone = (id: string): Promise<string | null> => deleteOf('phones', id);

async function ask<T>(
  path: string,
  init: RequestInit,
  schema: z.ZodMiniType<T>,
  noAnswer: string,
): Promise<Asked<T>> {
  let response: Response;
  try {
    response = await fetch(path, { cache: 'no-store', ...init });
  } catch {
    return { got: null, trouble: noAnswer };
  }
  const said: unknown = await response.json().catch(() => null);
  const parsed = schema.safeParse(said);
  if (response.ok && parsed.success) return { got: parsed.data, trouble: null };
  const refusal = refusalSchema.safeParse(said);
  return {
    got: null,
    trouble: refusal.success ? refusalWords(refusal.data.error) : noReasonWords(response.status),
  };
}
