/** What the owner may do: see the audit, delete a visit, take what is personal out of a site's visits. */
import * as z from 'zod';
import type { Audit } from '../protocol/archive.ts';
import type { Ask } from './database.ts';
import { KINDS } from './parcel.ts';
import { withoutPersonal } from './personal.ts';
import { readParts } from './visit-parts.ts';

const MOST_ENTRIES = 500;
const entryRow = z.object({ t: z.number(), who: z.string(), did: z.string(), what: z.string() });

/** What was done, the newest first. */
export const readAudit = (ask: Ask): Promise<Audit['entries']> =>
  ask.rows(
    entryRow,
    `SELECT (extract(epoch FROM t) * 1000)::double precision AS t, who, did, what FROM audit
     ORDER BY n DESC LIMIT ${MOST_ENTRIES}`,
  );

/** Deletes a visit with all its versions. @returns whether there was such a one */
export const deleteVisit = async (ask: Ask, visit: number): Promise<boolean> =>
  (await ask.run('DELETE FROM visit WHERE key = $1', [visit])) > 0;

/** Parts of one version without what is personal in them; blocks of readings and pieces of the chart name nobody. */
async function freeVersion(
  ask: Ask,
  { month, visit, n }: z.infer<typeof versionRow>,
): Promise<void> {
  const found = await ask.rows(
    partRow,
    `SELECT i, kind, data FROM part WHERE month = $1 AND visit = $2 AND n = $3
     AND kind IN ('h', 'l', 'r') ORDER BY i`,
    [month, visit, n],
  );
  const { parts } = withoutPersonal(readParts(found));
  for (const [at, { i }] of found.entries()) {
    await ask.run(
      'UPDATE part SET data = $5 WHERE month = $1 AND visit = $2 AND n = $3 AND i = $4',
      [month, visit, n, i, parts[at]?.data],
    );
  }
}

const versionRow = z.object({ month: z.string(), visit: z.coerce.number(), n: z.number() });
const partRow = z.object({
  ...{ i: z.number(), kind: z.enum(KINDS), data: z.instanceof(Buffer) },
});

/**
 * Takes what is personal out of a site and of all versions of its visits; measurements stay. What comes of
 * these visits later is freed of it as well, and nothing is left by which the site would be known again.
 * @returns whether there was such a site, not erased yet
 */
export async function erasePersonal(ask: Ask, site: number, now: number): Promise<boolean> {
  // A version being taken right now lands before this, or comes after it and is freed on its way in.
  await ask.run('SELECT FROM visit WHERE site = $1 ORDER BY key FOR UPDATE', [site]);
  const found = await ask.run(
    `UPDATE site SET title = '', address = '', erased_t = $2 WHERE key = $1 AND erased_t IS NULL`,
    [site, now],
  );
  if (found === 0) return false;
  await ask.run(
    `DELETE FROM alias WHERE site = $1 OR unit IN (SELECT key FROM unit WHERE site = $1)`,
    [site],
  );
  await ask.run('DELETE FROM photo USING visit WHERE visit.key = photo.visit AND visit.site = $1', [
    site,
  ]);
  await ask.run(`UPDATE unit SET name = '', serial = '' WHERE site = $1`, [site]);
  const versions = await ask.rows(
    versionRow,
    `SELECT version.month::text, version.visit, version.n FROM version JOIN visit
       ON visit.key = version.visit WHERE visit.site = $1`,
    [site],
  );
  for (const version of versions) await freeVersion(ask, version);
  await ask.run(
    `UPDATE visit SET title = '', address = '', customer = '', technician = '', why = '',
       units = ARRAY(SELECT id FROM visit_unit WHERE visit_unit.visit = visit.key ORDER BY id),
       erased_t = $2 WHERE site = $1`,
    [site, now],
  );
  return true;
}
