/** Defrosts in a whole session: what is told of them, and that nothing of them is written down. */
import { describe, expect, test } from 'vitest';
import type { Line } from '../../adapters/contract.ts';
import type { EventMessage } from '../../server/protocol.ts';
import { setUp, T0, TestVisit } from './visit.ts';

const ROOM_C = 20;
const WARM_C = 42;
const OUT = 1500;
/** A step is held back for one reading: it might be a spike. */
const SEEN = OUT + 2;
const BACK = 1800;
const AFTER_S = 300;

/** Supply of a unit that defrosts from 1500 to 1800 s, and then warms up again. */
const defrosting =
  (meanwhileC: number) =>
  (s: number): number => {
    if (s < OUT) return WARM_C;
    return s < BACK ? meanwhileC : WARM_C - (WARM_C - meanwhileC) * Math.exp(-(s - BACK) / 40);
  };

interface Weather {
  outdoorC?: number | undefined;
  mode?: 'heating' | 'cooling';
  /** What is told, and when. */
  lines?: { s: number; line: Line }[];
}

class Visit extends TestVisit {
  constructor({ mode = 'heating' }: Weather) {
    super([...setUp({ mode }), { type: 'probe', id: 'o', place: 'outdoor' }]);
  }

  heat(toS: number, supplyC: (s: number) => number, { outdoorC, lines = [] }: Weather): this {
    for (let s = 0; s < toS; s++) {
      this.reading('r', s * 1000, { temperatureC: ROOM_C, humidityPct: 40 });
      this.reading('s', s * 1000 + 300, { temperatureC: supplyC(s), humidityPct: 40 });
      if (outdoorC !== undefined && s % 10 === 0) {
        this.reading('o', s * 1000 + 400, { temperatureC: outdoorC });
      }
      for (const { line } of lines.filter((l) => l.s === s)) expect(this.take(line)).toBeNull();
    }
    this.session.finish();
    return this;
  }

  defrosts(): [EventMessage['phase'], number, string][] {
    return this.events
      .filter(({ kind }) => kind === 'defrost')
      .map(({ phase, t, id }) => [phase, (t - T0) / 1000, id]);
  }

  at(s: number) {
    const unit = this.snapshots.find(({ t }) => t === T0 + s * 1000)?.units['u1'];
    if (unit === undefined) throw new Error(`no snapshot at ${s} s`);
    return unit;
  }

  steadyBetween(fromS: number, toS: number): number {
    return this.snapshots.filter(
      ({ t, units }) =>
        t >= T0 + fromS * 1000 && t < T0 + toS * 1000 && units['u1']?.settling.state === 'steady',
    ).length;
  }
}

const setpoint = (s: number): { s: number; line: Line } => ({
  s,
  line: { type: 'event', t: T0 + s * 1000 + 900, kind: 'setpoint', unit: 'u1', valueC: 24 },
});

const visitOf = (meanwhileC: number, weather: Weather, toS = 3000): Visit =>
  new Visit(weather).heat(toS, defrosting(meanwhileC), weather);

describe.each([
  { what: 'supply colder than the room', meanwhileC: 14, outdoorC: undefined, calledS: SEEN },
  { what: 'the same in frosty weather', meanwhileC: 14, outdoorC: -2, calledS: SEEN },
  { what: 'the fan off in frosty weather', meanwhileC: 20.2, outdoorC: 2, calledS: SEEN + 10 },
])('a defrost: $what', ({ meanwhileC, outdoorC, calledS }) => {
  const visit = visitOf(meanwhileC, { outdoorC });
  const [start, end, ...more] = visit.defrosts();
  const endS = end?.[1] ?? NaN;

  test('its beginning and its end are events of the unit', () => {
    expect(start).toEqual(['start', SEEN, 'd1']);
    expect(end).toEqual(['end', endS, 'd2']);
    expect(endS).toBeGreaterThan(BACK);
    expect(endS).toBeLessThan(BACK + 60);
    expect(more).toEqual([]);
  });

  test('it is shown while it goes on and five minutes after', () => {
    const from = T0 + SEEN * 1000;
    expect(visit.at(calledS - 1).settling.defrost).toBeNull();
    expect(visit.at(calledS + 3).settling.defrost).toEqual({ from, to: null });
    expect(visit.at(BACK).settling.defrost).toEqual({ from, to: null });
    expect(visit.at(endS + 1).settling.defrost).toEqual({ from, to: T0 + endS * 1000 });
    expect(visit.at(endS + AFTER_S - 1).settling.defrost).not.toBeNull();
    expect(visit.at(endS + AFTER_S + 1).settling.defrost).toBeNull();
  });

  test('meanwhile nothing is judged', () => {
    expect(visit.at(BACK - 20).settling).toMatchObject({
      ...{ state: 'settling', plateauW: null, steadyInS: null, cycle: null },
    });
  });

  test('a doubt says so, another one that it is just over', () => {
    const codes = (s: number): string[] => visit.at(s).doubts.map(({ code }) => code);
    expect(codes(OUT - 1)).not.toContain('defrost');
    expect(codes(BACK - 10)).toContain('defrost');
    expect(codes(BACK - 10)).not.toContain('after-defrost');
    expect(codes(endS + 10)).toContain('after-defrost');
    expect(codes(endS + 10)).not.toContain('defrost');
    expect(codes(endS + AFTER_S + 10)).not.toContain('after-defrost');
  });

  test('neither it nor the five minutes after are steady, or in a capture', () => {
    expect(visit.at(OUT - 1).settling.state).toBe('steady');
    expect(visit.steadyBetween(OUT + 12, endS + AFTER_S)).toBe(0);
    expect(visit.steadyBetween(endS + AFTER_S + 10, 3000)).toBeGreaterThan(700);
    const [before, after, ...rest] = visit.captures;
    expect(rest).toEqual([]);
    expect(before?.to).toBeLessThanOrEqual(T0 + OUT * 1000);
    expect(after?.from).toBeGreaterThanOrEqual(T0 + (endS + AFTER_S) * 1000);
    expect(after?.totalW).toBeCloseTo(before?.totalW ?? NaN, -1);
  });
});

test('the fan off in weather that nobody tells: found when it is over, with both events', () => {
  const visit = visitOf(20.2, {});
  const [start, end] = visit.defrosts();
  expect(start).toEqual(['start', SEEN, 'd1']);
  expect(end?.[1]).toBeGreaterThan(BACK);
  expect(visit.at(BACK - 10).settling.defrost).toBeNull();
  const endS = end?.[1] ?? NaN;
  expect(visit.at(endS).settling.defrost).toEqual({
    ...{ from: T0 + SEEN * 1000, to: T0 + endS * 1000 },
  });
  expect(visit.steadyBetween(OUT + 12, endS + AFTER_S)).toBe(0);
  for (const { from, to } of visit.captures) {
    expect(to < T0 + (OUT + 12) * 1000 || from >= T0 + (endS + AFTER_S) * 1000).toBe(true);
  }
});

test('that they come round does not make them cycles of the unit', () => {
  const every = (s: number): number => (s % 1500 >= 1200 ? 14 : WARM_C);
  const visit = new Visit({}).heat(12_100, every, {});
  expect(visit.defrosts()).toHaveLength(16);
  const states = visit.snapshots.map(({ units }) => units['u1']?.settling.state);
  expect(states).not.toContain('cycling');
  expect(visit.captures.map(({ state }) => state)).toEqual(Array(8).fill('steady'));
  expect(new Set(visit.captures.map(({ totalW }) => Math.round(totalW / 10))).size).toBe(1);
});

describe('no defrost', () => {
  test('in mild weather: a pause', () => {
    const visit = visitOf(20.2, { outdoorC: 11 });
    expect(visit.defrosts()).toEqual([]);
    const codes = visit.snapshots.flatMap(({ units }) => units['u1']?.doubts.map((d) => d.code));
    expect(codes).not.toContain('after-defrost');
  });

  test('in cooling, whatever the supply does', () => {
    const visit = new Visit({ mode: 'cooling' });
    visit.heat(2600, (s) => (s < OUT ? 8 : s < BACK ? 26 : 8), { outdoorC: 2 });
    expect(visit.defrosts()).toEqual([]);
    expect(visit.snapshots.every(({ units }) => units['u1']?.settling.defrost === null)).toBe(true);
  });

  test.each([1, 20, 60])('a unit that was turned down, and answers after %i s', (answersS) => {
    const less = (s: number): number => (s < OUT + answersS ? WARM_C : 24);
    const visit = new Visit({}).heat(2400, less, { outdoorC: 2, lines: [setpoint(OUT)] });
    expect(visit.defrosts()).toEqual([]);
    expect(visit.steadyBetween(2100, 2400)).toBe(300);
  });
});

test('a thermostat that pauses every few minutes does not defrost each time', () => {
  for (const periodS of [400, 900, 1800]) {
    const visit = new Visit({}).heat(
      10_000,
      (s) => (s % periodS < periodS / 2 ? WARM_C : 20.2),
      {},
    );
    expect(visit.defrosts(), `every ${periodS} s`).toEqual([]);
    expect(visit.at(9990).settling.state, `every ${periodS} s`).toBe('cycling');
  }
});

describe('something is told to the unit in between', () => {
  test('during the defrost: it goes on, and the minutes after it do not count', () => {
    const visit = visitOf(14, { outdoorC: -2, lines: [setpoint(OUT + 100)] });
    expect(visit.defrosts().map(([phase]) => phase)).toEqual(['start', 'end']);
    expect(visit.at(OUT + 200).doubts.map(({ code }) => code)).toContain('defrost');
    const endS = visit.defrosts()[1]?.[1] ?? NaN;
    expect(endS).toBeGreaterThan(BACK);
    expect(visit.steadyBetween(OUT + 12, endS + AFTER_S)).toBe(0);
    expect(visit.steadyBetween(endS + AFTER_S, 3000)).toBeGreaterThan(600);
  });

  test('in the five minutes after it: they are counted to their end', () => {
    const visit = visitOf(14, { outdoorC: -2, lines: [setpoint(BACK + 60)] });
    const endS = visit.defrosts()[1]?.[1] ?? NaN;
    expect(visit.at(BACK + 100).doubts.map(({ code }) => code)).toContain('after-defrost');
    expect(visit.steadyBetween(OUT + 12, endS + AFTER_S)).toBe(0);
    expect(visit.captures.at(-1)?.from).toBeGreaterThanOrEqual(T0 + (endS + AFTER_S) * 1000);
  });

  test('another mode ends it: a start has an end', () => {
    const cooling: Line = { type: 'visit', version: 1, mode: 'cooling' };
    const visit = visitOf(14, { outdoorC: -2, lines: [{ s: OUT + 100, line: cooling }] });
    expect(visit.defrosts().map(([phase]) => phase)).toEqual(['start', 'end']);
    expect(visit.at(OUT + 110).settling.defrost).toBeNull();
  });
});
