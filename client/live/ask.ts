/** A call whose answer is wanted: what came, checked against its schema, or a sentence that says why not. */
import type * as z from 'zod/mini';
import { NO_ANSWER, noReasonWords, refusalWords } from '../words/refusals.ts';
import { refusalSchema } from './api.ts';
import type { Asked } from './visits.ts';

export interface How {
  /** Said where the server does not answer. */
  noAnswer?: string;
  /** How a refusal of the server is worded. */
  refused?: (error: string) => string;
  /** Is told the status of whatever answers. */
  seen?: (status: number) => void;
}

/** Asks the server. @param init of `fetch`; by default it reads */
export async function ask<T>(
  path: string,
  init: RequestInit,
  schema: z.ZodMiniType<T>,
  { noAnswer = NO_ANSWER, refused = refusalWords, seen }: How = {},
): Promise<Asked<T>> {
  let response: Response;
  try {
    response = await fetch(path, { cache: 'no-store', ...init });
  } catch {
    return { got: null, trouble: noAnswer };
  }
  seen?.(response.status);
  const said: unknown = await response.json().catch(() => null);
  const parsed = schema.safeParse(said);
  if (response.ok && parsed.success) return { got: parsed.data, trouble: null };
  const refusal = refusalSchema.safeParse(said);
  return {
    got: null,
    trouble: refusal.success ? refused(refusal.data.error) : noReasonWords(response.status),
  };
}

/** A body of JSON, as `fetch` takes it. */
export const sending = (method: 'DELETE' | 'POST' | 'PUT', body?: unknown): RequestInit =>
  body === undefined
    ? { method }
    : { method, headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) };
