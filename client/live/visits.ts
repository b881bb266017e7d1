/** The visits of the record, as the server lists and shows them. */
import type * as z from 'zod/mini';
import {
  type EarlierAirflows,
  earlierAirflowsSchema,
  type EarlierCaptures,
  earlierCapturesSchema,
  type KnownOutlets,
  knownOutletsSchema,
  type OldVisit,
  oldVisitSchema,
  type VisitList,
  visitListSchema,
} from '../../server/protocol.ts';

/** What was asked for, or a sentence that says why it cannot be had. */
export type Asked<T> = { got: T; trouble: null } | { got: null; trouble: string };

/** What to look for: words, and readings between two times, ms. */
export interface Search {
  text: string;
  since: number | null;
  until: number | null;
}

/** The list has room for so many; what is older is found by searching. */
export const MOST_LISTED = 100;
/** Rows of the chart of a visit: more than a screen is wide. */
const POINTS = 4000;

async function ask<T>(path: string, schema: z.ZodMiniType<T>): Promise<Asked<T>> {
  const failed = (trouble: string): Asked<T> => ({ got: null, trouble });
  let response: Response;
  try {
    response = await fetch(path);
  } catch {
    return failed('The server did not answer. Nothing is lost; try again when the line is back.');
  }
  if (response.status === 404) return failed('There is no such visit in this record any more.');
  const answer: unknown = await response.json().catch(() => null);
  const parsed = schema.safeParse(answer);
  if (!response.ok || !parsed.success) {
    return failed(
      `The server could not read its record (status ${response.status}). Try again; if it goes on, ` +
        'end Plateau and have it look at its folder: plateau doctor.',
    );
  }
  return { got: parsed.data, trouble: null };
}

/** The visits that fit a search, newest first. */
export function listVisits({ text, since, until }: Search): Promise<Asked<VisitList>> {
  const query = new URLSearchParams({ most: String(MOST_LISTED) });
  if (text.trim() !== '') query.set('text', text.trim());
  if (since !== null) query.set('since', String(since));
  if (until !== null) query.set('until', String(until));
  return ask(`/api/visits?${query.toString()}`, visitListSchema);
}

const at = (id: string): string => `/api/visits/${encodeURIComponent(id)}`;

/** A recorded visit with all that was told of it. */
export const showVisit = (id: string): Promise<Asked<OldVisit>> =>
  ask(`${at(id)}?points=${POINTS}`, oldVisitSchema);

/** Airflows that were measured at this site in earlier visits, newest first. */
export const earlierAirflows = (): Promise<Asked<EarlierAirflows>> =>
  ask('/api/airflows/earlier', earlierAirflowsSchema);

/** Openings of earlier visits, the newest of each kind. */
export const knownOutlets = (): Promise<Asked<KnownOutlets>> =>
  ask('/api/outlets/known', knownOutletsSchema);

/** Captures that were made at this site in earlier visits, newest first. */
export const earlierCaptures = (): Promise<Asked<EarlierCaptures>> =>
  ask('/api/captures/earlier', earlierCapturesSchema);

/** Where its visit log is to be had. */
export const logAt = (id: string): string => `${at(id)}/log`;
