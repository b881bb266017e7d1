/** The real program as child processes, for tests: the command line, and a server on a free port. */
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const ROOT = fileURLToPath(new URL('..', import.meta.url));
const LAUNCH = join(ROOT, 'server/launch.mjs');

export interface Result {
  status: number | null;
  out: string;
  err: string;
}

/** Runs `plateau ARGS` to its end. */
export function plateau(args: string[]): Promise<Result> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [LAUNCH, ...args], { cwd: ROOT });
    let out = '';
    let err = '';
    child.stdout.setEncoding('utf8').on('data', (text: string) => (out += text));
    child.stderr.setEncoding('utf8').on('data', (text: string) => (err += text));
    child.on('error', reject);
    child.on('close', (status) => resolve({ status, out, err }));
  });
}

/** Builds what is older than its sources; `npm test` has, a single file that is run may be the first. */
export const built = (): Promise<Result> => plateau(['build', '--outdated']);

/** A folder of its own that goes with `remove`. */
export function tempFolder(): { path: string; remove: () => void } {
  const path = mkdtempSync(join(tmpdir(), 'plateau-'));
  return { path, remove: () => rmSync(path, { recursive: true, force: true }) };
}

export interface RunningServer {
  url: string;
  port: number;
  child: ChildProcess;
  /** What it has printed so far, on standard output and standard error. */
  out: () => string;
  err: () => string;
  /** Ends it by a signal; resolves to its exit status (null when it was killed). */
  end(signal?: NodeJS.Signals): Promise<number | null>;
}

/** Starts `demo` or `start`; resolves when its line with the URL has come. */
export function startServer(
  command: 'demo' | 'start',
  args: string[],
  env: Record<string, string> = {},
): Promise<RunningServer> {
  const child = spawn(process.execPath, [LAUNCH, command, ...args], {
    cwd: ROOT,
    env: { ...process.env, ...env },
  });
  const ended = new Promise<number | null>((resolve) => child.on('close', resolve));
  let out = '';
  let err = '';
  child.stderr.setEncoding('utf8').on('data', (text: string) => (err += text));
  return new Promise((resolve, reject) => {
    void ended.then((status) => reject(new Error(`ended with ${status}: ${err}`)));
    child.stdout.setEncoding('utf8').on('data', (text: string) => {
      out += text;
      const url = /https?:\/\/\S+/.exec(out)?.[0];
      if (url === undefined) return;
      resolve({
        url,
        port: Number(new URL(url).port),
        child,
        out: () => out,
        err: () => err,
        end: (signal = 'SIGTERM') => {
          child.kill(signal);
          return ended;
        },
      });
    });
  });
}
