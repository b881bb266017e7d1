/** All units of a type beside each other, each by its newest figure. */
import * as z from 'zod';
import { betweenRelative, EDGE_Z, OUTSIDE_Z } from '../measure/between-units.ts';
import type { AmongUnits, Funnel, TypeComparison, Types } from '../protocol/archive.ts';
import type { ArchiveDatabase, Ask, Asker } from './database.ts';

const K95 = 1.959964;

const typeRow = z
  .object({ model: z.string(), units: z.coerce.number(), judged: z.coerce.number() })
  .readonly();

/** Types of which there are units, those with most of them first. */
export async function listTypes(ask: Ask): Promise<Types['types']> {
  const types = await ask.rows(
    typeRow,
    `SELECT model, count(*) AS units, count(*) FILTER (WHERE EXISTS (SELECT FROM verdict
       WHERE verdict.unit = unit.key AND verdict.current)) AS judged
     FROM unit WHERE model <> '' GROUP BY model ORDER BY units DESC, model LIMIT 200`,
  );
  return types.map((type) => ({ ...type }));
}

const figureRow = z.object({
  ...{ of: z.string(), unit: z.coerce.number(), name: z.string(), title: z.string() },
  ...{ t: z.number(), value: z.number(), u95: z.number() },
});
type Figure = z.infer<typeof figureRow>;

/** Null where there is no unit of that type. */
export async function compareType(
  db: ArchiveDatabase,
  asker: Asker,
  model: string,
): Promise<TypeComparison | null> {
  const known = await db.as(asker, (ask) =>
    ask.one(z.object({}), 'SELECT FROM unit WHERE model = $1 LIMIT 1', [model]),
  );
  if (known === undefined) return null;
  const of = (statement: string): Promise<Map<string, Figure[]>> =>
    db.as(asker, (ask) => newest(ask, statement, model));
  // Side by side: both look through all that was measured of the type.
  const [capacity, airflow] = await Promise.all([
    // Of a unit that was not asked for all it has nothing can be said.
    of(`SELECT mode AS of, unit, max(ARRAY[to_t, ratio, ratio_u95]) AS last FROM verdict
        WHERE model = $1 AND current AND verdict <> 'not-asked' GROUP BY mode, unit`),
    of(`SELECT fan AS of, unit, max(ARRAY[t, flow_m3s, u95_m3s]) AS last FROM airflow
        WHERE model = $1 AND current GROUP BY fan, unit`),
  ]);
  return {
    model,
    capacity: [...capacity].flatMap(([of, figures]) =>
      of === 'cooling' || of === 'heating' ? [{ mode: of, funnel: funnelOf(figures) }] : [],
    ),
    airflow: [...airflow].map(([fan, figures]) => ({ fan, funnel: funnelOf(figures) })),
  };
}

/** @param statement of each unit the time, value and ± of its newest figure: the highest of such arrays */
async function newest(ask: Ask, statement: string, model: string): Promise<Map<string, Figure[]>> {
  const figures = await ask.rows(
    figureRow,
    `SELECT f.of, f.unit, unit.name, site.title, last[1] AS t, last[2] AS value, last[3] AS u95
     FROM (${statement}) AS f JOIN unit ON unit.key = f.unit JOIN site ON site.key = unit.site
     WHERE last[2] > 0 AND last[3] > 0`,
    [model],
  );
  const byWhat = new Map<string, Figure[]>();
  for (const figure of figures) {
    const of = byWhat.get(figure.of);
    if (of === undefined) byWhat.set(figure.of, [figure]);
    else of.push(figure);
  }
  return byWhat;
}

function funnelOf(figures: readonly Figure[]): Funnel {
  if (figures.length < 2) {
    return { mean: null, u95Mean: null, spread: null, units: figures.map((one) => among(one, 0)) };
  }
  const { mean, uMean, spread, z } = betweenRelative(
    figures.map(({ value, u95 }) => ({ value, u: u95 / K95 })),
  );
  const units = figures.map((one, i) => among(one, z[i] ?? NaN)).toSorted((a, b) => a.z - b.z);
  return { mean, u95Mean: K95 * uMean * mean, spread, units };
}

/** Field by field: of thousands of units, a copy by `...rest` takes longer than all else. */
function among({ unit, name, title, t, value, u95 }: Figure, z: number): AmongUnits {
  return { unit, name, title, t, value, u95, z, lies: liesBy(z) };
}

function liesBy(z: number): AmongUnits['lies'] {
  if (Math.abs(z) <= EDGE_Z) return 'within';
  if (Math.abs(z) <= OUTSIDE_Z) return 'edge';
  return z < 0 ? 'low' : 'high';
}
