import { flushSync } from 'svelte';
import { expect, it } from 'vitest';

it('follows state, as in the page', () => {
  let count = $state(1);
  const seen: number[] = [];
  const stop = $effect.root(() => {
    $effect(() => {
      seen.push(count);
    });
  });
  flushSync();
  count = 2;
  flushSync();
  stop();
  expect(seen).toEqual([1, 2]);
});
