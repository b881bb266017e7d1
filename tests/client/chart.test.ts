import { describe, expect, it } from 'vitest';
import { flagsFor, steadySpans } from '../../client/chart/marks.ts';
import { lastMinutes } from '../../client/chart/minutes.ts';
import {
  marks,
  niceStep,
  powerBounds,
  stepFor,
  temperatureBounds,
} from '../../client/chart/ticks.ts';
import { viewOf } from '../../client/chart/view.ts';
import { History } from '../../client/live/history.ts';
import { toldEvents } from '../../client/words/events.ts';
import { scalesFor } from '../../client/words/scales.ts';
import type { Capture, EventMessage } from '../../server/protocol.ts';
import { captureWith, eventWith, snapshotAt, T0, unitWith } from './fixtures.ts';

const si = scalesFor({ temperature: 'C', flow: 'm3h', power: 'kW' });
const us = scalesFor({ temperature: 'F', flow: 'cfm', power: 'Btuh' });
const MIN = 60_000;

describe('axes', () => {
  it('steps are 1, 2 or 5 of a power of ten', () => {
    expect([0.3, 1, 1.2, 2.1, 5.5, 40].map(niceStep)).toEqual([0.5, 1, 2, 5, 10, 50]);
  });

  it('marks are round in the shown unit', () => {
    const step = stepFor(0, 3000, 5, us.power);
    expect(step).toBe(5000);
    const shown = marks(0, 3000, step, us.power).map(us.power.show);
    expect(shown.map(Math.round)).toEqual([0, 5000, 10_000]);
    const fahrenheit = marks(10, 30, 10, us.temperature).map(us.temperature.show);
    expect(fahrenheit.map(Math.round)).toEqual([50, 60, 70, 80]);
  });

  it('power starts at nought, and holds what is below it', () => {
    expect(powerBounds(500, 2700, si.power)).toEqual([0, 3000]);
    expect(powerBounds(-600, 100, si.power)[0]).toBeLessThan(-600);
    expect(powerBounds(null, null, si.power)[1]).toBeGreaterThan(0);
  });

  it('temperatures have a little air around them', () => {
    const [low, high] = temperatureBounds(14, 26, si.temperature);
    expect(low).toBeLessThan(14);
    expect(high).toBeGreaterThan(26);
    expect(temperatureBounds(20, 20, si.temperature)).toEqual([18, 22]);
  });
});

describe('the stretch of time shown', () => {
  const t = [T0, T0 + 60 * MIN];
  it('follows, or stays where it was framed', () => {
    expect(viewOf(t, 'all', null)).toEqual([T0, T0 + 60 * MIN]);
    expect(viewOf(t, 10, null)).toEqual([T0 + 50 * MIN, T0 + 60 * MIN]);
    const held = { from: T0 + MIN, to: T0 + 2 * MIN };
    expect(viewOf(t, 10, held)).toEqual([held.from, held.to]);
    expect(viewOf([], 'all', null)).toBeNull();
  });
});

describe('marks on the chart', () => {
  const capture = (from: number, to: number, unit = 'u1'): Capture =>
    captureWith({ from, to, unit });

  it('steady spans: the captured ones and the present one, joined where they overlap', () => {
    const { settling } = unitWith({ settling: { state: 'steady', since: T0 + 10 * MIN } });
    const captures = [
      capture(T0 + 11 * MIN, T0 + 14 * MIN),
      capture(T0, T0 + 2 * MIN),
      capture(T0, T0 + 60 * MIN, 'u2'),
    ];
    expect(steadySpans(captures, 'u1', settling, T0 + 20 * MIN)).toEqual([
      { from: T0, to: T0 + 2 * MIN },
      { from: T0 + 10 * MIN, to: T0 + 20 * MIN },
    ]);
  });

  it('cycling is not steady', () => {
    const cycling: Capture = { ...capture(T0, T0 + MIN), state: 'cycling' };
    expect(steadySpans([cycling], 'u1', null, null)).toEqual([]);
  });

  it('flags are of the unit or of the visit, in the chosen units, and short', () => {
    const events = [
      eventWith({ t: T0 + 2, text: 'the filter was cleaned and put back' }),
      eventWith({ t: T0 + 1, kind: 'setpoint', unit: 'u1', valueC: 20 }),
      eventWith({ kind: 'fan', unit: 'u2', speed: 'low' }),
    ];
    const told = toldEvents(events, 'u1', { scales: us, flowM3s: null, probes: {} });
    expect(told.map(({ words }) => words)).toEqual([
      'set 68.0\u202f°F',
      'the filter was cleaned and put back',
    ]);
    expect(flagsFor(told)).toEqual([
      { t: T0 + 1, text: 'set 68.0\u202f°F' },
      { t: T0 + 2, text: 'the filter was cleane…' },
    ]);
  });

  it('a check is of the units of its probes; only the last airflow is known', () => {
    const flow = { kind: 'airflow', unit: 'u1' } as const;
    const events: EventMessage[] = [
      eventWith({ kind: 'check', phase: 'start', probes: ['a', 'b'] }),
      eventWith({ kind: 'check', phase: 'end', t: T0 + 1, probes: ['c'] }),
      eventWith({ ...flow, t: T0 + 2 }),
      eventWith({ ...flow, t: T0 + 3 }),
    ];
    const probes = { a: { unit: 'u1' }, b: { unit: 'u2' }, c: { unit: 'u2' } };
    const wordsFor = (unit: string): string[] =>
      toldEvents(events, unit, { scales: us, flowM3s: 0.151, probes }).map(({ words }) => words);
    // 0.151 m³/s × 60 ÷ 0.3048³ m³/ft³ = 319.95 cfm
    expect(wordsFor('u1')).toEqual(['check begins', 'airflow', 'airflow 320\u202fcfm']);
    expect(wordsFor('u2')).toEqual(['check begins', 'check ends']);
  });
});

describe('the table of the last minutes', () => {
  it('has the figure at each whole minute, and leaves out the minutes without one', () => {
    const history = new History();
    for (let s = 0; s <= 60; s++) history.addSnapshot(snapshotAt(T0 + s * 1000, s));
    for (let s = 300; s <= 365; s++) history.addSnapshot(snapshotAt(T0 + s * 1000, s));
    const rows = lastMinutes(history, 'u1', T0 + 365_000, 10);
    expect(rows.every(({ totalU95W }) => totalU95W === 110)).toBe(true);
    expect(rows.map((row) => [(row.t - T0) / MIN, row.totalW])).toEqual([
      [6, 360],
      [5, 300],
      [1, 60],
      [0, 0],
    ]);
  });
});
