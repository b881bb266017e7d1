import { expect, it } from 'vitest';

it('is never reached', () => {
  expect(1).toBe(1);
});
throw new Error('This file cannot be loaded.');
