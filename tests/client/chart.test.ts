import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { firstFree, placedLabels, type NamedEnd } from '../../client/chart/end-labels.ts';
import {
  flagsIn,
  flagText,
  rowsAbove,
  timeAt,
  xOf,
  type TimeAxis,
} from '../../client/chart/flags.ts';
import { aheadOf, type Forecast, forecastOf } from '../../client/chart/forecast.ts';
import { defrostSpans, markedSince, markedSpans, spansOf } from '../../client/chart/marks.ts';
import { lastMinutes } from '../../client/chart/minutes.ts';
import {
  marks,
  niceStep,
  powerBounds,
  stepFor,
  temperatureBounds,
} from '../../client/chart/ticks.ts';
import { Reach, viewOf } from '../../client/chart/view.ts';
import { History } from '../../client/live/history.ts';
import { toldEvents } from '../../client/words/events.ts';
import { scalesFor } from '../../client/words/scales.ts';
import type { Capture, EventMessage, SettlingSnapshot } from '../../server/protocol.ts';
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

  it('are round in kW and in Btu/h at every size, few enough, and hold the data', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(si.power, us.power),
        fc.integer({ min: 100, max: 20_000 }),
        fc.integer({ min: 1, max: 12 }),
        (scale, topW, count) => {
          const [low, high] = powerBounds(0, topW, scale);
          expect(high).toBeGreaterThan(topW);
          const step = stepFor(low, high, count, scale);
          expect([1, 2, 5]).toContain(Math.round(step / 10 ** Math.floor(Math.log10(step) + 1e-9)));
          const found = marks(low, high, step, scale);
          for (const w of found)
            expect(scale.show(w) / step).toBeCloseTo(Math.round(scale.show(w) / step), 6);
          expect(found.length).toBeLessThanOrEqual(count + 1);
        },
      ),
    );
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
  it('reaches ahead of what was measured, and not in a framed stretch', () => {
    const end = T0 + 64 * MIN;
    expect(viewOf(t, 'all', null, end)).toEqual([T0, end]);
    expect(viewOf(t, 10, null, end)).toEqual([T0 + 50 * MIN, end]);
    const held = { from: T0 + MIN, to: T0 + 2 * MIN };
    expect(viewOf(t, 10, held, end)).toEqual([held.from, held.to]);
    expect(viewOf(t, 'all', null, T0)).toEqual([T0, T0 + 60 * MIN]);
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
    expect(spansOf('steady', captures, 'u1', settling, T0 + 20 * MIN)).toEqual([
      { from: T0, to: T0 + 2 * MIN },
      { from: T0 + 10 * MIN, to: T0 + 20 * MIN },
    ]);
  });

  it('the present span has one beginning, where its mark begins', () => {
    const now = T0 + 20 * MIN;
    const { settling } = unitWith({ settling: { state: 'steady', since: T0 + 2 * MIN } });
    // Called steady again so soon that it counts from within the span before.
    const before = capture(T0, T0 + 2.5 * MIN);
    for (const captures of [[], [before], [capture(T0, T0 + MIN)]]) {
      const since = markedSince(captures, 'u1', settling, now);
      expect(since).toBe(captures[0] === before ? T0 : T0 + 2 * MIN);
      expect(markedSpans(captures, [], 'u1', settling, now).at(-1)?.from).toBe(since);
    }
    expect(markedSince([before], 'u1', unitWith().settling, now)).toBeNull();
  });

  it('one that was struck out was steady all the same', () => {
    const struck: Capture = { ...capture(T0, T0 + MIN), struck: { t: T0 + MIN } };
    expect(spansOf('steady', [struck], 'u1', null, null)).toEqual([{ from: T0, to: T0 + MIN }]);
    const { settling } = unitWith({ settling: { state: 'steady', since: T0 } });
    expect(spansOf('steady', [struck], 'u1', settling, T0 + 2 * MIN)).toEqual([
      { from: T0, to: T0 + 2 * MIN },
    ]);
  });

  it('cycling is not steady', () => {
    const cycling: Capture = { ...capture(T0, T0 + MIN), state: 'cycling' };
    expect(spansOf('steady', [cycling], 'u1', null, null)).toEqual([]);
    expect(spansOf('cycling', [cycling], 'u1', null, null)).toEqual([{ from: T0, to: T0 + MIN }]);
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
    expect(told.map(({ short }) => flagText(short))).toEqual([
      'set 68.0\u202f°F',
      'the filter was cleane…',
    ]);
  });

  it('a name stands before what happened, and alone on the flag', () => {
    const events = [
      eventWith({ kind: 'fan', speed: 'high', text: 'after lunch' }),
      eventWith({ t: T0 + 1, kind: 'check', phase: 'end', text: 'in the hall' }),
      eventWith({ t: T0 + 2, kind: 'fan', speed: 'low', text: '' }),
    ];
    const told = toldEvents(events, 'u1', { scales: us, flowM3s: null, probes: {} });
    expect(told.map(({ words, short, movable }) => [words, short, movable])).toEqual([
      ['after lunch (fan high)', 'after lunch', true],
      ['in the hall (check ends)', 'in the hall', false],
      ['fan low', 'fan low', true],
    ]);
  });

  it('defrosts: from their events, and the present one as far as it goes', () => {
    const defrost = (t: number, phase: 'start' | 'end', unit = 'u1'): EventMessage =>
      eventWith({ t, kind: 'defrost', phase, unit });
    const events = [
      defrost(T0, 'start'),
      defrost(T0 + 4 * MIN, 'end'),
      defrost(T0 + MIN, 'start', 'u2'),
      defrost(T0 + 40 * MIN, 'start'),
    ];
    const now = T0 + 42 * MIN;
    const { settling } = unitWith({ settling: { defrost: { from: T0 + 40 * MIN, to: null } } });
    const spans = [
      { from: T0, to: T0 + 4 * MIN },
      { from: T0 + 40 * MIN, to: now },
    ];
    expect(defrostSpans(events, 'u1', settling, now)).toEqual(spans);
    // One that was begun and is not going on any more is not drawn on and on.
    expect(defrostSpans(events, 'u1', null, now)).toEqual(spans.slice(0, 1));
    expect(markedSpans([], events, 'u1', settling, now)).toEqual([
      { kind: 'uncounted', from: T0, to: T0 + 9 * MIN },
      { kind: 'uncounted', from: T0 + 40 * MIN, to: now },
      ...spans.map((span) => ({ kind: 'defrost', ...span })),
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

  it('that the clock was set is told with every unit, and is not dated anew', () => {
    const events = [
      eventWith({ kind: 'clock', shiftMs: -3_600_000 }),
      eventWith({ kind: 'clock', shiftMs: 10_000, t: T0 + 1 }),
    ];
    const told = toldEvents(events, 'u1', { scales: us, flowM3s: null, probes: {} });
    expect(told.map(({ words }) => words)).toEqual([
      'clock set back by 1\u202fh',
      'clock set ahead by 10\u202fs',
    ]);
    expect(told.some(({ movable }) => movable)).toBe(false);
  });
});

describe('the axis ahead of now', () => {
  const heading = (steadyInS: number | null): SettlingSnapshot =>
    unitWith({ settling: { plateauW: 2600, steadyInS } }).settling;
  /** The ends of the axis over so many seconds. */
  function ends(reach: Reach, seconds: number, settling: (s: number) => SettlingSnapshot | null) {
    return Array.from({ length: seconds }, (_, s) => reach.end(T0 + 1000 * s, settling(s)));
  }

  it('goes in small steps to a little beyond the steady moment, and stays there', () => {
    const reach = new Reach();
    const at = ends(reach, 120, (s) => heading(240 - s));
    const steps = at.slice(1).map((end, i) => end - (at[i] ?? 0));
    expect((at[0] ?? 0) - T0).toBeLessThan(80_000);
    expect(Math.max(...steps)).toBeLessThan(80_000);
    expect(steps.every((step) => step >= 0)).toBe(true);
    expect(at[60]).toBe(at[119]);
    expect((at[119] ?? 0) - T0).toBeGreaterThan(240_000);
    expect((at[119] ?? 0) - T0).toBeLessThan(340_000);
  });

  it('does not flap with a forecast that wavers, or is missing for a moment', () => {
    const reach = new Reach();
    ends(reach, 60, () => heading(200));
    const at = Array.from({ length: 30 }, (_, s) =>
      reach.end(
        T0 + 60_000 + 1000 * s,
        s % 5 === 4 ? unitWith().settling : heading(200 + 20 * (s % 2)),
      ),
    );
    const turns = at.slice(1).map((end, i) => Math.sign(end - (at[i] ?? 0)));
    expect(turns.every((turn) => turn >= 0)).toBe(true);
  });

  it('is ten minutes at most, and comes back when it is steady', () => {
    const reach = new Reach();
    const at = ends(reach, 60, () => heading(3600));
    expect((at[59] ?? 0) - (T0 + 59_000)).toBeLessThanOrEqual(10 * MIN);
    const steady = unitWith({ settling: { state: 'steady', plateauW: 2600 } }).settling;
    let last = T0 + 60_000;
    for (let s = 0; s < 60; s++) reach.end((last += 1000), steady);
    expect(reach.end(last, steady)).toBe(last);
  });

  it('the same second asked twice is the same end; another visit begins anew', () => {
    const reach = new Reach();
    expect(reach.end(T0, heading(200))).toBe(reach.end(T0, heading(500)));
    expect(reach.end(T0 - 10 * MIN, null)).toBe(T0 - 10 * MIN);
  });
});

describe('the forecast', () => {
  const settling = { plateauW: 2600, plateauU95W: 200, approachS: 100, levelW: 1600 };
  function forecast(of: SettlingSnapshot): Forecast {
    const found = forecastOf(of, null, T0);
    if (found === null) throw new Error('there is none');
    return found;
  }

  it('starts at the level, and has gone 1 − 1/e of the way after one time constant', () => {
    const there = forecast(unitWith({ settling }).settling);
    const points = aheadOf(there, T0 + 100_000);
    expect(points[0]).toEqual({ t: T0, valueW: 1600, lowW: 1600, highW: 1600 });
    const end = points.at(-1);
    expect(end?.t).toBe(T0 + 100_000);
    expect(end?.valueW).toBeCloseTo(2600 - 1000 / Math.E, 6);
    expect((end?.highW ?? 0) - (end?.valueW ?? 0)).toBeCloseTo(200 * (1 - 1 / Math.E), 6);
    expect(aheadOf(there, T0)).toEqual([]);
  });

  it('without a way there it is a level with the whole interval', () => {
    const level = unitWith({ settling: { ...settling, approachS: null } }).settling;
    const points = aheadOf(forecast(level), T0 + MIN);
    expect(new Set(points.map(({ valueW }) => valueW))).toEqual(new Set([2600]));
    expect(points[0]?.lowW).toBe(2400);
  });

  it('is of a unit that is settling, and not defrosting', () => {
    const of = (change: object): unknown =>
      forecastOf(unitWith({ settling: { ...settling, ...change } }).settling, null, T0);
    expect(of({ state: 'steady' })).toBeNull();
    expect(of({ plateauW: null })).toBeNull();
    expect(of({ defrost: { from: T0, to: null } })).toBeNull();
    expect(of({ levelW: null })).toBeNull();
    expect(of({})).not.toBeNull();
  });
});

describe('the names at the ends of the lines', () => {
  const end = (text: string, series: number, value: number, y: number, x = 500): NamedEnd => ({
    ...{ text, series, value, x, y },
    ...(text === 'sensible' ? { sameAs: 3 } : {}),
  });

  it('are pushed apart where they would touch', () => {
    const ends = [
      end('total', 3, 2600, 100),
      end('sensible', 4, 2500, 104),
      end('latent', 5, 100, 300),
    ];
    expect(placedLabels(ends, 18)).toEqual([
      { lines: ['total'], x: 500, y: 100 },
      { lines: ['sensible'], x: 500, y: 118 },
      { lines: ['latent'], x: 500, y: 300 },
    ]);
  });

  it('of a dry coil are one, at the further end, and take two lines', () => {
    const ends = [
      end('total', 3, 2600, 100, 560),
      end('sensible', 4, 2600, 102),
      end('latent', 5, 0, 110),
    ];
    expect(placedLabels(ends, 18)).toEqual([
      { lines: ['total =', 'sensible'], x: 560, y: 91 },
      { lines: ['latent'], x: 500, y: 127 },
    ]);
  });

  it('stay in the room there is, never touch, and those named last give way', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: -50, max: 250 }), { minLength: 1, maxLength: 3 }),
        fc.integer({ min: 0, max: 200 }),
        (ys, high) => {
          const ends = ys.map((y, i) =>
            end(['total', 'sensible', 'latent'][i] ?? '', 3 + i, 1000 * i, y),
          );
          const placed = placedLabels(ends, 18, 100 - high / 2, 100 + high / 2);
          expect(placed).toHaveLength(Math.min(ys.length, Math.floor(high / 18)));
          if (placed.length > 0) expect(placed.flatMap(({ lines }) => lines)).toContain('total');
          for (const [i, { y }] of placed.entries()) {
            expect(y - 9).toBeGreaterThanOrEqual(100 - high / 2 - 1e-9);
            expect(y + 9).toBeLessThanOrEqual(100 + high / 2 + 1e-9);
            if (i > 0) expect(y - (placed[i - 1]?.y ?? 0)).toBeGreaterThanOrEqual(18 - 1e-9);
          }
        },
      ),
    );
  });

  it('words take the first place that is free, and none where there is none', () => {
    const box = (left: number, top: number) => ({ left, right: left + 50, top, bottom: top + 10 });
    const room = { left: 0, right: 100, top: 0, bottom: 100 };
    const places = [box(60, 10), box(40, 20), box(40, 60)];
    expect(firstFree(places, room, [box(40, 25)])).toBe(places[2]);
    expect(firstFree(places, room, [box(40, 25), box(10, 55)])).toBeNull();
  });

  it('are two where the forecast of the total ends elsewhere', () => {
    const ends = [end('total', 3, 1500, 40, 560), end('sensible', 4, 1500, 150)];
    expect(placedLabels(ends, 18).map(({ lines }) => lines)).toEqual([['total'], ['sensible']]);
  });
});

describe('flags', () => {
  /** Ten minutes over 600 px, from 50 px on: a second is a pixel. */
  const axis: TimeAxis = { left: 50, width: 600, min: T0, max: T0 + 10 * MIN };
  const told = (ts: number[], kind: EventMessage['kind'] = 'note') =>
    toldEvents(
      ts.map((s, i) => eventWith({ id: `e${i + 1}`, t: T0 + 1000 * s, kind, text: 'filter' })),
      'u1',
      { scales: si, flowM3s: null, probes: {} },
    );
  /** Eight pixels a letter, and the padding. */
  const widthOf = (text: string): number => 8 * text.length + 16;
  const rows = (flags: ReturnType<typeof flagsIn>): [string, number][] =>
    flags.map(({ event, row }) => [event.id, row]);

  it('places and times are each other turned round, to the whole second', () => {
    expect(xOf(T0 + 100_000, axis)).toBe(150);
    expect(timeAt(150.3, axis)).toBe(T0 + 100_000);
  });

  it('stand in the first row with room; without room there is only a pole', () => {
    expect(rows(flagsIn(told([10, 20, 30, 200, 700]), axis, widthOf))).toEqual([
      ['e1', 0],
      ['e4', 0],
      ['e2', 1],
    ]);
  });

  it('a setpoint or a fan speed does not lose its flag to a note before it', () => {
    const notes = [10, 12, 14].map((s, i) => eventWith({ id: `n${i}`, t: T0 + 1000 * s }));
    const fan = eventWith({ id: 'fan', t: T0 + 20_000, kind: 'fan', speed: 'high' });
    const set = eventWith({ id: 'set', t: T0 + 30_000, kind: 'setpoint', valueC: 18 });
    const all = toldEvents([...notes, fan, set], 'u1', { scales: si, flowM3s: null, probes: {} });
    expect(rows(flagsIn(all, axis, widthOf))).toEqual([
      ['fan', 0],
      ['set', 1],
    ]);
    // A note stands in front of them where it has room there.
    const early = eventWith({ id: 'n9', t: T0 + 100_000, text: 'ok' });
    const late = eventWith({ id: 'late', t: T0 + 160_000, kind: 'fan', speed: 'low' });
    const two = toldEvents([early, late], 'u1', { scales: si, flowM3s: null, probes: {} });
    expect(rows(flagsIn(two, axis, widthOf))).toEqual([
      ['late', 0],
      ['n9', 0],
    ]);
  });

  it('while one is moved the others keep their rows, and it is always there', () => {
    const events = told([10, 20, 30, 200]);
    const before = new Map(rows(flagsIn(events, axis, widthOf)));
    expect([...before]).toEqual([
      ['e1', 0],
      ['e4', 0],
      ['e2', 1],
    ]);
    const move = (id: string, s: number): ReturnType<typeof flagsIn> => {
      const moved = events.map((e) => (e.id === id ? { ...e, t: T0 + 1000 * s } : e));
      return flagsIn(moved, axis, widthOf, { id, rows: before, text: '12:00:10' });
    };
    // Without them e2 would come to the first row, and e3 to the second.
    expect(new Map(rows(move('e1', 400)))).toEqual(before);
    expect(new Map(rows(move('e4', 15)))).toEqual(before);
    const [held] = move('e1', 400).filter(({ event }) => event.id === 'e1');
    expect(held).toMatchObject({ text: '12:00:10', x: 450, width: 80 });
    // One that had no room is moved in the first row.
    expect(rows(move('e3', 30))).toContainEqual(['e3', 0]);
  });

  it('are wide enough for a finger, and fly to the left at the right end', () => {
    const [flag] = flagsIn(told([595]), axis, widthOf);
    expect(flag?.isFlipped).toBe(true);
    expect((flag?.left ?? 0) + (flag?.width ?? 0)).toBe(645);
    const short = toldEvents([eventWith({ text: 'a' })], 'u1', {
      scales: si,
      flowM3s: null,
      probes: {},
    });
    expect(flagsIn(short, axis, widthOf)[0]?.width).toBe(46);
  });

  it('are left out of a chart that has no height to give; poles stay', () => {
    const events = told([60]);
    expect(rowsAbove(140)).toBe(0);
    expect(flagsIn(events, axis, () => 100, null, 0)).toEqual([]);
    expect([150, 289, 290].map(rowsAbove)).toEqual([1, 1, 2]);
  });

  it('leave free what is taken of their rows at the right end', () => {
    const [early, late] = flagsIn(told([400, 540]), axis, () => 100, null, 2, 48);
    expect(early).toMatchObject({ left: 450, isFlipped: false });
    expect(late).toMatchObject({ left: 490, isFlipped: true });
    // Its pole itself lies there: it has only that.
    expect(flagsIn(told([580]), axis, () => 100, null, 2, 48)).toEqual([]);
  });

  it('one too long for both sides of its pole has only that', () => {
    const narrow: TimeAxis = { ...axis, width: 80 };
    expect(flagsIn(told([300]), narrow, () => 100)).toEqual([]);
  });

  it('a defrost has none: it is marked over its time', () => {
    expect(flagsIn(told([10], 'defrost'), axis, widthOf)).toEqual([]);
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
