import { expect, it } from 'vitest';
import { snapshot } from '../server/session.ts';

it('passes', () => {
  expect(snapshot([])).toEqual({ totalW: null });
});
