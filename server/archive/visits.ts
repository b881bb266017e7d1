/** Visits of the archive: searched, shown, read back as logs. */
import * as z from 'zod';
import { HistoryColumns } from '../history.ts';
import { type OldVisit, systemDetailsSchema, VISIT_KINDS, type VisitItem } from '../protocol.ts';
import type { ArchivedVisit } from '../protocol/archive.ts';
import { decodeChartPart } from '../store/chart-part.ts';
import { photoOf } from '../store/photos.ts';
import type { VisitSearch } from '../store/visit-list.ts';
import type { Ask } from './database.ts';
import { headSchema, jsonOf, KINDS, type Part, type PartKind, toldSchema } from './parcel.ts';
import { otherLines, partLines } from './visit-parts.ts';
import { wordPatterns } from './word-patterns.ts';

/** Bytes that a log is sent in at once. */
const PIECE = 1 << 16;
const textOf = (value: unknown): string => (typeof value === 'string' ? value : '');
const time = z.number().nullable();

const itemRow = z
  .object({
    ...{ key: z.coerce.number(), van: z.string(), kind: z.enum(VISIT_KINDS) },
    ...{ title: z.string(), site: z.coerce.string(), address: z.string(), customer: z.string() },
    ...{
      technician: z.string(),
      why: z.string(),
      units: z.array(z.string()),
      captures: z.number(),
    },
    ...{ begun_t: time, last_t: time },
  })
  .transform(({ key, van, begun_t, last_t, ...row }): VisitItem & { van: string } => ({
    ...{ ...row, id: String(key), van, simulated: false, begunT: begun_t, lastT: last_t },
  }));

const ITEM = `SELECT visit.key, van.name AS van, kind, title, site, address, customer, technician, why, units,
  captures, begun_t, last_t FROM visit JOIN van ON van.id = visit.van`;

/** The visits that are looked for, newest first; each word stands in something that was said of it. */
export async function searchArchive(ask: Ask, search: VisitSearch): Promise<VisitItem[]> {
  const like = wordPatterns(search.text);
  const said = like.map(
    (_, i) => `AND (words LIKE $${i + 4} OR lower(array_to_string(units, ' ')) LIKE $${i + 4}
      OR lower(van.name) LIKE $${i + 4})`,
  );
  return ask.rows(
    itemRow,
    `${ITEM} WHERE begun_t <= $1 AND last_t >= $2 ${said.join(' ')}
     ORDER BY begun_t DESC, visit.key DESC LIMIT $3`,
    [search.until, search.since, search.most, ...like],
  );
}

const placeRow = z
  .object({ van: z.string(), site: z.coerce.number(), erased_t: time })
  .transform(({ erased_t, ...row }) => ({ ...row, erasedT: erased_t }));
const unitRow = z
  .object({ unit: z.coerce.number(), name: z.string(), model: z.string() })
  .readonly();

/** By which van a visit is, at which site, and its units as the archive knows them; null: there is none. */
export async function placeOfVisit(ask: Ask, visit: number): Promise<ArchivedVisit | null> {
  const place = await ask.one(
    placeRow,
    `SELECT van.name AS van, visit.site, site.erased_t FROM visit JOIN van ON van.id = visit.van
     JOIN site ON site.key = visit.site WHERE visit.key = $1`,
    [visit],
  );
  if (place === undefined) return null;
  const units = await ask.rows(
    unitRow,
    `SELECT DISTINCT unit.key AS unit, unit.name, unit.model FROM visit_unit
     JOIN unit ON unit.key = visit_unit.unit WHERE visit_unit.visit = $1 ORDER BY unit.key`,
    [visit],
  );
  return { visit, ...place, units: units.map((unit) => ({ ...unit })) };
}

const partRow = z.object({
  ...{ kind: z.enum(KINDS), data: z.instanceof(Buffer) },
});

/** The parts of the current version of a visit. */
function partsOf(ask: Ask, visit: number, kinds: readonly PartKind[]): Promise<Part[]> {
  return ask.rows(
    partRow,
    `SELECT part.kind, part.data FROM version JOIN part USING (month, visit, n)
     WHERE version.visit = $1 AND version.current AND part.kind = ANY($2::"char"[]) ORDER BY part.i`,
    [visit, kinds],
  );
}

/** One visit with what was told of it, its chart thinned to `most` rows; null where there is none. */
export async function showArchived(
  ask: Ask,
  visit: number,
  most: number,
): Promise<OldVisit | null> {
  const item = await ask.one(itemRow, `${ITEM} WHERE visit.key = $1`, [visit]);
  const parts = await partsOf(ask, visit, ['h', 'r', 'c']);
  const [headPart, toldPart] = (['h', 'r'] as const).map((kind) =>
    parts.find((p) => p.kind === kind),
  );
  if (item === undefined || headPart === undefined || toldPart === undefined) return null;
  const head = jsonOf(headPart, headSchema);
  const charts = parts.filter(({ kind }) => kind === 'c').map(({ data }) => decodeChartPart(data));
  const history = new HistoryColumns(
    undefined,
    charts.reduce((rows, { t }) => rows + t.length, 1),
  );
  for (const chart of charts) history.addPart(chart);
  return {
    ...item,
    ...jsonOf(toldPart, toldSchema),
    simulated: head.simulated,
    conditions: textOf(head.details['conditions']),
    unitDetails: Object.fromEntries(
      head.units.map(({ id, name, details, airflow }) => [
        id,
        {
          ...{ name, form: textOf(details['form']), model: textOf(details['model']) },
          ...{ serial: textOf(details['serial']), system: textOf(details['system']) },
          nominalW: typeof details['nominalW'] === 'number' ? details['nominalW'] : null,
          airflow,
        },
      ]),
    ),
    systems: Object.fromEntries(
      head.systems.map(({ id, name, details }) => [
        id,
        systemDetailsSchema.parse({ name, ...details }),
      ]),
    ),
    probeNames: Object.fromEntries(head.probes.map(({ id, name }) => [id, name])),
    history: history.between(-Infinity, Infinity, most),
  };
}

const nameRow = z.object({ id: z.string(), kind: z.enum(VISIT_KINDS) });

/** What a visit is made of: the van's own name for it, its kind, and the parts that have its lines. */
export type ArchivedLines = z.infer<typeof nameRow> & { parts: Part[] };

/** Null where there is none of that key. */
export async function archivedLines(ask: Ask, visit: number): Promise<ArchivedLines | null> {
  const named = await vansName(ask, visit);
  return named ? { ...named, parts: await partsOf(ask, visit, ['l', 's']) } : null;
}

/** What its van calls a visit; undefined: there is none of that key. */
export const vansName = (ask: Ask, visit: number): Promise<z.infer<typeof nameRow> | undefined> =>
  ask.one(nameRow, 'SELECT id, kind FROM visit WHERE key = $1', [visit]);

/** A visit's log, in pieces of whole lines, as its van would export it; null where there is none. */
export async function archivedLog(ask: Ask, visit: number): Promise<Iterable<string> | null> {
  const found = await archivedLines(ask, visit);
  return found && logOf(found.parts);
}

function* logOf(parts: readonly Part[]): Generator<string> {
  let piece = '';
  for (const line of partLines(parts)) {
    piece += `${JSON.stringify(line)}\n`;
    if (piece.length < PIECE) continue;
    yield piece;
    piece = '';
  }
  yield piece;
}

/** The key of a van's visit by its own name for it; null: it is not here. */
export async function visitKey(ask: Ask, van: string, id: string): Promise<number | null> {
  const found = await ask.one(
    z.object({ key: z.coerce.number() }),
    'SELECT key FROM visit WHERE van = $1 AND id = $2',
    [van, id],
  );
  return found?.key ?? null;
}

/** Of how many visits that have a photo it is looked for. */
const MOST_COPIES = 8;

/** A photo of any visit; null: there is none. What one visit has damaged of it another may have whole. */
export async function archivedPhoto(ask: Ask, id: string): Promise<Uint8Array | 'damaged' | null> {
  const found = await ask.rows(
    z.object({ visit: z.coerce.number() }),
    `SELECT visit FROM photo WHERE id = $1 ORDER BY visit LIMIT ${MOST_COPIES}`,
    [id],
  );
  for (const { visit } of found) {
    const parts = await partsOf(ask, visit, ['l']);
    const photo = photoOf(
      [...otherLines(parts)].map(({ line }) => line),
      id,
    );
    if (photo !== 'damaged') return photo;
  }
  return found.length === 0 ? null : 'damaged';
}
