/** The visits of the record, as the server lists and shows them. */
import * as z from 'zod/mini';
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
import { NO_ANSWER, refusedWords } from '../words/report.ts';
import { NO_RECORD } from '../words/record.ts';
import { translated } from '../words/language.ts';

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
    return failed(NO_RECORD.noAnswer);
  }
  if (response.status === 404) return failed(NO_RECORD.gone);
  const answer: unknown = await response.json().catch(() => null);
  const parsed = schema.safeParse(answer);
  if (!response.ok || !parsed.success) {
    return failed(NO_RECORD.unread(response.status));
  }
  return { got: parsed.data, trouble: null };
}

/** The address of the visits that fit a search. */
export function listAt({ text, since, until }: Search): string {
  const query = new URLSearchParams({ most: String(MOST_LISTED) });
  if (text.trim() !== '') query.set('text', text.trim());
  if (since !== null) query.set('since', String(since));
  if (until !== null) query.set('until', String(until));
  return `/api/visits?${query.toString()}`;
}

/** The visits that fit a search, newest first. */
export const listVisits = (search: Search): Promise<Asked<VisitList>> =>
  ask(listAt(search), visitListSchema);

/** Where visits are listed and shown: the record of this computer, or a company's archive. */
export interface Shelf {
  list: (search: Search) => Promise<Asked<VisitList>>;
  show: (id: string) => Promise<Asked<OldVisit>>;
}

const at = (id: string): string => `/api/visits/${encodeURIComponent(id)}`;

/** The address of a recorded visit with all that was told of it. */
export const shownAt = (id: string): string => `${at(id)}?points=${POINTS}`;
/** A recorded visit with all that was told of it. */
export const showVisit = (id: string): Promise<Asked<OldVisit>> => ask(shownAt(id), oldVisitSchema);

/** The record of this computer. */
export const RECORD: Shelf = { list: listVisits, show: showVisit };

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
/** And its tables. */
export const capturesAt = (id: string): string => `${at(id)}/captures.csv`;
export const readingsAt = (id: string): string => `${at(id)}/readings.csv`;

const refusalSchema = z.object({ error: z.string() });

/** Its report, made anew. */
export async function fetchReport(
  id: string,
  form: { units: 'si' | 'ip'; paper: 'letter' | 'a4' },
): Promise<Asked<File>> {
  let response: Response;
  let bytes: Blob;
  try {
    response = await fetch(`${at(id)}/report.pdf?${new URLSearchParams(form).toString()}`);
    bytes = await response.blob();
  } catch {
    return { got: null, trouble: NO_ANSWER };
  }
  if (response.ok) {
    const header = response.headers.get('content-disposition') ?? '';
    const name = /filename="([^"]+)"/.exec(header)?.[1] ?? 'report.pdf';
    return { got: new File([bytes], name, { type: 'application/pdf' }), trouble: null };
  }
  const said: unknown = await bytes
    .text()
    .then(JSON.parse)
    .catch(() => null);
  const { data } = refusalSchema.safeParse(said);
  return {
    got: null,
    trouble: refusedWords(response.status, data === undefined ? null : translated(data.error)),
  };
}
