/** Asks the archive: as `ask` does, and learns from any answer that the token opens nothing any more. */
import type * as z from 'zod/mini';
import { oldVisitSchema, visitListSchema } from '../../server/protocol.ts';
import { ask } from '../live/ask.ts';
import { type Asked, listAt, type Shelf, shownAt } from '../live/visits.ts';
import { ARCHIVE } from '../words/archive.ts';

let out: () => unknown = () => undefined;
/** What is done where the archive says that nobody is let in. */
export const whenOut = (act: () => unknown): void => void (out = act);

/** @param init of `fetch`; by default it reads */
export const askArchive = <T>(
  path: string,
  schema: z.ZodMiniType<T>,
  init: RequestInit = {},
): Promise<Asked<T>> =>
  ask(path, init, schema, {
    noAnswer: ARCHIVE.noAnswer,
    seen: (status) => void (status === 401 && out()),
  });

/** The visits of the archive, for the lists and pages that also show a computer's own record. */
export const SHELF: Shelf = {
  list: (search) => askArchive(listAt(search), visitListSchema),
  show: (id) => askArchive(shownAt(id), oldVisitSchema),
};
