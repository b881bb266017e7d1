/**
 * Errors that only the process can catch, in real processes: with a supervisor the adapter is charged
 * and the rest goes on; without one the same adapter ends the process (so the test can fail).
 */
import { execFile } from 'node:child_process';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import * as z from 'zod';
import { brokenAdapters } from './broken-adapters.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
const statusesSchema = z.array(
  z.object({ adapter: z.string(), state: z.string(), text: z.nullable(z.string()) }),
);
let folder = '';
let child = '';

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'plateau-net-'));
  child = join(folder, 'child.mjs');
  const entry = join(root, 'tests/adapters/error-net-child.ts');
  await build({
    entryPoints: [entry],
    outfile: child,
    bundle: true,
    platform: 'node',
    format: 'esm',
    logLevel: 'error',
  });
});
afterAll(() => rm(folder, { recursive: true }));

interface Outcome {
  status: number | null;
  out: string;
  err: string;
}

function run(what: string, how: 'supervised' | 'bare'): Promise<Outcome> {
  return new Promise((resolve) => {
    const process = execFile(globalThis.process.execPath, [child, what, how], (_, out, err) =>
      resolve({ status: process.exitCode, out, err }),
    );
  });
}

function states(out: string, adapter: string): string[] {
  const statuses = statusesSchema.parse(JSON.parse(out));
  return statuses.filter((s) => s.adapter === adapter).map(({ state }) => state);
}

describe.each(Object.keys(brokenAdapters))('an adapter that fails in %s', (what) => {
  it('is charged, shown and started again, while the others go on', async () => {
    const { status, out, err } = await run(what, 'supervised');
    expect(err).toBe('');
    expect(status).toBe(0);
    expect(out).toMatch(
      /It failed: (the battery fell out|connect ECONNREFUSED [^"]*)\. It is started/,
    );
    expect(states(out, 'broken').slice(0, 4)).toEqual([
      'starting',
      'running',
      'retrying',
      'starting',
    ]);
    expect(states(out, 'sound')).toEqual(['starting', 'running']);
  });

  it('ends the process where there is no supervisor', async () => {
    const { status, err } = await run(what, 'bare');
    expect(status).toBe(1);
    expect(err).toMatch(/the battery fell out|ECONNREFUSED/);
  });
});

describe('an error of nobody', () => {
  it.each(['nobody in particular', "nobody's promise", 'our own code'])(
    'ends the process, as without a supervisor: %s',
    async (what) => {
      const { status, out, err } = await run(what, 'supervised');
      expect(status).toBe(1);
      expect(out).toBe('');
      expect(err).toContain('Error: the roof came down');
    },
  );
});

describe('a plug-in', () => {
  it('that fails outside of its runs is charged as well, and left running', async () => {
    const plugIn = join(folder, 'broken.mjs');
    await writeFile(
      plugIn,
      `setTimeout(() => { throw new Error('a leaf fell') }, 30);
       export const createAdapter = () => ({ name: 'leaf', start() {}, stop() {} });`,
    );
    const { status, out } = await run(plugIn, 'supervised');
    expect(status).toBe(0);
    expect(out).toContain('Something that it left behind failed: a leaf fell.');
    expect(new Set(states(out, 'leaf'))).toEqual(new Set(['starting', 'running']));
  });

  it.each([
    ['process.exit(7)', 'process.exit'],
    ['process.abort()', 'process.abort'],
  ])('that calls %s does not end the server: it is said of it', async (call, named) => {
    const plugIn = join(folder, `${named}.mjs`);
    await writeFile(
      plugIn,
      `setTimeout(() => { ${call} }, 30);
       export const createAdapter = () => ({ name: 'leaf', start() {}, stop() {} });`,
    );
    const { status, out } = await run(plugIn, 'supervised');
    expect(status).toBe(0);
    expect(out).toContain(`It called ${named}, which would end the whole server`);
  });
});
