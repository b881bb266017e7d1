/**
 * The archive on a real PostgreSQL: visits of 8 h × 16 series as 1,000 vans send them, against `COPY` of the
 * same bytes in the same run; then ten years of results, and what is asked of them.
 * `ARCHIVE_GB` (1) of visits are sent, in steps of a tenth, tenfold more at each row of the table;
 * `ARCHIVE_DATABASE` names a database to be used (its login must own it), else a cluster is made.
 */
import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { loadavg } from 'node:os';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import pg from 'pg';
import { from as copyFrom } from 'pg-copy-streams';
import * as z from 'zod';
import type { Reading } from '../../adapters/contract.ts';
import { ArchiveDatabase } from '../../server/archive/database.ts';
import { jsonPart, type Part, partBytes } from '../../server/archive/parcel.ts';
import { makeToken } from '../../server/archive/tokens.ts';
import { encodeChartPart } from '../../server/store/chart-part.ts';
import { columnsBy } from '../../server/history.ts';
import { encodeSegment } from '../../server/store/segment.ts';
import { randomStream } from '../../simulator/random.ts';
import { OWNER } from '../archive/people.ts';
import { startCluster } from '../archive/postgres.ts';
import { quantile } from './health-watch.ts';
import { build, costOf, LAUNCH } from './own-server.ts';

const GB = Number(process.env['ARCHIVE_GB'] ?? 1);
const VANS = 1000;
/** Vans that send at the same moment. */
const AT_ONCE = 4;
const SECONDS = 8 * 3600;
const PROBES = 8;
const SEALED = 8192;
const CHART_ROWS = 600;
const MONTH_T = Date.UTC(2026, 9, 1);
const DAY_MS = 86_400_000;
const PIECE = 4 * 1024 * 1024;
/** Visits of different noise; the rest differ in their heads. */
const KINDS_OF_AIR = 8;
const ASKED = 30;
/** Of each step: sent and copied in turn, for both go faster and slower with the disk. */
const ROUNDS = 5;
const TYPE = { captures: 100_000, units: 5000, years: 10 };

const MB = 1e6;
const ms = (values: readonly number[]): string => {
  const sorted = values.toSorted((a, b) => a - b);
  const [half, low, high] = [0.5, 0.05, 0.95].map((part) => quantile(sorted, part).toFixed(0));
  return `${half} (${low}–${high}) ms`;
};

/** Median, lowest and highest. */
const spread = (values: readonly number[], digits: number): string => {
  const sorted = values.toSorted((a, b) => a - b);
  const [half, low, high] = [0.5, 0, 1].map((part) => quantile(sorted, part).toFixed(digits));
  return `${half} (${low}–${high})`;
};

/** Readings, chart and results of one working day; T0 is that of the head. */
function body(seed: number): Part[] {
  const random = randomStream(seed, 'archive bench');
  const readings: Reading[] = [];
  const parts: Part[] = [];
  const seal = (): void => {
    parts.push({ kind: 's', data: encodeSegment(readings.splice(0, SEALED)) });
  };
  for (let s = 0; s < SECONDS; s++) {
    const settled = 1 - Math.exp(-s / 200);
    for (let p = 0; p < PROBES; p++) {
      const share = p % 2 === 0 ? 0 : settled;
      readings.push({
        ...{ type: 'reading', t: MONTH_T + s * 1000 + p * 100 + Math.floor(random.uniform() * 50) },
        ...{ probe: `p${p}` },
        temperatureC: Number((26.6 - 12 * share + (random.uniform() - 0.5) * 0.1).toFixed(2)),
        humidityPct: Number((48 + 40 * share + random.uniform() - 0.5).toFixed(1)),
      });
    }
    if (readings.length >= SEALED) seal();
  }
  if (readings.length > 0) seal();
  for (let s = 0; s < SECONDS; s += CHART_ROWS) {
    const t = Float64Array.from({ length: CHART_ROWS }, (_, i) => MONTH_T + (s + i) * 1000);
    const unit = columnsBy(() => Float32Array.from(t, () => 3000 + 20 * random.normal()));
    parts.push({ kind: 'c', data: encodeChartPart({ t, units: { u1: unit } }) });
  }
  return parts;
}

/** Progress, for who waits. */
const say = (what: string): boolean =>
  process.stderr.write(`${new Date().toTimeString().slice(0, 8)} ${what}\n`);

const airs = Array.from({ length: KINDS_OF_AIR }, (_, i) => body(i));

/** The visit of a van on a day, as it is sent. */
function parcel(van: number, n: number): { id: string; parts: Part[] } {
  const begunT = MONTH_T + (n % 30) * DAY_MS + van;
  const id = `visit-${van}-${n}`;
  const details = { model: `Type ${van % 20}`, serial: `S${van}-${n}`, form: 'wall' };
  const head = jsonPart('h', {
    ...{ version: 1, id, kind: 'visit', simulated: false, title: `Site ${van} ${n}`, begunT },
    ...{ lastT: begunT + SECONDS * 1000, site: `site-${id}`, systems: [], probes: [] },
    details: { address: `${n} Street ${van}`, customer: `Customer ${n}` },
    units: [{ id: 'u1', name: 'Hall', details, airflow: null }],
  });
  const line = `0\t${JSON.stringify({ type: 'unit', id: 'u1', name: 'Hall', ...details })}\n`;
  const told = { captures: [], events: [], checks: [], airflows: [], verdicts: [] };
  const air = airs[(van * 31 + n) % airs.length] ?? [];
  return { id, parts: [head, { kind: 'l', data: Buffer.from(line) }, jsonPart('r', told), ...air] };
}

interface Server {
  url: string;
  pid: number;
  end: () => void;
}

async function served(database: string): Promise<Server> {
  const args = [LAUNCH, 'archive', '--port', '0', '--database', database];
  const child = spawn(process.execPath, args, { stdio: ['ignore', 'pipe', 'inherit'] });
  const url = await new Promise<string>((resolve, reject) => {
    child.stdout.on('data', (text: Buffer) => {
      const found = /http:\S+/.exec(text.toString())?.[0];
      if (found !== undefined) resolve(found);
    });
    child.on('close', () => reject(new Error('the archive has not started')));
  });
  return { url, pid: child.pid ?? NaN, end: () => child.kill() };
}

/** Sends visits until so many bytes have gone. @returns bytes and seconds, and how long each visit took */
async function sendUntil(
  server: Server,
  tokens: readonly string[],
  bytes: number,
  from: number,
): Promise<{ bytes: number; seconds: number; visits: number; each: number[] }> {
  let gone = 0;
  let n = from;
  const each: number[] = [];
  // Packed and hashed beforehand, as many vans do at the same time.
  const begun = performance.now();
  let packing = 0;
  await Promise.all(
    Array.from({ length: AT_ONCE }, async () => {
      while (gone < bytes) {
        const van = n % tokens.length;
        const packed = performance.now();
        const { id, parts } = parcel(van, n++);
        const all = Buffer.concat(parts.map(partBytes));
        gone += all.length;
        const hash = createHash('sha256').update(all).digest('hex');
        packing += performance.now() - packed;
        const path = `${server.url}/api/archive/visits/${id}/versions/${hash}?bytes=${all.length}`;
        const sent = performance.now();
        for (let at = 0; at < all.length; at += PIECE) {
          const answer = await fetch(`${path}&at=${at}`, {
            method: 'PUT',
            headers: {
              authorization: `Bearer ${tokens[van] ?? ''}`,
              'content-type': 'application/octet-stream',
            },
            body: all.subarray(at, at + PIECE),
          });
          if (!answer.ok) throw new Error(`${answer.status}: ${await answer.text()}`);
          await answer.arrayBuffer();
        }
        each.push(performance.now() - sent);
      }
    }),
  );
  const seconds = (performance.now() - begun) / 1000;
  process.stderr.write(`  of that ${(packing / 1000).toFixed(1)} s packing here\n`);
  return { bytes: gone, seconds, visits: n - from, each };
}

/** The same bytes, part by part, by `COPY` in its binary form into a table of its own. */
async function copied(
  client: pg.Client,
  bytes: number,
  from: number,
  vans: number,
): Promise<number> {
  await client.query('CREATE TABLE IF NOT EXISTS copied (visit text, i integer, data bytea)');
  await client.query('ALTER TABLE copied ALTER data SET STORAGE EXTERNAL');
  async function* rows(): AsyncGenerator<Buffer> {
    yield Buffer.from('PGCOPY\n\xff\r\n\0\0\0\0\0\0\0\0\0', 'latin1');
    let gone = 0;
    for (let n = from; gone < bytes; n++) {
      const { id, parts } = parcel(n % vans, n);
      for (const [i, { data }] of parts.entries()) {
        const name = Buffer.from(id);
        const head = Buffer.alloc(2 + 4 + name.length + 8 + 4);
        head.writeInt16BE(3);
        head.writeInt32BE(name.length, 2);
        name.copy(head, 6);
        head.writeInt32BE(4, 6 + name.length);
        head.writeInt32BE(i, 10 + name.length);
        head.writeInt32BE(data.length, 14 + name.length);
        gone += data.length;
        yield head;
        yield Buffer.from(data);
      }
    }
    yield Buffer.from([0xff, 0xff]);
  }
  const begun = performance.now();
  const stream = client.query(copyFrom('COPY copied FROM STDIN (FORMAT binary)'));
  await pipeline(Readable.from(rows(), { objectMode: false }), stream);
  return (performance.now() - begun) / 1000;
}

/** Ten years of results of one type, and of the first of its units: rows as visits bring them. */
async function tenYears(client: pg.Client): Promise<void> {
  const { captures, units, years } = TYPE;
  const months = years * 12;
  say('ten years of results');
  await client.query(`SELECT keep_month((date '2016-01-01' + make_interval(months => m))::date)
    FROM (SELECT generate_series(0, ${months - 1}) AS m) AS x`);
  await client.query(`INSERT INTO van (id, name, made_t) VALUES ('years', 'Years', 0)`);
  await client.query(`INSERT INTO site (title, address) SELECT 'Site ' || i, i || ' Street'
    FROM generate_series(1, ${units}) AS i`);
  await client.query(`INSERT INTO unit (site, name, model, form, serial)
    SELECT key, 'Hall', 'Ten years', 'wall', 'T' || key FROM site ORDER BY key DESC LIMIT ${units}`);
  // Twenty visits a unit, spread over the years.
  await client.query(`INSERT INTO visit (van, id, site, kind, title, address, customer, technician, why, units,
      captures, begun_t, last_t, n)
    SELECT 'years', 'y' || u.key || '-' || i, u.site, 'visit', 'Site', 'Street', '', '', '', '{Hall}', 1,
      extract(epoch FROM b.at) * 1000, extract(epoch FROM b.at) * 1000 + 3600000, 1
    FROM (SELECT key, site FROM unit WHERE model = 'Ten years') AS u,
      generate_series(0, ${captures / units - 1}) AS i,
      LATERAL (SELECT timestamptz '2016-01-02' + (i * ${(years * 365) / (captures / units)} +
        u.key % 170) * interval '1 day' AS at) AS b`);
  say('… versions');
  await client.query(`INSERT INTO version (month, visit, n, van, hash, bytes, readings, taken_t)
    SELECT date_trunc('month', to_timestamp(begun_t / 1000) AT TIME ZONE 'UTC')::date, key, 1, van,
      sha256(id::bytea), 1, 1, 0 FROM visit WHERE van = 'years'`);
  await client.query(`INSERT INTO visit_unit (visit, id, unit, van)
    SELECT visit.key, 'u1', unit.key, van FROM visit JOIN unit USING (site) WHERE van = 'years'`);
  const of = `version.month, version.visit, 1, visit_unit.unit`;
  const rows = `version JOIN visit_unit USING (visit) JOIN visit ON visit.key = version.visit
    WHERE version.van = 'years'`;
  say('… captures, verdicts, airflows');
  await client.query(`INSERT INTO capture (month, visit, n, unit, from_t, to_t, made_by, state, total_w,
      total_u95_w, sensible_w, latent_w, fan, flow_m3s, struck, van)
    SELECT ${of}, begun_t, begun_t + 3e6, 'touch', 'steady', 3000 + 300 * random(), 200, 2400, 600, 'high',
      0.16, false, 'years' FROM ${rows}`);
  await client.query(`INSERT INTO verdict (month, visit, n, unit, model, to_t, made_by, mode, verdict,
      expected_w, ratio, ratio_u95, probability, van)
    SELECT ${of}, 'Ten years', begun_t + 3e6, 'touch', 'cooling', 'meets', 3300, 0.95 + 0.1 * random(),
      0.06 + 0.04 * random(), 0.97, 'years' FROM ${rows}`);
  await client.query(`INSERT INTO airflow (month, visit, n, unit, model, t, method, fan, wetness, flow_m3s,
      u95_m3s, van)
    SELECT ${of}, 'Ten years', begun_t + 1e6, 'sweep', 'high', 1, 0.15 + 0.02 * random(), 0.01, 'years'
    FROM ${rows}`);
  say('… analyzed');
  await client.query('ANALYZE');
}

async function asked(server: Server, token: string, path: string): Promise<number[]> {
  const took: number[] = [];
  for (let i = 0; i < ASKED; i++) {
    const begun = performance.now();
    const answer = await fetch(`${server.url}${path}`, {
      headers: { authorization: `Bearer ${token}` },
    });
    await answer.text();
    if (!answer.ok) throw new Error(`${path}: ${answer.status}`);
    took.push(performance.now() - begun);
  }
  return took;
}

async function sizeOf(client: pg.Client): Promise<number> {
  const { rows } = await client.query('SELECT pg_database_size(current_database()) AS bytes');
  return sizeRow.parse(rows[0]).bytes;
}

const sizeRow = z.object({ bytes: z.coerce.number() });
const keyRow = z.object({ key: z.coerce.number() });

export async function print(): Promise<void> {
  build();
  const cluster =
    process.env['ARCHIVE_DATABASE'] === undefined
      ? await startCluster(['max_wal_size=4GB', 'shared_buffers=2GB'])
      : null;
  const database = process.env['ARCHIVE_DATABASE'] ?? (await cluster?.newDatabase()) ?? '';
  const db = await ArchiveDatabase.open(database);
  const token = async (role: 'van' | 'reader', name: string): Promise<string> =>
    (await db.as(OWNER, (ask) => makeToken(ask, { role, name }, 0))).token;
  say('tokens');
  const tokens: string[] = [];
  for (let i = 0; i < VANS; i++) tokens.push(await token('van', `Van ${i}`));
  const reader = await token('reader', 'Desk');
  await db.close();
  const client = new pg.Client({ connectionString: database, options: '-c search_path=plateau' });
  await client.connect();
  const server = await served(database);
  const out = (line: string): boolean => process.stdout.write(`${line}\n`);
  out(
    `Visits of 8 h × 16 series (${PROBES} probes, a reading a second), ${VANS} vans, ${AT_ONCE} sending at once`,
  );
  try {
    await steps(client, server, tokens, reader, out);
  } finally {
    server.end();
    await client.end();
    await cluster?.end();
  }
}

/** Fills it step by step, and asks at each. */
async function steps(
  client: pg.Client,
  server: Server,
  tokens: readonly string[],
  reader: string,
  out: (line: string) => boolean,
): Promise<void> {
  let visits = 0;
  let held = 0;
  await tenYears(client);
  const years = await sizeOf(client);
  for (const goal of [GB / 100, GB / 10, GB]) {
    const round = (goal * 1000 * MB - held) / ROUNDS;
    const rates: number[] = [];
    const copyRates: number[] = [];
    const each: number[] = [];
    const cost = costOf(server.pid).cpuS;
    let seconds = 0;
    let came = 0;
    for (let i = 0; i < ROUNDS; i++) {
      say(`to ${goal} GB, round ${i + 1} of ${ROUNDS}`);
      const sent = await sendUntil(server, tokens, round, visits);
      // Of a large round a part: COPY is as fast at any size.
      const some = Math.min(sent.bytes, 500 * MB);
      copyRates.push(some / MB / (await copied(client, some, visits, VANS)));
      await client.query('TRUNCATE copied');
      rates.push(sent.bytes / MB / sent.seconds);
      each.push(...sent.each);
      visits += sent.visits;
      held += sent.bytes;
      came += sent.bytes;
      seconds += sent.seconds;
    }
    const own = costOf(server.pid);
    const parts = rates.map((rate, i) => rate / (copyRates[i] ?? NaN));
    const size = (await sizeOf(client)) - years;
    out(
      `  to ${(held / 1000 / MB).toFixed(2)} GB, ${ROUNDS} rounds: ${each.length} visits of ${(came / each.length / MB).toFixed(2)} MB, ` +
        `${spread(rates, 0)} MB/s; COPY of the same bytes ${spread(copyRates, 0)} MB/s: ${spread(parts, 2)} (aim ≥ 0.5); ` +
        `a visit ${ms(each)}; on disk ${(size / held).toFixed(2)} × the bytes; ` +
        `server ${((100 * (own.cpuS - cost)) / seconds).toFixed(0)} % of a core, ${own.mb.toFixed(0)} MB; load ${(loadavg()[0] ?? 0).toFixed(1)}`,
    );
    const { key: unit } = keyRow.parse(
      (await client.query(`SELECT min(key) AS key FROM unit WHERE model = 'Ten years'`)).rows[0],
    );
    out(
      `    a unit’s ten years: ${ms(await asked(server, reader, `/api/archive/units/${unit}`))} (aim < 100)`,
    );
    out(
      `    a type, ${TYPE.captures} captures of ${TYPE.units} units: ${ms(await asked(server, reader, '/api/archive/types/Ten%20years'))} (aim < 300)`,
    );
    out(
      `    visits searched: ${ms(await asked(server, reader, '/api/visits?text=street%2077&most=100'))}`,
    );
  }
}
