/** A server in a process of its own, for benchmarks of the whole program. */
import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';

/** From where benchmarks are run. */
export const LAUNCH = 'server/launch.mjs';

export interface OwnServer {
  url: string;
  pid: number;
  /** Ends it in order. */
  end(): Promise<void>;
}

/** Builds server and page, so that no start has to wait for that. */
export function build(): void {
  spawnSync(process.execPath, [LAUNCH, 'build'], { stdio: 'inherit' });
}

/** `plateau start` on a data folder. @param nodeOptions of the process that it runs in */
export async function startOn(data: string, nodeOptions: string[] = []): Promise<OwnServer> {
  const args = [...nodeOptions, LAUNCH, 'start', '--port', '0', '--data', data];
  const child = spawn(process.execPath, args, { stdio: ['ignore', 'pipe', 'ignore'] });
  const ended = new Promise<void>((resolve) => child.on('close', () => resolve()));
  const url = await addressOf(child);
  return {
    url,
    pid: child.pid ?? NaN,
    end: () => {
      child.kill();
      return ended;
    },
  };
}

function addressOf({ stdout }: ChildProcess): Promise<string> {
  return new Promise((resolve, reject) => {
    stdout?.on('data', (text: Buffer) => {
      const found = /http:\S+/.exec(text.toString())?.[0];
      if (found !== undefined) resolve(found);
    });
    stdout?.on('close', () => reject(new Error('The server has not started.')));
  });
}

/** Of a process, as Linux counts: memory in MB, and CPU time so far in s. */
export function costOf(pid: number): { mb: number; cpuS: number } {
  const kb = /^VmRSS:\s+(\d+)/m.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1];
  const fields = readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ')[1]?.split(' ') ?? [];
  return { mb: Number(kb) / 1024, cpuS: (Number(fields[11]) + Number(fields[12])) / 100 };
}

/** By how much a line through equally distant values rises a step. */
export function slopeOf(values: readonly number[]): number {
  const middle = (values.length - 1) / 2;
  const mean = values.reduce((a, b) => a + b, 0) / values.length;
  let up = 0;
  let down = 0;
  for (const [i, value] of values.entries()) {
    up += (i - middle) * (value - mean);
    down += (i - middle) ** 2;
  }
  return up / down;
}
