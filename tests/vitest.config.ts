/**
 * The one test configuration: `npx vitest run --config tests/vitest.config.ts [filter]`, from any
 * folder. Two projects, so that the browser tests run one after another (each starts a whole server
 * and a browser) and after all the others. No retries: a test that fails sometimes is a fault.
 */
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

const root = fileURLToPath(new URL('..', import.meta.url));

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
          exclude: ['tests/browser/**', 'tests/check/canary/**', '**/node_modules/**'],
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
          fileParallelism: false,
          testTimeout: 120_000,
          hookTimeout: 120_000,
          sequence: { groupOrder: 1 },
        },
      },
    ],
  },
});
