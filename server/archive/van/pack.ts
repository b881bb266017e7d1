/** A recorded visit as a parcel for the archive, part by part. */
import * as z from 'zod';
import { all, type Database, one } from '../../store/database.ts';
import { readTold } from '../../store/results.ts';
import { jsonPart, type Part } from '../parcel.ts';

/** Lines are sent so many characters at a time, at least. */
const LINES_CHARS = 256 * 1024;

const visitRow = z
  .object({
    ...{ id: z.string(), kind: z.string(), simulated: z.number(), title: z.string() },
    ...{ begun_t: z.number().nullable(), last_t: z.number().nullable() },
    ...{ site: z.string(), details: z.string() },
  })
  .transform(({ begun_t, last_t, simulated, details, ...row }) => ({
    ...row,
    simulated: simulated === 1,
    begunT: begun_t,
    lastT: last_t,
    details: objectOf(details),
  }));
const namedRow = z
  .object({ id: z.string(), name: z.string(), details: z.string() })
  .transform(({ details, ...row }) => ({ ...row, details: objectOf(details) }));
const lineRow = z.object({ n: z.number(), before: z.number(), line: z.string() });
const blobRow = z.object({ n: z.number(), data: z.instanceof(Uint8Array) });

/**
 * The parts of a visit whose readings are all sealed. Nothing stays open in the database between two.
 * @param key of the visit
 */
export function* packed(db: Database, key: number): Generator<Part> {
  const visit = one(
    db.prepare(
      'SELECT id, kind, simulated, title, begun_t, last_t, site, details FROM visit WHERE key = ?',
    ),
    visitRow,
    key,
  );
  if (visit === undefined) return;
  const named = (table: string, where: string, of: string | number) =>
    all(
      db.prepare(`SELECT id, name, details FROM ${table} WHERE ${where} ORDER BY id`),
      namedRow,
      of,
    );
  yield jsonPart('h', {
    version: 1,
    ...visit,
    units: named('(SELECT visit, unit AS id, name, details FROM visit_unit)', 'visit = ?', key).map(
      (unit) => ({ ...unit, airflow: airflowOf(db, key, unit.id) }),
    ),
    systems: named('outdoor_system', 'site = ?', visit.site),
    probes: probesOf(db, key),
  });
  yield* lines(db, key);
  yield* blobs(db, key, 's', 'segment', 'first_n');
  yield jsonPart('r', readTold(db, key));
  yield* blobs(db, key, 'c', 'chart', 'first_t');
}

function airflowOf(db: Database, key: number, unit: string): unknown {
  const last = db.prepare(
    'SELECT data AS details FROM airflow WHERE visit = ? AND unit = ? ORDER BY n DESC LIMIT 1',
  );
  const found = one(last, z.object({ details: z.string() }), key, unit);
  return found === undefined ? null : objectOf(found.details);
}

/** Those that lay in its checks, or told its captures. */
function probesOf(db: Database, key: number): z.infer<typeof namedRow>[] {
  const { captures, checks } = readTold(db, key);
  const ids = new Set([
    ...checks.flatMap(({ probes }) => Object.keys(probes)),
    ...captures.flatMap(({ at }) => [...(at?.returnProbes ?? []), ...(at?.supplyProbes ?? [])]),
  ]);
  const probe = db.prepare('SELECT id, name, details FROM probe WHERE id = ?');
  return [...ids].sort().flatMap((id) => one(probe, namedRow, id) ?? []);
}

function* lines(db: Database, key: number): Generator<Part> {
  const some = db.prepare(
    'SELECT n, readings_before AS before, line FROM line WHERE visit = ? AND n > ? ORDER BY n LIMIT 50',
  );
  let text = '';
  for (let after = -1; ;) {
    const rows = all(some, lineRow, key, after);
    for (const { n, before, line } of rows) {
      after = n;
      text += `${before}\t${line}\n`;
    }
    if (text !== '' && (rows.length === 0 || text.length >= LINES_CHARS)) {
      yield { kind: 'l', data: Buffer.from(text) };
      text = '';
    }
    if (rows.length === 0) return;
  }
}

function* blobs(
  db: Database,
  key: number,
  kind: 's' | 'c',
  table: 'segment' | 'chart',
  order: string,
): Generator<Part> {
  const next = db.prepare(
    `SELECT ${order} AS n, data FROM ${table} WHERE visit = ? AND ${order} > ? ORDER BY ${order} LIMIT 1`,
  );
  for (let after = -1; ;) {
    const blob = one(next, blobRow, key, after);
    if (blob === undefined) return;
    after = blob.n;
    yield { kind, data: blob.data };
  }
}

function objectOf(text: string): Record<string, unknown> {
  return z.record(z.string(), z.unknown()).parse(JSON.parse(text));
}
