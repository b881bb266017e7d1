/** The probe book: each probe's offsets over all its checks, its drift, and when it is due. */
import * as z from 'zod';
import { driftOf } from '../measure/probe-drift.ts';
import type { BookProbe, ProbeHistory } from '../protocol/archive.ts';
import type { Ask } from './database.ts';

/** Common practice, no source: once a year, unless the maker says otherwise. */
const DUE_MS = 365 * 86_400_000;
const MOST_PROBES = 1000;

const time = z.number().nullable();
const probeRow = z
  .object({
    ...{ id: z.string(), name: z.string(), serial: z.string(), checks: z.coerce.number() },
    ...{ checked_t: time, agreed: z.boolean().nullable(), calibrated_t: time },
  })
  .transform(({ id, checked_t, calibrated_t, ...row }): BookProbe => ({
    ...{ ...row, probe: id, checkedT: checked_t, calibratedT: calibrated_t },
    dueT: calibrated_t === null ? null : calibrated_t + DUE_MS,
  }));

const PROBE = `SELECT probe.id, probe.name, probe.serial, probe.calibrated_t, count(c.t) AS checks,
  max(c.t) AS checked_t, (array_agg(c.agrees ORDER BY c.t DESC))[1] AS agreed
  FROM probe LEFT JOIN probe_check AS c ON c.probe = probe.id AND c.current`;

/** All probes that vans have brought, those first that are due. */
export const listProbes = (ask: Ask): Promise<BookProbe[]> =>
  ask.rows(
    probeRow,
    `${PROBE} GROUP BY probe.id ORDER BY probe.calibrated_t NULLS FIRST, probe.name LIMIT ${MOST_PROBES}`,
  );

const checkRow = z.object({
  ...{ visit: z.string(), t: z.number(), others: z.coerce.number(), offset_c: time, u_c: time },
  ...{ offset_pct: time, u_pct: time },
});

/** Null: there is no such probe. @param now wall clock, ms */
export async function probeHistory(
  ask: Ask,
  id: string,
  now: number,
): Promise<ProbeHistory | null> {
  const probe = await ask.one(probeRow, `${PROBE} WHERE probe.id = $1 GROUP BY probe.id`, [id]);
  if (probe === undefined) return null;
  const checks = await ask.rows(
    checkRow,
    `SELECT visit::text, t, cardinality(others) AS others, offset_c, u_c, offset_pct, u_pct
     FROM probe_check WHERE probe = $1 AND current ORDER BY t`,
    [id],
  );
  const of = (offset: 'offset_c' | 'offset_pct', u: 'u_c' | 'u_pct') => {
    const offsets = checks.map((check) => ({
      ...{ visit: check.visit, t: check.t, others: check.others },
      ...{ offset: check[offset], u: check[u] },
    }));
    const known = offsets.flatMap(({ t, ...found }) =>
      found.offset === null || found.u === null || found.u <= 0
        ? []
        : [{ t, offset: found.offset, u: found.u }],
    );
    return { offsets, drift: driftOf(known, now) };
  };
  return { probe, temperature: of('offset_c', 'u_c'), humidity: of('offset_pct', 'u_pct') };
}
