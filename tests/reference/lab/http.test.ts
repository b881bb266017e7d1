/**
 * A measured day goes in through the HTTP calls as a script would send it, and comes out of the state
 * and the history with the figures that `analyse` has for the same data at the same times.
 *
 * The airflow of a live visit changes "from now on" (the visit's time), so each row's airflow is told
 * after the row before has been worked out and ahead of the row's readings: at the time of a row its
 * own readings and airflow are in use. In the minute before, the airflow is already the next row's;
 * that is why only the rows' own times are compared.
 */
import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import * as z from 'zod';
import {
  type History,
  historySchema,
  type State,
  stateSchema,
  type UnitSnapshot,
} from '../../../server/protocol.ts';
import {
  airflowOf,
  LAB_DAYS,
  type LabDay,
  type LabRow,
  readingsOf,
  readRows,
  setUpLines,
  UNIT,
  visitLog,
} from './convert.ts';
import { rowsBetween, WINDOWS } from './reference.ts';
import { analyse, LAUNCHER, labUnit, ROOT } from './run.ts';

const WITHIN = 0.001;
/** Rows that go in one request where the airflow stays as it is. */
const MOST_ROWS = 100;
const answerSchema = z.object({ taken: z.number(), refusedCount: z.number() });

const day = pick(LAB_DAYS, ({ lab, mode }) => lab === 'nist' && mode === 'cooling');
const window = pick(WINDOWS, ({ file, start }) => file === day.file && start === '07/16 12:18:00');
const rows = readRows(day);
const windowRows = rowsBetween(rows, window.start, window.end);

function pick<T>(from: readonly T[], which: (item: T) => boolean): T {
  const found = from.find(which);
  if (found === undefined) throw new Error('there is no such item');
  return found;
}

let folder = '';
let server: ChildProcess | null = null;
let url = '';
/** By `analyse`, at the rows' times. */
const analysed = new Map<number, UnitSnapshot>();
let stateInWindow: State | null = null;
let taken = 0;
/** Flow of dry air that the server was told last, kg/s. */
let flow: number | null = null;

beforeAll(async () => {
  await analyse(visitLog(day, rows), 60, (snapshot) => analysed.set(snapshot.t, labUnit(snapshot)));
  folder = await mkdtemp(join(tmpdir(), 'plateau-lab-'));
  await startServer();
  await setUp(day);
  const end = rows.findIndex(({ t }) => t === windowRows.at(-1)?.t);
  await send(rows.slice(0, end + 1));
  stateInWindow = await state();
  await send(rows.slice(end + 1));
}, 120_000);

afterAll(async () => {
  if (server !== null && server.exitCode === null) {
    const ended = once(server, 'exit');
    server.kill('SIGTERM');
    await ended;
  }
  await rm(folder, { recursive: true, force: true });
});

/** Starts the real server and takes its address from the one line that it prints. */
async function startServer(): Promise<void> {
  const child = spawn(process.execPath, [LAUNCHER, 'start', '--port', '0', '--data', folder], {
    cwd: ROOT,
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  server = child;
  let said = '';
  url = await new Promise((resolve, reject) => {
    child.stdout.setEncoding('utf8').on('data', (text: string) => {
      said += text;
      const [address] = /http:\/\/\S+(?=\s)/.exec(said) ?? [];
      if (address !== undefined) resolve(address);
    });
    child.once('exit', (code) => reject(new Error(`the server ended with ${code}: "${said}"`)));
  });
}

async function call(method: string, path: string, body: string, type: string): Promise<unknown> {
  const answer = await fetch(url + path, { method, body, headers: { 'content-type': type } });
  const text = await answer.text();
  if (!answer.ok) throw new Error(`${method} ${path}: ${answer.status} ${text.slice(0, 300)}`);
  return JSON.parse(text);
}
const put = (path: string, body: object): Promise<unknown> =>
  call('PUT', path, JSON.stringify(body), 'application/json');

async function state(): Promise<State> {
  return stateSchema.parse(await (await fetch(`${url}/api/state`)).json());
}
async function history(since: number, until: number): Promise<History> {
  const query = `since=${since}&until=${until}&points=200000`;
  return historySchema.parse(await (await fetch(`${url}/api/history?${query}`)).json());
}

/**
 * The set-up lines of the log as the calls that stand for them. The first airflow is part of the unit's
 * set-up: an airflow "from now on" would be dated by the computer's clock as long as no reading is in,
 * and everything recorded before would come too late.
 */
async function setUp(of: LabDay): Promise<void> {
  for (const line of setUpLines(of)) {
    if (line.type === 'visit') {
      await put('/api/visit', { title: line.title, mode: line.mode });
    } else if (line.type === 'unit' || line.type === 'probe') {
      const { type, id, ...body } = line;
      await put(`/api/${type}s/${id}`, body);
    }
  }
  const [first] = rows;
  if (first === undefined) throw new Error('no rows');
  await put(`/api/units/${UNIT}`, { airflow: airflowOf(first) });
  flow = first.dryAirKgs;
}

/** Sends rows in batches; a batch ends where the airflow changes, and in the window after each row. */
async function send(some: readonly LabRow[]): Promise<void> {
  let batch: LabRow[] = [];
  const post = async (): Promise<void> => {
    if (batch.length === 0) return;
    const readings = batch.flatMap((row) => readingsOf(day, row));
    const body = readings.map((reading) => JSON.stringify(reading) + '\n').join('');
    const answer = answerSchema.parse(
      await call('POST', '/api/readings', body, 'application/x-ndjson'),
    );
    expect(answer).toMatchObject({ taken: readings.length, refusedCount: 0 });
    taken += answer.taken;
    batch = [];
  };
  for (const row of some) {
    const inWindow = windowRows.includes(row);
    if (inWindow || row.dryAirKgs !== flow || batch.length >= MOST_ROWS) await post();
    if (row.dryAirKgs !== flow) await put(`/api/units/${UNIT}/airflow`, airflowOf(row));
    flow = row.dryAirKgs;
    batch.push(row);
    if (!inWindow) continue;
    await post();
    while (((await state()).t ?? 0) < row.t) await pause(20);
  }
  await post();
}

/** Relative difference. */
const apart = (a: number | null | undefined, b: number | null | undefined): number =>
  Math.abs((a ?? NaN) / (b ?? NaN) - 1);

describe('a measured day over HTTP', () => {
  it('is taken, reading by reading', () => {
    expect(taken).toBe(rows.length * 4);
  });

  it('shows in the state what analyse shows for the same time', () => {
    const t = windowRows.at(-1)?.t ?? NaN;
    const theirs = analysed.get(t);
    const ours = stateInWindow?.units[UNIT];
    if (theirs === undefined || ours === undefined) throw new Error('no snapshot');
    // The visit's time goes on with the clock; the row holds for its minute.
    expect(stateInWindow?.t).toBeGreaterThanOrEqual(t);
    expect(stateInWindow?.t).toBeLessThan(t + 60_000);
    const shown = ['totalW', 'sensibleW', 'latentW'] as const;
    const intervals = ['totalU95W', 'sensibleU95W', 'latentU95W'] as const;
    for (const key of [...shown, ...intervals]) {
      expect(apart(ours.capacity[key], theirs.capacity[key])).toBeLessThan(WITHIN);
    }
    for (const place of ['return', 'supply'] as const) {
      expect(apart(ours[place].temperatureC, theirs[place].temperatureC)).toBeLessThan(WITHIN);
      expect(apart(ours[place].humidityRatio, theirs[place].humidityRatio)).toBeLessThan(WITHIN);
    }
    expect(ours.mode).toBe('cooling');
    expect(ours.doubts.map(({ code }) => code)).toEqual(['check-missing', 'airflow-not-measured']);
    expect([ours.settling.state, theirs.settling.state]).toEqual(['steady', 'steady']);
  });

  it('shows the probes, where the pressure comes from, and that nothing is simulated', () => {
    expect(stateInWindow?.simulated).toBe(false);
    expect(stateInWindow?.visit.pressureSource).toBe('probe');
    const probes = stateInWindow?.probes ?? {};
    expect(Object.keys(probes).sort()).toEqual(['b', 'o', 'r', 's']);
    for (const probe of Object.values(probes)) {
      expect(probe).toMatchObject({ adapter: 'push', state: 'live', intervalMs: 60_000 });
    }
  });

  it('has in the history at each row of a steady window what analyse has, and so the reference', async () => {
    const [from, to] = [windowRows[0]?.t ?? NaN, windowRows.at(-1)?.t ?? NaN];
    const past = await history(from - 1, to);
    expect(past.t).toHaveLength((windowRows.length - 1) * 60 + 1);
    const columns = past.units[UNIT];
    let sum = 0;
    for (const { t } of windowRows) {
      const theirs = analysed.get(t);
      const i = past.t.indexOf(t);
      expect(apart(columns?.totalW[i], theirs?.capacity.totalW)).toBeLessThan(WITHIN);
      expect(apart(columns?.sensibleW[i], theirs?.capacity.sensibleW)).toBeLessThan(WITHIN);
      expect(apart(columns?.latentW[i], theirs?.capacity.latentW)).toBeLessThan(WITHIN);
      expect(apart(columns?.totalU95W[i], theirs?.capacity.totalU95W)).toBeLessThan(WITHIN);
      sum += columns?.totalW[i] ?? NaN;
    }
    expect(apart(sum / windowRows.length, window.totalW)).toBeLessThan(0.01);
  });

  it('has the whole day in the history, a row a second', async () => {
    const past = await history(0, (rows.at(-1)?.t ?? NaN) - 1);
    expect(past.t[0]).toBe(rows[0]?.t);
    expect(past.t).toHaveLength(1439 * 60);
  });
});
