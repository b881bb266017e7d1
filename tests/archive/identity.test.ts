/** By what a site and a unit are known again, across vans: never one for two of different people. */
import { describe, expect, test } from 'vitest';
import { siteHash, unitHashes, type Whereabouts } from '../../server/archive/identity.ts';

const AT: Whereabouts = {
  ...{ van: 'a', site: 's1', title: 'Home', address: '12 Orchard Lane', customer: 'B. Alder' },
};
const OTHER_VAN = { van: 'b', site: 's9' };
const UNIT = { id: 'u1', name: 'Hall', model: 'Slim 35', serial: '' };
const same = (one: Whereabouts, other: Whereabouts): boolean =>
  siteHash(one).equals(siteHash(other));

describe('a site', () => {
  test.each([
    [{ address: '12, orchard  LANE.' }, true],
    [{ title: 'The Alders', customer: '' }, true],
    [{ address: '14 Orchard Lane' }, false],
  ])('of an address is known by it alone: %j', (said, known) => {
    expect(same(AT, { ...AT, ...OTHER_VAN, ...said })).toBe(known);
  });

  test.each([
    [{}, true],
    [{ customer: 'C. Birch' }, false],
    [{ customer: '' }, false],
    [{ title: '' }, false],
  ])('without one by title and customer together: %j', (said, known) => {
    const without = { ...AT, address: '' };
    expect(same(without, { ...without, ...OTHER_VAN, ...said })).toBe(known);
  });

  test('of which too little is said is that of its own record only', () => {
    const home = { ...AT, address: '', customer: '' };
    expect(same(home, { ...home })).toBe(true);
    expect(same(home, { ...home, ...OTHER_VAN })).toBe(false);
    expect(unitHashes(home, UNIT).byPlace).toBe(null);
  });
});

test.each(['n/a', 'N.A.', 'none', 'unknown', '000', 'XXX', '-', ' '])(
  'a serial number "%s" is none',
  (serial) => {
    expect(unitHashes(AT, { ...UNIT, serial }).bySerial).toBe(null);
  },
);

test('a serial number goes with its model, in any spelling', () => {
  const hash = (serial: string, model = 'Slim 35') =>
    unitHashes(AT, { ...UNIT, model, serial }).bySerial;
  expect(hash('SN-4711')).toEqual(hash('sn 4711'));
  expect(hash('SN-4711')).not.toEqual(hash('SN-4712'));
  expect(hash('SN-4711')).not.toEqual(hash('SN-4711', 'Slim 50'));
});
