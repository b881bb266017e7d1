/**
 * The one test configuration: `npx vitest run --config tests/vitest.config.ts [filter]`, from any
 * folder. The browser tests run one after another (each starts a whole server and a browser) and
 * after all the others. No retries: a test that fails sometimes is a fault.
 */
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

const at = (path: string): string => fileURLToPath(new URL(path, import.meta.url));
const root = at('..');

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
          testTimeout: 30_000,
          hookTimeout: 30_000,
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
          testTimeout: 30_000,
          hookTimeout: 30_000,
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
          // They wait more than they compute.
          maxWorkers: 2,
          testTimeout: 120_000,
          hookTimeout: 120_000,
          sequence: { groupOrder: 1 },
        },
      },
    ],
  },
});
