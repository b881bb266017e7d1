/** Which visits of a record the company's archive has confirmed. */
import * as z from 'zod';
import { all, type Database } from './database.ts';

/** A finished visit that was written to since it was confirmed last. */
export interface Unsent {
  key: number;
  id: string;
  writtenT: number;
  /** The version that the archive has; null: none. */
  hash: string | null;
}

const unsentRow = z
  .object({
    ...{ key: z.number(), id: z.string(), written_t: z.number(), hash: z.string().nullable() },
  })
  .transform(({ written_t, ...row }): Unsent => ({ ...row, writtenT: written_t }));

/**
 * Finished visits that the archive has not, oldest first. What was simulated is no measurement, and a log
 * that was played is somebody else's visit.
 * @param live the id of the visit that still goes on
 */
export function unsentVisits(db: Database, live: string): Unsent[] {
  const find = db.prepare(
    `SELECT visit.key, visit.id, visit.written_t, sent.hash FROM visit
       LEFT JOIN sent ON sent.visit = visit.key
     WHERE visit.id <> ? AND whole = 1 AND simulated = 0 AND kind <> 'replay' AND begun_t IS NOT NULL
       AND (sent.written_t IS NULL OR sent.written_t <> visit.written_t)
     ORDER BY visit.written_t, visit.key`,
  );
  return all(find, unsentRow, live);
}

/** The archive holds it as it is. */
export function confirmSent(
  db: Database,
  { key, writtenT }: Unsent,
  hash: string,
  now: number,
): void {
  db.prepare(
    `INSERT INTO sent (visit, hash, written_t, confirmed_t) VALUES (?, ?, ?, ?)
     ON CONFLICT (visit) DO UPDATE SET hash = excluded.hash, written_t = excluded.written_t,
       confirmed_t = excluded.confirmed_t`,
  ).run(key, hash, writtenT, now);
}
