/**
 * Small houses to try the checks on: the fixtures of canary/ under the real settings of the project,
 * and the real commands of its package.json run in them.
 */
import { exec } from 'node:child_process';
import { appendFileSync, cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { delimiter, dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { z } from 'zod';

const root = fileURLToPath(new URL('../..', import.meta.url));
const canary = join(root, 'tests/check/canary');
/** What the checks are set by. A house has these very files. */
const SETTINGS = [
  ...['package.json', 'tsconfig.json', '.prettierignore'],
  ...['client/tsconfig.json', 'client/svelte.config.js', 'tests/browser/tsconfig.json'],
  ...['tests/check/eslint.config.js', 'tests/check/import-rules.cjs'],
  ...['tests/vitest.config.ts', 'tests/rune-environment.ts'],
  ...['tests/run.mjs', 'tests/run-vitest.mjs', 'tests/chromium.mjs', 'tests/radio-library.mjs'],
  ...['tests/postgres.mjs', 'tests/debian.mjs'],
];
const { scripts } = z
  .object({ scripts: z.record(z.string(), z.string()) })
  .parse(JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')));

/** Names of the scripts that `npm run check` is made of. */
export const CHECKS = Object.keys(scripts).filter((name) => name.startsWith('check:'));
/** What `npm run check` runs. */
export const CHECK = scripts['check'] ?? '';

export interface Outcome {
  status: number;
  /** Standard output. */
  out: string;
  /** Standard error. */
  err: string;
}

export class House {
  readonly path: string;

  /** @param layers folders of canary/, each laid over the one before */
  constructor(...layers: string[]) {
    // Below the project, so that its packages are found; in a folder that no check looks into.
    mkdirSync(join(root, 'build'), { recursive: true });
    this.path = mkdtempSync(join(root, 'build', 'canary-'));
    for (const layer of layers) cpSync(join(canary, layer), this.path, { recursive: true });
    for (const file of SETTINGS) {
      mkdirSync(dirname(join(this.path, file)), { recursive: true });
      cpSync(join(root, file), join(this.path, file));
    }
  }

  /** Adds to a file, or makes it. */
  add(file: string, text: string): void {
    mkdirSync(dirname(join(this.path, file)), { recursive: true });
    appendFileSync(join(this.path, file), text);
  }

  /** Runs a script of package.json here, with more arguments, as npm would. */
  run(script: string, args = '', more: Record<string, string> = {}): Promise<Outcome> {
    const env: NodeJS.ProcessEnv = { ...process.env, ...more };
    // Of vitest's own process: they would make a vitest below believe that it is a worker.
    for (const name of Object.keys(env)) if (name.startsWith('VITEST')) delete env[name];
    env['PATH'] = `${join(root, 'node_modules/.bin')}${delimiter}${process.env['PATH'] ?? ''}`;
    env['NO_COLOR'] = '1';
    const command = scripts[script];
    if (command === undefined) throw new Error(`package.json has no script "${script}".`);
    return new Promise((resolve) => {
      const child = exec(
        `${command} ${args}`,
        { cwd: this.path, env, maxBuffer: 1e8 },
        (_, out, err) => resolve({ status: child.exitCode ?? -1, out, err }),
      );
    });
  }

  remove(): void {
    rmSync(this.path, { recursive: true, force: true });
  }
}
