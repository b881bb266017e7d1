/** The strict test in a whole session: half an hour of still air before anything is steady. */
import { describe, expect, test } from 'vitest';
import { setUp, T0, TestVisit } from './visit.ts';

const STRICT = { type: 'visit', version: 1, steadyTest: 'strict' } as const;
const FIELD = { ...STRICT, steadyTest: 'field' } as const;

function strictVisit(): TestVisit {
  return new TestVisit([...setUp(), STRICT]);
}

/** The seconds in which it was steady. */
function steady({ snapshots }: TestVisit): number[] {
  return snapshots.flatMap(({ t, units }) =>
    units['u1']?.settling.state === 'steady' ? [(t - T0) / 1000] : [],
  );
}

/** Cold and still from the beginning, or once the unit has been pulled down. */
const pulledDown = (s: number): number => 12 + 10 * Math.exp(-s / 60);

describe('still air', () => {
  test('is steady after half an hour, and the span is that half hour', () => {
    const visit = strictVisit();
    visit.run(0, 2400);
    const [first] = steady(visit);
    expect(first).toBeGreaterThanOrEqual(1790);
    expect(first).toBeLessThan(1830);
    expect(visit.unit().settling.since).toBeLessThan(T0 + 40_000);
    visit.session.finish();
    expect(visit.captures).toHaveLength(1);
    const [capture] = visit.captures;
    expect(capture?.from).toBeLessThan(T0 + 40_000);
    expect(capture?.to).toBeGreaterThan(T0 + 2_390_000);
    expect(capture?.totalW).toBeCloseTo(visit.unit().capacity.totalW ?? NaN, 3);
  });

  test('by the field test it is so within minutes', () => {
    const visit = new TestVisit();
    visit.run(0, 300);
    expect(steady(visit)[0]).toBeLessThan(180);
  });

  test('how long it will take is told', () => {
    const visit = strictVisit();
    visit.run(0, 800);
    const { state, steadyInS } = visit.unit().settling;
    expect(state).toBe('settling');
    expect(Math.abs((steadyInS ?? NaN) - 1000)).toBeLessThan(15);
  });

  test('what was before it does not count', () => {
    const visit = strictVisit();
    visit.run(0, 3600, pulledDown);
    // The range of the last half hour is within 1.1 K from 130 s on, and the means of its halves
    // within 0.28 K soon after that.
    expect(steady(visit)[0]).toBeGreaterThan(1900);
    expect(steady(visit)[0]).toBeLessThan(2150);
    expect(visit.captures[0]?.from).toBeGreaterThan(T0 + 100_000);
  });
});

describe('air that is not that still', () => {
  test('a room that goes up and down by 1.3 K, and the supply with it', () => {
    const visit = strictVisit();
    const field = new TestVisit();
    for (const each of [visit, field]) {
      for (let s = 0; s < 3600; s++) {
        const offC = 0.65 * Math.sin((2 * Math.PI * s) / 600);
        each.reading('r', s * 1000, { temperatureC: 26.7 + offC, dewPointC: 16 });
        each.reading('s', s * 1000 + 300, { temperatureC: 12 + offC, dewPointC: 11 });
      }
    }
    // The capacity does not move.
    expect(steady(field).length).toBeGreaterThan(3000);
    expect(steady(visit)).toEqual([]);
    visit.session.finish();
    expect(visit.captures).toEqual([]);
  });

  test('nobody can say when it will be: no time is told', () => {
    const visit = strictVisit();
    // The means of the halves differ by 0.36 K.
    visit.run(0, 2700, (s) => 12 + s / 2500);
    const { state, steadyInS } = visit.unit().settling;
    expect([state, steadyInS]).toEqual(['settling', null]);
  });
});

describe('changes', () => {
  test('a setpoint begins it anew', () => {
    const visit = strictVisit();
    visit.run(0, 2400);
    visit.take({ type: 'event', t: T0 + 2_400_000, kind: 'setpoint', unit: 'u1', valueC: 20 });
    visit.run(2401, 4800);
    const after = steady(visit).filter((s) => s > 2401);
    expect(after[0]).toBeGreaterThanOrEqual(2400 + 1790);
    expect(after[0]).toBeLessThan(2400 + 1850);
    const [before, second] = visit.captures;
    expect(before?.to).toBeLessThanOrEqual(T0 + 2_400_000);
    expect(second?.from).toBeGreaterThanOrEqual(T0 + 2_400_000);
    expect(second?.before).toMatchObject({ from: before?.from, event: { kind: 'setpoint' } });
  });

  test('a probe that is silent for a moment does not', () => {
    const visit = strictVisit();
    visit.run(0, 900);
    // Stale after ten seconds, so it has no figure for half a minute.
    for (let s = 900; s < 940; s++) {
      visit.reading('r', s * 1000, { temperatureC: 26.7, humidityPct: 51 });
    }
    visit.run(940, 2400);
    expect(steady(visit)[0]).toBeLessThan(1830);
  });

  test('asked for while it is steady by the field test: it has to wait; given up: at once', () => {
    const visit = new TestVisit();
    visit.run(0, 600);
    expect(visit.unit().settling.state).toBe('steady');
    visit.take(STRICT);
    visit.run(600, 700);
    expect(visit.unit().settling.state).toBe('settling');
    visit.take(FIELD);
    visit.run(700, 710);
    expect(visit.unit().settling.state).toBe('steady');
  });
});

test('in heating without any humidity dry bulbs are enough', () => {
  const visit = new TestVisit([...setUp({ mode: 'heating' }), STRICT]);
  for (let s = 0; s < 2000; s++) {
    visit.reading('r', s * 1000, { temperatureC: 20 });
    visit.reading('s', s * 1000 + 300, { temperatureC: 42 });
  }
  expect(steady(visit)[0]).toBeLessThan(1830);
});
