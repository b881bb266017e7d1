/** Asks a server for its health from a process of its own, again and again, and says how long that took. */
import { spawn } from 'node:child_process';

/** Between one answer and the next question, where nothing else is wanted. */
const PAUSE_MS = 3;
/** So many answers are not counted. */
const WARM = 20;

/** What the watching process runs: one number a line. */
const SCRIPT = `
  const [url, pauseMs] = process.argv.slice(1);
  for (;;) {
    const begun = performance.now();
    const answer = await fetch(url);
    await answer.text();
    process.stdout.write((answer.ok ? performance.now() - begun : Infinity) + '\\n');
    await new Promise((resolve) => setTimeout(resolve, Number(pauseMs)));
  }`;

export interface HealthWatch {
  /** Ends it. @returns what each answer took, ms, shortest first; Infinity for one that was none */
  end(): Promise<number[]>;
}

/** Begins to ask; resolves when it has been answered a few times, so that both sides are warm. */
export function watchHealth(url: string, pauseMs = PAUSE_MS): Promise<HealthWatch> {
  const args = ['--input-type=module', '--eval', SCRIPT, `${url}/api/health`, String(pauseMs)];
  const child = spawn(process.execPath, args, { stdio: ['ignore', 'pipe', 'inherit'] });
  const ended = new Promise((resolve) => child.on('close', resolve));
  let took: number[] = [];
  let rest = '';
  const end = async (): Promise<number[]> => {
    child.kill();
    await ended;
    return took.toSorted((a, b) => a - b);
  };
  return new Promise((resolve) => {
    let isWarm = false;
    child.stdout.setEncoding('utf8').on('data', (text: string) => {
      const lines = (rest + text).split('\n');
      rest = lines.pop() ?? '';
      took.push(...lines.map(Number));
      if (isWarm || took.length < WARM) return;
      isWarm = true;
      took = [];
      resolve({ end });
    });
  });
}

/** Of sorted values. */
export const quantile = (sorted: readonly number[], part: number): number =>
  sorted[Math.min(sorted.length - 1, Math.floor(part * sorted.length))] ?? NaN;
