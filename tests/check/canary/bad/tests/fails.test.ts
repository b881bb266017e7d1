import { expect, it } from 'vitest';

it('fails', () => {
  expect(1).toBe(2);
});
