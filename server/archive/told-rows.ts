/** What was told of a visit (captures, verdicts, airflows, checks, baselines) as rows of its version. */
import type { Ask } from './database.ts';
import type { ToldOf } from './parcel.ts';

/** Statements take so many figures at once. */
const MOST_GIVEN = 20_000;

/** Of which rows are: month, visit, version, van. */
export type OfVersion = readonly [month: string, visit: number, n: number, van: string];
/** The units of a visit by its own ids, as the archive knows them. */
export type Units = ReadonlyMap<string, { key: number; model: string }>;

/** Simulated figures are found in their visit, and never among those of real units. */
export async function insertTold(
  ask: Ask,
  of: OfVersion,
  told: ToldOf,
  units: Units,
): Promise<void> {
  const ofUnits = <T extends { unit: string; simulated: boolean }>(all: readonly T[]) =>
    all.flatMap((each) => {
      const unit = each.simulated ? undefined : units.get(each.unit);
      return unit === undefined ? [] : [{ ...each, ...unit }];
    });
  const captures = ofUnits(told.captures);
  const airflows = ofUnits(told.airflows);
  await insertCaptures(ask, of, captures);
  const captureOf = (each: { unit: string; from: number; by: string }): string =>
    `${each.unit} ${each.from} ${each.by}`;
  const struck = new Set(captures.filter((c) => c.struck !== undefined).map(captureOf));
  await insertVerdicts(
    ask,
    of,
    ofUnits(told.verdicts).filter((verdict) => !struck.has(captureOf(verdict))),
  );
  await insertRows(
    ask,
    'airflow',
    ['unit', 'model', 't', 'method', 'fan', 'wetness', 'flow_m3s', 'u95_m3s'],
    of,
    airflows.map((a) => [
      ...[a.key, a.model, a.t, a.method, a.fan ?? '', a.wetness, a.flowM3s, a.u95M3s],
    ]),
  );
  await insertChecks(ask, of, told.checks);
  await insertRows(ask, 'baseline', ['unit', 't', 'total_w', 'flow_m3s', 'u95'], of, [
    ...captures
      .filter(({ baseline }) => baseline === true)
      .map((c) => [c.key, c.to, c.totalW, c.at?.flowM3s ?? null, c.totalU95W]),
    ...airflows
      .filter(({ baseline }) => baseline === true)
      .map((a) => [a.key, a.t, null, a.flowM3s, a.u95M3s]),
  ]);
}

type Keyed<T> = T & { key: number; model: string };

const insertCaptures = (
  ask: Ask,
  of: OfVersion,
  captures: readonly Keyed<ToldOf['captures'][number]>[],
): Promise<void> =>
  insertRows(
    ask,
    'capture',
    [
      ...['unit', 'from_t', 'to_t', 'made_by', 'state', 'total_w', 'total_u95_w'],
      ...['sensible_w', 'latent_w', 'fan', 'flow_m3s', 'struck'],
    ],
    of,
    captures.map((c) => [
      ...[c.key, c.from, c.to, c.by, c.state, c.totalW, c.totalU95W],
      ...[c.sensibleW, c.latentW, c.at?.fan ?? null, c.at?.flowM3s ?? null],
      c.struck !== undefined,
    ]),
  );

const insertVerdicts = (
  ask: Ask,
  of: OfVersion,
  verdicts: readonly Keyed<ToldOf['verdicts'][number]>[],
): Promise<void> =>
  insertRows(
    ask,
    'verdict',
    [
      ...['unit', 'model', 'to_t', 'made_by', 'mode', 'verdict'],
      ...['expected_w', 'ratio', 'ratio_u95', 'probability'],
    ],
    of,
    verdicts.map((v) => [
      ...[v.key, v.model, v.to, v.by, v.mode, v.verdict],
      ...[v.expectedW, v.ratio, v.ratioU95, v.probability],
    ]),
  );

/** One row a probe of each check that has ended. */
const insertChecks = (ask: Ask, of: OfVersion, checks: ToldOf['checks']): Promise<void> =>
  insertRows(
    ask,
    'probe_check',
    ['probe', 't', 'others', 'offset_c', 'u_c', 'offset_pct', 'u_pct', 'agrees'],
    of,
    checks
      .filter(({ phase }) => phase === 'ended')
      .flatMap(({ t, probes }) =>
        Object.entries(probes).map(([probe, found]) => [
          ...[probe, t, Object.keys(probes).filter((other) => other !== probe)],
          ...[found.temperatureOffsetC, found.uTemperatureC],
          ...[found.humidityOffsetPct, found.uHumidityPct, found.agrees],
        ]),
      ),
  );

/** Rows of a version, many a statement. */
async function insertRows(
  ask: Ask,
  table: string,
  columns: readonly string[],
  of: OfVersion,
  rows: readonly (readonly unknown[])[],
): Promise<void> {
  const names = ['month', 'visit', 'n', 'van', ...columns].join(', ');
  for (let from = 0; from < rows.length;) {
    const given: unknown[] = [...of];
    const groups: string[] = [];
    while (from < rows.length && given.length < MOST_GIVEN) {
      const row = rows[from++] ?? [];
      groups.push(`($1, $2, $3, $4, ${row.map((_, i) => `$${given.length + i + 1}`).join(', ')})`);
      given.push(...row);
    }
    await ask.run(`INSERT INTO ${table} (${names}) VALUES ${groups.join(', ')}`, given);
  }
}
