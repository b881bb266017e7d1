/**
 * A class: phones that each have a visit of their own, on this machine. How late they see each second, what
 * the network's being cut and back for all of them at once takes, how soon a withdrawn phone is out, and
 * whether memory grows. `CLASS_PHONES` (40), `CLASS_MINUTES` (10) of real time at `CLASS_SPEED` (1).
 */
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { setTimeout as pause } from 'node:timers/promises';
import * as z from 'zod';
import { quantile, watchHealth } from './health-watch.ts';
import { build, costOf, slopeOf, startOn } from './own-server.ts';

const PHONES = Number(process.env['CLASS_PHONES'] ?? 40);
const MINUTES = Number(process.env['CLASS_MINUTES'] ?? 10);
const SPEED = Number(process.env['CLASS_SPEED'] ?? 1);
/** Processes that are phones. */
const HOLDERS = 2;
/** Until the compiler has found its pace, s. */
const WARM_S = 30;

/**
 * Phones in a process of their own: each reads its stream and asks for the lesson as its page does. On a
 * line from outside all of them lose the network, and come back as pages do.
 */
const HOLDER = `
  const [url, cookies] = process.argv.slice(1);
  const { WebSocket } = await import('ws');
  const say = (...words) => process.stdout.write(words.join(' ') + '\\n');
  const phones = JSON.parse(cookies).map((cookie) => ({ cookie, t: 0, socket: null, cutT: 0 }));
  function open(phone) {
    const socket = new WebSocket(url.replace('http', 'ws') + '/api/stream?since=' + phone.t, {
      headers: { cookie: phone.cookie },
    });
    phone.socket = socket;
    socket.on('open', () => socket.send('{"type":"values","on":true}'));
    socket.on('message', (data) => {
      const head = data.toString('latin1', 0, 60);
      if (phone.cutT > 0) say('back', Date.now() - phone.cutT);
      phone.cutT = 0;
      const t = /^\\{"type":"snapshot","t":(\\d+)/.exec(head)?.[1];
      if (t === undefined) return;
      phone.t = Number(t);
      say('age', Date.now() - phone.t);
    });
    socket.on('error', () => {});
    socket.on('close', (code) => {
      if (code === 1008) say('out', Date.now());
      else setTimeout(() => open(phone), 300 + Math.random() * 700);
    });
  }
  for (const phone of phones) {
    open(phone);
    setTimeout(() => setInterval(() => {
      fetch(url + '/api/class/mine', { headers: { cookie: phone.cookie } })
        .then((answer) => answer.text()).catch(() => say('lost'));
    }, 3000), Math.random() * 3000);
  }
  process.stdin.on('data', () => {
    for (const phone of phones) {
      phone.cutT = Date.now();
      phone.socket.terminate();
    }
  });`;

const opened = z.object({ code: z.string() });
const phoneList = z.object({ phones: z.array(z.object({ id: z.string() })) });

async function call(url: string, method: string, path: string, body?: object, cookie = '') {
  const answer = await fetch(url + path, {
    method,
    headers: {
      ...(body === undefined ? {} : { 'content-type': 'application/json' }),
      ...(cookie === '' ? {} : { cookie }),
    },
    ...(body === undefined ? {} : { body: JSON.stringify(body) }),
  });
  const text = await answer.text();
  if (!answer.ok) throw new Error(`${method} ${path}: ${answer.status} ${text}`);
  return { json: JSON.parse(text) as unknown, cookie: answer.headers.getSetCookie()[0] ?? '' };
}

/** A phone that is in, with its probes where they belong. @returns its cookie */
async function joined(url: string, code: string, name: string): Promise<string> {
  const { cookie } = await call(url, 'POST', '/api/session', { code, name });
  const own = cookie.split(';')[0] ?? '';
  for (const [probe, at] of [
    ['p1', { unit: 'u1', place: 'return' }],
    ['p2', { unit: 'u1', place: 'supply' }],
    ['p3', { place: 'outdoor' }],
  ] as const) {
    await call(url, 'PUT', `/api/probes/${probe}`, at, own);
  }
  return own;
}

export async function print(): Promise<void> {
  build();
  const data = mkdtempSync(join(tmpdir(), 'plateau-bench-'));
  const server = await startOn(data);
  const { url, pid } = server;
  const { code } = opened.parse(
    (await call(url, 'POST', '/api/class', { lesson: 'healthy' })).json,
  );
  const cookies: string[] = [];
  for (let i = 0; i < PHONES; i++) cookies.push(await joined(url, code, `Trainee ${i}`));
  await call(url, 'PUT', '/api/class', { speed: SPEED, frozen: false });

  const ages: number[] = [];
  const back: number[] = [];
  let outT: number | null = null;
  let lost = 0;
  const holders: ChildProcess[] = Array.from({ length: HOLDERS }, (_, i) => {
    const own = cookies.filter((_cookie, n) => n % HOLDERS === i);
    const args = ['--input-type=module', '--eval', HOLDER, url, JSON.stringify(own)];
    const holder = spawn(process.execPath, args, { stdio: ['pipe', 'pipe', 'inherit'] });
    createInterface(holder.stdout).on('line', (line) => {
      const [what, ms] = line.split(' ');
      if (what === 'age') ages.push(Number(ms));
      else if (what === 'back') back.push(Number(ms));
      else if (what === 'out') outT = Number(ms);
      else lost++;
    });
    return holder;
  });

  const memory: number[] = [];
  const loads: number[] = [];
  const sample = async (seconds: number): Promise<void> => {
    for (let s = 0; s < seconds; s += 10) {
      memory.push(costOf(pid).mb);
      loads.push(loadavg()[0] ?? NaN);
      await pause(10_000);
    }
  };
  await sample(WARM_S);
  ages.length = 0;
  const watch = await watchHealth(url, 100);
  const before = costOf(pid);
  const fromMs = performance.now();
  await sample(MINUTES * 60);
  const after = costOf(pid);
  const share = (after.cpuS - before.cpuS) / ((performance.now() - fromMs) / 1000);
  const health = await watch.end();
  const steady = ages.toSorted((a, b) => a - b);

  // The network is cut, and back, for all of them at once.
  for (const holder of holders) holder.stdin?.write('cut\n');
  await pause(8000);
  // One is stolen.
  const { phones } = phoneList.parse((await call(url, 'GET', '/api/phones')).json);
  const stolenT = Date.now();
  await call(url, 'DELETE', `/api/phones/${phones[0]?.id ?? ''}`);
  await pause(2000);

  for (const holder of holders) holder.kill();
  await server.end();
  rmSync(data, { recursive: true, force: true });
  const least = steady[0] ?? 0;
  const late = [0.5, 0.99, 1].map((part) => (quantile(steady, part) - least).toFixed(0));
  const returned = back.toSorted((a, b) => a - b);
  const busy = loads.toSorted((a, b) => a - b);
  const mb = (part: number): string =>
    (memory[Math.floor(part * (memory.length - 1))] ?? NaN).toFixed(0);
  const ofHealth = (part: number): string => quantile(health, part).toFixed(0);
  process.stdout.write(
    [
      `${PHONES} phones, each with a visit of its own, ${MINUTES} min at ${SPEED}×`,
      `  seconds at the phones, later than the soonest: median ${late[0]}, p99 ${late[1]}, worst ${late[2]} ms, of ${steady.length} (aim p99 < 250)`,
      `  health: p50 ${ofHealth(0.5)}, p99 ${ofHealth(0.99)}, worst ${ofHealth(1)} ms`,
      `  cut and back at once: ${returned.length} of ${PHONES} have their figures again after median ${quantile(returned, 0.5).toFixed(0)}, worst ${quantile(returned, 1).toFixed(0)} ms (they wait 300 to 1000 before they try)`,
      `  a withdrawn phone is out after ${outT === null ? 'never' : `${outT - stolenT} ms`}; ${lost} calls lost`,
      `  the server’s CPU: ${(100 * share).toFixed(0)} % of one core`,
      `  memory: ${mb(0)} MB at first, ${mb(0.5)} half way, ${mb(1)} at the end; ${(6 * slopeOf(memory.slice(Math.floor(memory.length / 3)))).toFixed(2)} MB a minute over the last two thirds`,
      `  load of the machine, this bench included: ${quantile(busy, 0.5).toFixed(1)} (${busy[0]?.toFixed(1)}–${busy.at(-1)?.toFixed(1)})`,
      '',
    ].join('\n'),
  );
}
