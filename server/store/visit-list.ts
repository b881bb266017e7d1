/** Recorded visits as they are searched and shown. */
import * as z from 'zod';
import { HistoryColumns } from '../history.ts';
import {
  airflowLineSchema,
  airflowResultSchema,
  captureSchema,
  type EarlierAirflows,
  type EarlierCaptures,
  type OldVisit,
  systemDetailsSchema,
  type VisitItem,
  VISIT_KINDS,
} from '../protocol.ts';
import { all, type Database, one } from './database.ts';
import { readChart, readTold } from './results.ts';

/** What to look for; every word has to stand in something that a person said of the visit. */
export interface VisitSearch {
  /** Words of title, address, customer, technician, notes, or names of units. */
  text: string;
  /** Visits with a reading between these times, ms. */
  since: number;
  until: number;
  most: number;
}

const itemRow = z
  .object({
    ...{ id: z.string(), kind: z.enum(VISIT_KINDS), title: z.string() },
    ...{ simulated: z.number(), details: z.string(), site: z.string() },
    ...{ begun_t: z.number().nullable(), last_t: z.number().nullable(), units: z.string() },
    ...{ captures: z.number() },
  })
  .transform(({ begun_t, last_t, simulated, details, units, ...row }): VisitItem => {
    const said = z.record(z.string(), z.unknown()).parse(JSON.parse(details));
    return {
      ...row,
      simulated: simulated === 1,
      begunT: begun_t,
      lastT: last_t,
      address: textOf(said['address']),
      customer: textOf(said['customer']),
      technician: textOf(said['technician']),
      why: textOf(said['why']),
      units: z.array(z.string()).parse(JSON.parse(units)),
    };
  });

const ITEM = `SELECT visit.id, visit.kind, visit.title, visit.simulated, visit.details, visit.site,
  visit.begun_t, visit.last_t,
  (SELECT COALESCE(json_group_array(name), '[]') FROM visit_unit WHERE visit = visit.key) AS units,
  (SELECT COUNT(*) FROM capture WHERE visit = visit.key
     AND json_extract(data, '$.struck') IS NULL) AS captures
  FROM visit`;

/** The visits that are looked for, newest first. A visit in which nothing was read is none. */
export function searchVisits(db: Database, search: VisitSearch): VisitItem[] {
  const words = search.text.toLowerCase().split(/\s+/).filter(Boolean).slice(0, 8);
  const said = `(LOWER(title) LIKE ? ESCAPE '\\' OR LOWER(details) LIKE ? ESCAPE '\\' OR EXISTS (
    SELECT 1 FROM visit_unit WHERE visit = visit.key AND LOWER(name) LIKE ? ESCAPE '\\'))`;
  const find = db.prepare(
    `${ITEM} WHERE begun_t <= ? AND last_t >= ? ${words.map(() => `AND ${said}`).join(' ')}
     ORDER BY begun_t DESC, key DESC LIMIT ?`,
  );
  const like = words.map((word) => `%${word.replace(/[\\%_]/g, '\\$&')}%`);
  const given = [search.until, search.since, ...like.flatMap((each) => [each, each, each])];
  return all(find, itemRow, ...given, search.most);
}

/** One visit with what was told of it, its chart thinned to `most` rows; null where there is none. */
export function showVisit(db: Database, id: string, most: number): OldVisit | null {
  const item = one(db.prepare(`${ITEM} WHERE visit.id = ?`), itemRow, id);
  const key = one(db.prepare('SELECT key FROM visit WHERE id = ?'), keyRow, id)?.key;
  if (item === undefined || key === undefined) return null;
  const parts = [...readChart(db, key)];
  const history = new HistoryColumns(
    undefined,
    parts.reduce((rows, { t }) => rows + t.length, 1),
  );
  for (const part of parts) history.addPart(part);
  const units = all(
    db.prepare('SELECT unit AS id, name, details FROM visit_unit WHERE visit = ? ORDER BY unit'),
    unitRow,
    key,
  );
  const details = one(db.prepare('SELECT details FROM visit WHERE key = ?'), detailsRow, key);
  const airflow = db.prepare(
    'SELECT data FROM airflow WHERE visit = ? AND unit = ? ORDER BY n DESC LIMIT 1',
  );
  const systems = db.prepare('SELECT id, name, details FROM outdoor_system WHERE site = ?');
  const told = readTold(db, key);
  return {
    ...item,
    ...told,
    conditions: textOf(details?.['conditions']),
    unitDetails: Object.fromEntries(
      units.map(({ id: unit, ...rest }) => [
        unit,
        { ...rest, airflow: one(airflow, airflowRow, key, unit) ?? null },
      ]),
    ),
    systems: Object.fromEntries(
      all(systems, systemRow, item.site).map(({ id: system, known }) => [system, known]),
    ),
    probeNames: namesOf(db, told.checks),
    history: history.between(-Infinity, Infinity, most),
  };
}

/** More than anybody looks at. */
const MOST_EARLIER = 200;

/** What was measured of airflows at a visit's site in its other visits, newest first. */
export function earlierAirflows(db: Database, visit: string): EarlierAirflows['airflows'] {
  const find = db.prepare(
    `SELECT other.id AS visit, other.title, data FROM measured_airflow
       JOIN visit AS other ON other.key = measured_airflow.visit
       JOIN visit AS this ON this.site = other.site
     WHERE this.id = ? AND other.key <> this.key ORDER BY t DESC LIMIT ?`,
  );
  return all(find, earlierRow, visit, MOST_EARLIER);
}

/** Captures of a site's other visits, newest first; none that is struck out. */
export function earlierCaptures(db: Database, visit: string): EarlierCaptures['captures'] {
  const find = db.prepare(
    `SELECT other.id AS visit, other.title, capture.data FROM capture
       JOIN visit AS other ON other.key = capture.visit
       JOIN visit AS this ON this.site = other.site
     WHERE this.id = ? AND other.key <> this.key ORDER BY to_t DESC LIMIT ?`,
  );
  return all(find, earlierCaptureRow, visit, MOST_EARLIER).filter(
    ({ capture }) => capture.struck === undefined,
  );
}

/** Of the probes that lay in checks: nobody else is named here. A name holds across visits, the last one. */
function namesOf(db: Database, checks: OldVisit['checks']): Record<string, string> {
  const name = db.prepare('SELECT name FROM probe WHERE id = ?');
  const ids = new Set(checks.flatMap(({ probes }) => Object.keys(probes)));
  return Object.fromEntries([...ids].map((id) => [id, one(name, nameRow, id)?.name ?? id]));
}

const earlierCaptureRow = z
  .object({ visit: z.string(), title: z.string(), data: z.string() })
  .transform(({ data, ...row }) => ({ ...row, capture: captureSchema.parse(JSON.parse(data)) }));
const earlierRow = z
  .object({ visit: z.string(), title: z.string(), data: z.string() })
  .transform(({ data, ...row }) => ({
    ...row,
    result: airflowResultSchema.parse(JSON.parse(data)),
  }));
const keyRow = z.object({ key: z.number() });
const nameRow = z.object({ name: z.string() });
const airflowRow = z
  .object({ data: z.string() })
  .transform(({ data }) => airflowLineSchema.parse(JSON.parse(data)));
const systemRow = z
  .object({ id: z.string(), name: z.string(), details: z.string() })
  .transform(({ id, name, details }) => ({
    id,
    known: systemDetailsSchema.parse({ name, ...jsonObject(details) }),
  }));
const jsonObject = (text: string): Record<string, unknown> =>
  z.record(z.string(), z.unknown()).parse(JSON.parse(text));
const detailsRow = z.object({ details: z.string() }).transform((row) => jsonObject(row.details));
const unitRow = z
  .object({ id: z.string(), name: z.string(), details: z.string() })
  .transform(({ id, name, details }) => {
    const { form, model, serial, nominalW, system } = jsonObject(details);
    return {
      ...{ id, name, form: textOf(form), model: textOf(model), serial: textOf(serial) },
      ...{ system: textOf(system), nominalW: typeof nominalW === 'number' ? nominalW : null },
    };
  });

function textOf(value: unknown): string {
  return typeof value === 'string' ? value : '';
}
