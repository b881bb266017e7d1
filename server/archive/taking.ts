/**
 * A whole visit into the tables, as its next version: belongs into one transaction of the van. Its month has
 * its partitions already.
 */
import * as z from 'zod';
import type { Asker, Ask } from './database.ts';
import { plain, serialOf, siteHash, unitHashes, type Whereabouts } from './identity.ts';
import type { Head, Part } from './parcel.ts';
import { withoutPersonal } from './personal.ts';
import { insertTold, type OfVersion, type Units } from './told-rows.ts';
import type { VisitParts } from './visit-parts.ts';

const heldRow = z.object({
  key: z.coerce.number(),
  site: z.coerce.number(),
  n: z.number(),
  erased_t: z.number().nullable(),
});
const keyRow = z.object({ key: z.coerce.number() });
const textOf = (value: unknown): string => (typeof value === 'string' ? value : '');

/**
 * The first day of the month (UTC) that a visit stands in; one without a reading in that in which it came.
 * @param now wall clock, ms
 */
export const monthOf = ({ begunT }: Head, now: number): string =>
  `${new Date(begunT ?? now).toISOString().slice(0, 7)}-01`;

/**
 * @param hash SHA-256 of the parcel as it was sent
 * @param now wall clock, ms
 * @returns whether it was new: false where the archive held this very version
 */
export async function takeVisit(
  ask: Ask,
  van: Asker & { van: string },
  sent: VisitParts,
  { hash, bytes, now }: { hash: Buffer; bytes: number; now: number },
): Promise<boolean> {
  const { id } = sent.head;
  // One after another, of one visit; and not while it is erased.
  await ask.run('SELECT pg_advisory_xact_lock(hashtext($1), hashtext($2))', [van.van, id]);
  const held = await ask.one(
    heldRow,
    'SELECT key, site, n, erased_t FROM visit WHERE van = $1 AND id = $2 FOR UPDATE',
    [van.van, id],
  );
  if (held !== undefined && (await holds(ask, held.key, hash))) return false;
  // What was erased does not come back with what is sent later.
  const isErased = held !== undefined && held.erased_t !== null;
  const { head, told, parts, readings, photos } = isErased ? withoutPersonal(sent) : sent;
  const month = monthOf(head, now);

  const at: Whereabouts = {
    ...{ van: van.van, site: head.site, title: head.title },
    ...{ address: saidOf(head, 'address'), customer: saidOf(head, 'customer') },
  };
  const site = isErased ? undefined : await siteOf(ask, at);
  const visit = await putVisit(ask, { van: van.van, head, told, site });
  const n = (held?.n ?? 0) + 1;
  if (held !== undefined) await standBack(ask, visit);
  await ask.run(
    `INSERT INTO version (month, visit, n, van, hash, bytes, readings, taken_t)
     VALUES ($1, $2, $3, $4, $5, $6, $7, $8)`,
    [month, visit, n, van.van, hash, bytes, readings, now],
  );
  const of: OfVersion = [month, visit, n, van.van];
  await insertParts(ask, of, parts);
  for (const photo of photos) {
    await ask.run(
      'INSERT INTO photo (id, visit, van) VALUES ($1, $2, $3) ON CONFLICT (id, visit) DO NOTHING',
      [photo, visit, van.van],
    );
  }
  const units = isErased
    ? await unitsHeld(ask, visit, head)
    : await unitsOf(ask, van.van, visit, at, head);
  if (held !== undefined && site !== undefined && held.site !== site) {
    await ask.run('SELECT site_left($1)', [held.site]);
  }
  await nameProbes(ask, head);
  await insertTold(ask, of, told, units);
  return true;
}

/** Statements take parts of so many bytes together. */
const PARTS_BYTES = 4 * 1024 * 1024;
const INSERT_PARTS = `INSERT INTO part (month, visit, n, van, i, kind, data)
  SELECT $1::date, $2::bigint, $3::int, $4, i, kind, substring($9::bytea FROM at + 1 FOR bytes)
  FROM unnest($5::int[], $6::"char"[], $7::int[], $8::int[]) AS part (i, kind, at, bytes)`;

/**
 * Many parts a statement, their bytes as one value and that the last one: whenever a value needs more room,
 * the library copies all that it has written before.
 */
async function insertParts(ask: Ask, of: OfVersion, parts: readonly Part[]): Promise<void> {
  let some: (Part & { i: number; at: number })[] = [];
  let bytes = 0;
  for (const [i, part] of parts.entries()) {
    some.push({ ...part, i, at: bytes });
    bytes += part.data.length;
    if (bytes < PARTS_BYTES && i + 1 < parts.length) continue;
    await ask.run(INSERT_PARTS, [
      ...of,
      some.map((each) => each.i),
      some.map(({ kind }) => kind),
      some.map(({ at }) => at),
      some.map(({ data }) => data.length),
      Buffer.concat(some.map(({ data }) => data)),
    ]);
    some = [];
    bytes = 0;
  }
}

const saidOf = ({ details }: Head, name: string): string => textOf(details[name]);

/** The site of a visit: one that is known, or a new one. */
async function siteOf(ask: Ask, at: Whereabouts): Promise<number | undefined> {
  const found = await ask.one(keyRow, 'SELECT site_of($1, $2, $3) AS key', [
    ...[siteHash(at), at.title, at.address],
  ]);
  return found?.key;
}

/**
 * What a visit is said to be, new or in place of what was said before.
 * @param site undefined: where it stands already
 * @returns its key
 */
async function putVisit(
  ask: Ask,
  {
    van,
    head,
    told,
    site,
  }: Pick<VisitParts, 'head' | 'told'> & { van: string; site?: number | undefined },
): Promise<number> {
  const said = ['address', 'customer', 'technician', 'why'].map((name) => saidOf(head, name));
  const visit = await ask.one(
    keyRow,
    `INSERT INTO visit (van, id, site, kind, title, address, customer, technician, why, units, captures,
       begun_t, last_t, n) VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, 1)
     ON CONFLICT (van, id) DO UPDATE SET site = COALESCE($14, visit.site), kind = $4, title = $5,
       address = $6, customer = $7, technician = $8, why = $9, units = $10, captures = $11,
       begun_t = $12, last_t = $13, n = visit.n + 1
     RETURNING key`,
    [
      ...[van, head.id, site ?? 0, head.kind, head.title, ...said],
      head.units.map(({ name }) => name),
      told.captures.filter(({ struck }) => struck === undefined).length,
      ...[head.begunT, head.lastT, site ?? null],
    ],
  );
  if (visit === undefined) throw new Error('the visit was not taken');
  return visit.key;
}

/** What the probes of a visit are called, in the book of all probes. */
async function nameProbes(ask: Ask, { probes }: Head): Promise<void> {
  for (const { id, name, details } of probes) {
    const calibratedT = details['calibratedT'];
    await ask.run('SELECT probe_named($1, $2, $3, $4)', [
      ...[id, name, textOf(details['serial'])],
      typeof calibratedT === 'number' ? calibratedT : null,
    ]);
  }
}

const modelOf = ({ details }: Head['units'][number]): string => textOf(details['model']);

/** The units of a visit as the archive knows them, over the visits of all vans. */
async function unitsOf(
  ask: Ask,
  van: string,
  visit: number,
  at: Whereabouts,
  head: Head,
): Promise<Units> {
  const units = new Map<string, { key: number; model: string }>();
  const called = head.units.map(({ name }) => plain(name));
  for (const unit of head.units) {
    const [model, form] = [modelOf(unit), textOf(unit.details['form'])];
    const serial = serialOf(textOf(unit.details['serial']));
    const { id, name } = unit;
    // Two of one name at one place are told apart by their ids.
    const isShared = called.filter((each) => each === plain(name)).length > 1;
    const known = isShared ? `${name} ${id}` : name;
    const { bySerial, byPlace, byVan } = unitHashes(at, { id, name: known, model, serial });
    const found = await ask.one(
      keyRow,
      'SELECT unit_of((SELECT site FROM visit WHERE key = $1), $2, $3, $4, $5, $6, $7, $8) AS key',
      [visit, bySerial, byPlace, byVan, name, model, form, serial],
    );
    if (found === undefined) continue;
    units.set(id, { key: found.key, model });
    await ask.run(
      `INSERT INTO visit_unit (visit, id, unit, van) VALUES ($1, $2, $3, $4)
       ON CONFLICT (visit, id) DO UPDATE SET unit = $3`,
      [visit, id, found.key, van],
    );
  }
  return units;
}

/** Those of a visit of which nothing is left that its units could be known by. */
async function unitsHeld(ask: Ask, visit: number, head: Head): Promise<Units> {
  const held = await ask.rows(
    z.object({ id: z.string(), unit: z.coerce.number() }),
    'SELECT id, unit FROM visit_unit WHERE visit = $1',
    [visit],
  );
  const models = new Map(head.units.map((unit) => [unit.id, modelOf(unit)]));
  return new Map(held.map(({ id, unit }) => [id, { key: unit, model: models.get(id) ?? '' }]));
}

async function holds(ask: Ask, visit: number, hash: Buffer): Promise<boolean> {
  const row = await ask.one(
    z.object({ n: z.number() }),
    'SELECT n FROM version WHERE visit = $1 AND hash = $2',
    [visit, hash],
  );
  return row !== undefined;
}

/** What was current is history: it stays, and is not asked about any more. */
async function standBack(ask: Ask, visit: number): Promise<void> {
  for (const table of ['version', 'capture', 'verdict', 'airflow', 'probe_check', 'baseline']) {
    await ask.run(`UPDATE ${table} SET current = false WHERE visit = $1 AND current`, [visit]);
  }
}
