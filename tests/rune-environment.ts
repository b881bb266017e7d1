/**
 * Where tests of modules with runes run: plain Node, but with the modules compiled and resolved as
 * for the page. On the server side of Svelte, effects do nothing and state is not followed.
 */
import type { Environment } from 'vitest/runtime';

const environment: Environment = {
  name: 'runes',
  viteEnvironment: 'client',
  setup: () => ({ teardown: () => undefined }),
};
export default environment;
