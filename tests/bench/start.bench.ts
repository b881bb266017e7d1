/** From the start of the server's process to its first answer, against an empty Node process. */
import { spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Benchmark } from './harness.ts';

spawnSync(process.execPath, ['server/launch.mjs', 'build'], { stdio: 'inherit' });

/** Starts the server, asks it once, ends it; returns the time to its answer, ms. */
async function toFirstAnswer(command: 'demo' | 'start'): Promise<number> {
  const data = mkdtempSync(join(tmpdir(), 'plateau-bench-'));
  const begun = performance.now();
  const args = ['server/launch.mjs', command, '--port', '0', '--data', data];
  const child = spawn(process.execPath, args, { stdio: ['ignore', 'pipe', 'inherit'] });
  const ended = new Promise((resolve) => child.on('close', resolve));
  const url = await new Promise<string>((resolve) => {
    child.stdout.on('data', (text: Buffer) => {
      const found = /http:\S+/.exec(text.toString())?.[0];
      if (found !== undefined) resolve(found);
    });
  });
  const answer = await fetch(`${url}/api/health`);
  if (!answer.ok) throw new Error(`answered ${answer.status}`);
  const took = performance.now() - begun;
  child.kill();
  await ended;
  rmSync(data, { recursive: true, force: true });
  return took;
}

function emptyProcess(): number {
  const begun = performance.now();
  spawnSync(process.execPath, ['--eval', '0']);
  return performance.now() - begun;
}

export const benchmark: Benchmark = {
  title: 'start to first answer',
  unit: 'ms',
  contestants: [
    { name: 'empty Node', run: emptyProcess },
    { name: 'npm start, without npm', run: () => toFirstAnswer('start') },
    { name: 'demo', run: () => toFirstAnswer('demo') },
  ],
  ratios: [{ of: 'npm start, without npm', to: 'empty Node' }],
};
