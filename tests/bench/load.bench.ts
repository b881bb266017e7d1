/**
 * As much as a visit may hold, for minutes: 64 units, 256 probes × 1 Hz, 50 pages that read everything, a
 * record on disk. How late the pages see each second, what health takes, whether memory grows, and whether
 * everything that was acknowledged is in the record. `LOAD_MINUTES` (10) says for how long;
 * `LOAD_PROFILE=FOLDER` has the server leave a CPU profile there.
 */
import { execFileSync, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { setTimeout as pause } from 'node:timers/promises';
import { quantile, watchHealth } from './health-watch.ts';
import { build, costOf, slopeOf, startOn } from './own-server.ts';

const MINUTES = Number(process.env['LOAD_MINUTES'] ?? 10);
const UNITS = 64;
const PROBES_A_UNIT = 4;
const VIEWERS = 50;
/** Processes that read for them. */
const READERS = 2;
/** Until the sources, the pages and the compiler have found their pace, s. */
const WARM_S = 20;
/** Without a change of anything the slope of memory says more, s. */
const CHANGE_EVERY_S = 120;

/** The pages, in processes of their own: of each snapshot how old it is when it comes, ms, a line. */
const PAGES = `
  const [url, count] = process.argv.slice(1);
  const { WebSocket } = await import('ws');
  let bytes = 0;
  for (let i = 0; i < Number(count); i++) {
    const socket = new WebSocket(url);
    socket.on('message', (data) => {
      bytes += data.length;
      const head = data.toString('latin1', 0, 60);
      const t = /^\\{"type":"snapshot","t":(\\d+)/.exec(head)?.[1];
      if (t !== undefined) process.stdout.write((Date.now() - Number(t)) + '\\n');
    });
    socket.on('close', (code) => process.stderr.write('a page was closed: ' + code + '\\n'));
  }
  setInterval(() => process.stderr.write('bytes ' + bytes + '\\n'), 5000);`;

const json = { 'content-type': 'application/json' };

async function put(url: string, path: string, body: object): Promise<void> {
  const answer = await fetch(url + path, {
    method: 'PUT',
    headers: json,
    body: JSON.stringify(body),
  });
  if (!answer.ok) throw new Error(`${path}: ${answer.status} ${await answer.text()}`);
}

async function setUp(url: string): Promise<string[]> {
  const probes: string[] = [];
  for (let u = 0; u < UNITS; u++) {
    const airflow = {
      source: 'entered',
      flowM3s: 0.151,
      basis: 'actual',
      plane: 'supply',
      limitPct: 6,
    };
    await put(url, `/api/units/u${u}`, { name: `Room ${u}` });
    await put(url, `/api/units/u${u}/airflow`, airflow);
    for (let p = 0; p < PROBES_A_UNIT; p++) {
      const id = `u${u}-p${p}`;
      const limits = { temperatureC: 0.5, humidityPct: 2.5 };
      await put(url, `/api/probes/${id}`, {
        ...{ unit: `u${u}`, place: p % 2 === 0 ? 'return' : 'supply', limits },
      });
      probes.push(id);
    }
  }
  return probes;
}

export async function print(): Promise<void> {
  build();
  const data = mkdtempSync(join(tmpdir(), 'plateau-bench-'));
  const profile = process.env['LOAD_PROFILE'];
  const node = profile === undefined ? [] : ['--cpu-prof', `--cpu-prof-dir=${profile}`];
  const server = await startOn(data, node);
  const { url, pid } = server;
  const probes = await setUp(url);
  const stream = `${url.replace('http', 'ws')}/api/stream`;
  const ages: number[] = [];
  const bytes = Array.from({ length: READERS }, () => 0);
  const complaints: string[] = [];
  const readers = bytes.map((_, i) => {
    const args = ['--input-type=module', '--eval', PAGES, stream, String(VIEWERS / READERS)];
    const reader = spawn(process.execPath, args, { stdio: ['ignore', 'pipe', 'pipe'] });
    createInterface(reader.stdout).on('line', (line) => ages.push(Number(line)));
    createInterface(reader.stderr).on('line', (line) => {
      if (line.startsWith('bytes ')) bytes[i] = Number(line.slice(6));
      else complaints.push(line);
    });
    return reader;
  });

  let acknowledged = 0;
  let refused = 0;
  const begun = Date.now();
  async function sendSecond(s: number): Promise<void> {
    const t = Date.now();
    const settled = 1 - Math.exp(-(s % CHANGE_EVERY_S) / 40);
    const body = probes
      .map((probe, i) => {
        const share = i % 2 === 0 ? 0 : settled;
        const temperatureC = (26.6 - 12 * share + (Math.random() - 0.5) * 0.1).toFixed(2);
        const humidityPct = (48 + 40 * share + Math.random() - 0.5).toFixed(1);
        return `{"type":"reading","t":${t},"probe":"${probe}","temperatureC":${temperatureC},"humidityPct":${humidityPct}}\n`;
      })
      .join('');
    const headers = { 'content-type': 'application/x-ndjson' };
    const answer = await fetch(`${url}/api/readings`, { method: 'POST', headers, body });
    if (answer.ok) acknowledged += probes.length;
    else refused += probes.length;
    await answer.text();
  }

  const seconds = WARM_S + MINUTES * 60;
  const memory: number[] = [];
  const loads: number[] = [];
  let watch: Awaited<ReturnType<typeof watchHealth>> | null = null;
  let before = costOf(pid);
  let fromMs = 0;
  for (let s = 0; s < seconds; s++) {
    if (s === WARM_S) {
      watch = await watchHealth(url, 50);
      ages.length = 0;
      loads.length = 0;
      before = costOf(pid);
      fromMs = performance.now();
    }
    if (s % CHANGE_EVERY_S === 0) {
      const event = { kind: 'setpoint', unit: `u${s % UNITS}`, valueC: 16 };
      const headers = json;
      await fetch(`${url}/api/events`, { method: 'POST', headers, body: JSON.stringify(event) });
    }
    void sendSecond(s).catch(() => (refused += probes.length));
    if (s % 10 === 0) {
      memory.push(costOf(pid).mb);
      loads.push(loadavg()[0] ?? NaN);
    }
    await pause(Math.max(0, begun + 1000 * (s + 1) - Date.now()));
  }
  const after = costOf(pid);
  const share = (after.cpuS - before.cpuS) / ((performance.now() - fromMs) / 1000);
  const health = (await watch?.end()) ?? [];
  const sorted = ages.toSorted((a, b) => a - b);
  const least = sorted[0] ?? 0;
  const late = [0.5, 0.99, 1].map((part) => (quantile(sorted, part) - least).toFixed(0));
  for (const reader of readers) reader.kill();
  await pause(500);
  await server.end();
  const log = execFileSync(process.execPath, ['server/launch.mjs', 'export', '--data', data], {
    maxBuffer: 2 ** 30,
  });
  const recorded = log.toString().split('"type":"reading"').length - 1;
  rmSync(data, { recursive: true, force: true });

  const settledMemory = memory.slice(Math.floor(memory.length / 3));
  const of = (part: number): string => quantile(health, part).toFixed(0);
  const mb = (part: number): string =>
    (memory[Math.floor(part * (memory.length - 1))] ?? NaN).toFixed(0);
  const busy = loads.toSorted((a, b) => a - b);
  process.stdout.write(
    [
      `${UNITS} units, ${probes.length} probes × 1 Hz, ${VIEWERS} pages, ${MINUTES} min`,
      `  seconds at the pages, later than the soonest (${least} ms old): median ${late[0]}, p99 ${late[1]}, worst ${late[2]} ms, of ${sorted.length} (aim p99 < 250)`,
      `  health: p50 ${of(0.5)}, p99 ${of(0.99)}, worst ${of(1)} ms, of ${health.length}`,
      `  the server’s CPU: ${(100 * share).toFixed(0)} % of one core; ${(bytes.reduce((a, b) => a + b, 0) / VIEWERS / seconds / 1000).toFixed(1)} kB a second to each page`,
      `  memory: ${mb(0)} MB at first, ${mb(0.5)} half way, ${mb(1)} at the end, at most ${Math.max(...memory).toFixed(0)}; ${(6 * slopeOf(settledMemory)).toFixed(2)} MB a minute over the last two thirds`,
      `  ${acknowledged} readings acknowledged, ${refused} refused; ${recorded} in the record`,
      `  load of the machine, this bench included: ${quantile(busy, 0.5).toFixed(1)} (${busy[0]?.toFixed(1)}–${busy.at(-1)?.toFixed(1)})`,
      ...complaints.map((text) => `  ${text}`),
      '',
    ].join('\n'),
  );
}
