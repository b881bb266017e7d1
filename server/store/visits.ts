/** The visits of a data folder: begun, found, listed. */
import * as z from 'zod';
import { VISIT_KINDS } from '../protocol.ts';
import { all, type Database, one } from './database.ts';

export type VisitKind = (typeof VISIT_KINDS)[number];

const keyRow = z.object({ key: z.number() });
const siteRow = z.object({ site: z.string() });
const foundRow = z
  .object({
    key: z.number(),
    id: z.string(),
    kind: z.enum(VISIT_KINDS),
    written_t: z.number(),
    last_t: z.number().nullable(),
    whole: z.number(),
  })
  .transform(({ key, id, kind, written_t, last_t, whole }): FoundVisit => ({
    ...{ key, id, kind, writtenT: written_t, lastT: last_t, whole: whole === 1 },
  }));
export interface FoundVisit {
  key: number;
  id: string;
  kind: VisitKind;
  /** When it was last written to, by the computer's clock, ms. */
  writtenT: number;
  /** Time of its newest reading, ms; null before the first. */
  lastT: number | null;
  /** Whether all that was told of it is kept: see `Results`. */
  whole: boolean;
}

/** A name for a visit that begins at `t`, unlike any other of this computer. */
export function visitId(t: number, kind: VisitKind = 'visit'): string {
  return `${kind}-${new Date(t).toISOString().replace(/[:.]/g, '-')}`;
}

/** The key of the visit of that id; makes it, at a site of its own, where there is none. */
export function beginVisit(db: Database, id: string, kind: VisitKind, now: number): number {
  const known = one(db.prepare('SELECT key FROM visit WHERE id = ?'), keyRow, id);
  if (known !== undefined) return known.key;
  const site = `site-${id}`;
  db.prepare(
    "INSERT INTO site (id, name, address) VALUES (?, '', '') ON CONFLICT (id) DO NOTHING",
  ).run(site);
  const make = db.prepare(
    'INSERT INTO visit (id, site, kind, written_t) VALUES (?, ?, ?, ?) RETURNING key',
  );
  return one(make, keyRow, id, site, kind, now)?.key ?? -1;
}

const FOUND = 'SELECT key, id, kind, written_t, last_t, whole FROM visit';

/** The visit that was written to last, of those that were made here; null where there is none. */
export function newestVisit(db: Database): FoundVisit | null {
  const newest = db.prepare(
    `${FOUND} WHERE kind = 'visit' ORDER BY written_t DESC, key DESC LIMIT 1`,
  );
  return one(newest, foundRow) ?? null;
}

/** The visit of that id, or null. */
export function visitById(db: Database, id: string): FoundVisit | null {
  return one(db.prepare(`${FOUND} WHERE id = ?`), foundRow, id) ?? null;
}

/** All visits, oldest first. */
export function allVisits(db: Database): FoundVisit[] {
  return all(db.prepare(`${FOUND} ORDER BY written_t, key`), foundRow);
}

/** The id of the site of a visit. */
export function siteOf(db: Database, visit: number): string {
  return one(db.prepare('SELECT site FROM visit WHERE key = ?'), siteRow, visit)?.site ?? '';
}
