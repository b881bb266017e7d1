/**
 * `plateau analyse` on eight hours of eight probes at 1 Hz (230,400 readings) against reading and
 * JSON-parsing the same file alone. Whole processes, output discarded, CPU time (user and system),
 * Node's own start included in both.
 */
import { spawn, spawnSync } from 'node:child_process';
import type { Benchmark } from './harness.ts';
import { writeEightHours } from './eight-hours.ts';

const path = await writeEightHours();
spawnSync(process.execPath, ['server/launch.mjs', 'build'], { stdio: 'inherit' });

const PARSE = `
  import { readFileSync } from 'node:fs';
  let n = 0;
  for (const line of readFileSync(${JSON.stringify(path)}, 'utf8').split('\\n')) {
    if (line !== '') n += JSON.parse(line).t === undefined ? 0 : 1;
  }
  if (n !== 230400) throw new Error(String(n));`;

/** Writes the process's CPU time to a pipe of its own when it ends. */
const REPORT =
  'data:text/javascript,' +
  encodeURIComponent(`
  import { writeSync } from 'node:fs';
  process.on('exit', () => {
    const { user, system } = process.cpuUsage();
    writeSync(3, String(user + system));
  });`);

/** Runs Node to its end; returns its CPU time, ms. */
function run(args: string[]): Promise<number> {
  return new Promise((resolve, reject) => {
    const stdio = ['ignore', 'ignore', 'inherit', 'pipe'] as const;
    const child = spawn(process.execPath, ['--import', REPORT, ...args], { stdio: [...stdio] });
    let micros = '';
    child.stdio[3]?.on('data', (text: Buffer) => (micros += text.toString()));
    child.on('error', reject);
    child.on('close', (status) => {
      if (status === 0) resolve(Number(micros) / 1000);
      else reject(new Error(`${args.join(' ')} ended with ${status}`));
    });
  });
}

const ALONE = 'read and parse alone';
const analyse = (...more: string[]): Promise<number> =>
  run(['build/server/main.mjs', 'analyse', path, ...more]);

export const benchmark: Benchmark = {
  title: 'analyse, 8 h × 8 probes × 1 Hz',
  unit: 'ms of CPU',
  contestants: [
    { name: ALONE, run: () => run(['--input-type=module', '--eval', PARSE]) },
    { name: 'analyse', run: () => analyse() },
    { name: 'analyse --every 60', run: () => analyse('--every', '60') },
  ],
  ratios: [
    { of: 'analyse', to: ALONE, aim: '< 2.5' },
    { of: 'analyse --every 60', to: ALONE },
  ],
};
