/** Units of the archive: found, and over the years, across vans. */
import * as z from 'zod';
import type { ArchiveUnit, UnitHistory } from '../protocol/archive.ts';
import type { Ask } from './database.ts';
import { wordPatterns } from './word-patterns.ts';

/** More than anybody looks through. */
const MOST_UNITS = 200;
/** Of one unit: some hundred visits. */
const MOST_ROWS = 2000;

const time = z.number().nullable();
const unitRow = z
  .object({
    ...{ key: z.coerce.number(), name: z.string(), model: z.string(), form: z.string() },
    ...{ serial: z.string(), site: z.coerce.number(), title: z.string(), address: z.string() },
    ...{ visits: z.coerce.number(), last_t: time, erased_t: time },
  })
  .transform(({ key, last_t, erased_t, ...row }): ArchiveUnit => ({
    ...{ ...row, unit: key, lastT: last_t, erasedT: erased_t },
  }));

const UNIT = `SELECT unit.key, unit.name, unit.model, unit.form, unit.serial, unit.site, site.title,
  site.address, site.erased_t, v.visits, v.last_t
  FROM unit JOIN site ON site.key = unit.site
  CROSS JOIN LATERAL (SELECT count(*) AS visits, max(visit.begun_t) AS last_t
    FROM visit_unit JOIN visit ON visit.key = visit_unit.visit WHERE visit_unit.unit = unit.key) AS v`;

/** Units in whose name, type, serial number or site each word stands. */
export async function findUnits(ask: Ask, text: string): Promise<ArchiveUnit[]> {
  const like = wordPatterns(text);
  const said = like.map(
    (_, i) => `lower(concat_ws(' ', unit.name, unit.model, unit.serial, site.title, site.address))
      LIKE $${i + 2}`,
  );
  return ask.rows(
    unitRow,
    `${UNIT} ${said.length === 0 ? '' : `WHERE ${said.join(' AND ')}`}
     ORDER BY v.last_t DESC NULLS LAST, unit.key LIMIT $1`,
    [MOST_UNITS, ...like],
  );
}

const captureRow = z
  .object({
    ...{ visit: z.string(), van: z.string(), t: z.number(), by: z.enum(['touch', 'itself']) },
    ...{ total_w: z.number(), total_u95_w: time, sensible_w: z.number(), latent_w: time },
    ...{ fan: z.string().nullable(), flow_m3s: time, ratio: time, ratio_u95: time },
    ...{ verdict: z.string().nullable(), mode: z.enum(['cooling', 'heating']).nullable() },
  })
  .transform((c): UnitHistory['captures'][number] => ({
    ...{ visit: c.visit, van: c.van, t: c.t, by: c.by, totalW: c.total_w },
    ...{ totalU95W: c.total_u95_w, sensibleW: c.sensible_w, latentW: c.latent_w, fan: c.fan },
    ...{ flowM3s: c.flow_m3s, ratio: c.ratio, ratioU95: c.ratio_u95, verdict: c.verdict },
    mode: c.mode,
  }));
const airflowRow = z
  .object({
    ...{ visit: z.string(), van: z.string(), t: z.number(), method: z.string(), fan: z.string() },
    ...{ wetness: z.number(), flow_m3s: z.number(), u95_m3s: z.number() },
  })
  .transform(({ flow_m3s, u95_m3s, ...row }) => ({ ...row, flowM3s: flow_m3s, u95M3s: u95_m3s }));
const baselineRow = z
  .object({
    ...{ visit: z.string(), t: z.number(), total_w: time, flow_m3s: time, u95: time },
  })
  .transform(({ total_w, flow_m3s, ...row }) => ({ ...row, totalW: total_w, flowM3s: flow_m3s }));

/** A unit with all that was found of it; null: there is none. */
export async function unitHistory(ask: Ask, unit: number): Promise<UnitHistory | null> {
  const found = await ask.one(unitRow, `${UNIT} WHERE unit.key = $1`, [unit]);
  if (found === undefined) return null;
  const captures = await ask.rows(
    captureRow,
    `SELECT capture.visit::text, van.name AS van, capture.to_t AS t, capture.made_by AS by, total_w,
       total_u95_w, sensible_w, latent_w, fan, flow_m3s, ratio, ratio_u95, verdict, mode
     FROM capture JOIN van ON van.id = capture.van
     LEFT JOIN verdict ON verdict.month = capture.month AND verdict.visit = capture.visit
       AND verdict.n = capture.n AND verdict.unit = capture.unit AND verdict.to_t = capture.to_t
       AND verdict.made_by = capture.made_by AND verdict.current
     WHERE capture.unit = $1 AND capture.current AND NOT struck
     ORDER BY capture.to_t DESC LIMIT ${MOST_ROWS}`,
    [unit],
  );
  const airflows = await ask.rows(
    airflowRow,
    `SELECT airflow.visit::text, van.name AS van, t, method, fan, wetness, flow_m3s, u95_m3s
     FROM airflow JOIN van ON van.id = airflow.van
     WHERE unit = $1 AND current ORDER BY t DESC LIMIT ${MOST_ROWS}`,
    [unit],
  );
  const baselines = await ask.rows(
    baselineRow,
    `SELECT visit::text, t, total_w, flow_m3s, u95 FROM baseline WHERE unit = $1 AND current
     ORDER BY t DESC LIMIT ${MOST_ROWS}`,
    [unit],
  );
  return {
    unit: found,
    captures: captures.reverse(),
    airflows: airflows.reverse(),
    baselines: baselines.reverse(),
  };
}
