/**
 * The one test configuration: `npx vitest run --config tests/vitest.config.ts [filter]`, from any
 * folder. The browser tests run after all the others. No retries: a test that fails sometimes is a fault.
 */
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { availableParallelism } from 'node:os';
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

const at = (path: string): string => fileURLToPath(new URL(path, import.meta.url));
const root = at('..');
/** That a machine is busy is no fault of a test: this ends one that hangs. */
const LIMIT_MS = 120_000;
/** What a page shows soon it shows within this; vitest's own limit is a second. */
const POLL = { timeout: 15_000 };
/** Many tests wait for a server, a radio or a browser: the cores have more work at hand than files. */
const WORKERS = Math.max(3, availableParallelism());

export default defineConfig({
  root,
  test: {
    retry: 0,
    projects: [
      {
        root,
        test: {
          name: 'parts',
          environment: 'node',
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/browser/**', 'tests/check/canary/**', 'tests/**/*.svelte.test.ts'],
          testTimeout: LIMIT_MS,
          hookTimeout: LIMIT_MS,
          expect: { poll: POLL },
          maxWorkers: WORKERS,
          sequence: { groupOrder: 0 },
        },
      },
      {
        // Modules of the page that hold runes, without a page.
        root,
        plugins: [svelte({ configFile: at('../client/svelte.config.js') })],
        resolve: { conditions: ['browser'] },
        test: {
          name: 'runes',
          environment: at('./rune-environment.ts'),
          include: ['tests/**/*.svelte.test.ts'],
          exclude: ['tests/browser/**', 'tests/check/canary/**'],
          testTimeout: LIMIT_MS,
          hookTimeout: LIMIT_MS,
          expect: { poll: POLL },
          maxWorkers: WORKERS,
          sequence: { groupOrder: 0 },
        },
      },
      {
        root,
        test: {
          name: 'browser',
          environment: 'node',
          include: ['tests/browser/**/*.test.ts'],
          globalSetup: at('./browser/once.ts'),
          maxWorkers: 2,
          testTimeout: LIMIT_MS,
          hookTimeout: LIMIT_MS,
          expect: { poll: POLL },
          sequence: { groupOrder: 1 },
        },
      },
    ],
  },
});
