import { expect, test } from 'vitest';
import { sourceName } from '../../client/words/sources.ts';
import { freeUnitId, freeUnitName } from '../../client/words/units.ts';

test('a new unit is told from those that nobody has named yet', () => {
  expect(freeUnitName([])).toBe('Indoor unit');
  expect(freeUnitName(['Study'])).toBe('Indoor unit');
  expect(freeUnitName(['Indoor unit', 'Study'])).toBe('Indoor unit 2');
  expect(freeUnitName(['Indoor unit 2', 'Indoor unit'])).toBe('Indoor unit 3');
  expect(freeUnitId(['u2'])).toBe('u3');
});

test('a source is called by its way, one of others by its own name', () => {
  expect(['ble', 'push', 'serial-bus'].map(sourceName)).toEqual([
    'Bluetooth',
    'HTTP',
    'serial-bus',
  ]);
});
