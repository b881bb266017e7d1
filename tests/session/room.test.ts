/** A visit takes so many units and probes, and those that are only told of take nobody's place. */
import { describe, expect, test } from 'vitest';
import { MOST_PROBES, MOST_UNITS } from '../../server/session/room.ts';
import { T0, TestVisit } from './visit.ts';

const heard = (visit: TestVisit, n: number): void => {
  for (let i = 0; i < n; i++) visit.reading(`h${i}`, 0, { temperatureC: 20 });
};
const told = (visit: TestVisit, n: number, prefix = 'told'): (string | null)[] =>
  Array.from({ length: n }, (_, i) => visit.take({ type: 'probe', id: `${prefix}${i}` }));

describe('units', () => {
  test('are refused beyond the most, however they are named; what is there goes on', () => {
    const visit = new TestVisit([]);
    for (let i = 0; i < MOST_UNITS; i++) {
      expect(visit.take({ type: 'unit', id: `u${i}` })).toBeNull();
    }
    const words = /^unit: "x" would be one too many: a visit has at most 64 units/;
    const airflow = { source: 'entered', flowM3s: 0.2, basis: 'actual', plane: 'supply' } as const;
    expect(visit.take({ type: 'unit', id: 'x' })).toMatch(words);
    expect(visit.take({ type: 'airflow', t: T0, unit: 'x', airflow })).toMatch(words);
    expect(visit.take({ type: 'event', t: T0, kind: 'fan', unit: 'x', speed: 'low' })).toMatch(
      words,
    );
    expect(visit.take({ type: 'probe', id: 'p', unit: 'x', place: 'return' })).toMatch(words);
    expect(visit.session.units.size).toBe(MOST_UNITS);
    expect(visit.take({ type: 'unit', id: 'u7', name: 'Study' })).toBeNull();
  });
});

describe('probes', () => {
  test('told of by the thousand: the oldest that hang nowhere give way', () => {
    const visit = new TestVisit();
    expect(told(visit, 10_100).every((why) => why === null)).toBe(true);
    expect(visit.session.probes.size).toBe(MOST_PROBES);
    // The two that are placed are still there, and the newest.
    for (const id of ['r', 's', 'told10099']) expect(visit.session.probes.has(id)).toBe(true);
    expect(visit.forgotten).toContain('told0');
  });

  test('told of by the thousand take no place of one that is heard', () => {
    const visit = new TestVisit([]);
    told(visit, 1000);
    heard(visit, MOST_PROBES);
    expect(visit.session.probes.has(`h${MOST_PROBES - 1}`)).toBe(true);
    expect(visit.session.probes.size).toBe(2 * MOST_PROBES);
    expect(visit.reading('one more', 0, { temperatureC: 20 })).toMatch(
      /^probe: "one more" would be one too many: a visit has at most 256 probes/,
    );
  });

  test('that are all placed give way to nobody: the next is refused in words', () => {
    const visit = new TestVisit([]);
    for (let i = 0; i < MOST_PROBES; i++) {
      visit.take({ type: 'probe', id: `p${i}`, unit: 'u1', place: 'return' });
    }
    const words = /^probe: "x" would be one too many: 256 probes are told of that have sent/;
    expect(visit.take({ type: 'probe', id: 'x' })).toMatch(words);
    const check = { type: 'event', t: T0, kind: 'check', phase: 'start' } as const;
    expect(visit.take({ ...check, probes: ['p1', 'x'] })).toMatch(words);
    expect(visit.session.probes.size).toBe(MOST_PROBES);
  });

  test('of which only a link is known are bounded, too', () => {
    const visit = new TestVisit();
    for (let i = 0; i < 5000; i++) {
      visit.session.link(`l${i}`, { state: 'connecting' }, { adapter: 'ble', simulated: false });
    }
    expect(visit.session.probes.size).toBeLessThanOrEqual(MOST_PROBES + 1);
    expect(visit.session.probes.has('r')).toBe(true);
  });
});
