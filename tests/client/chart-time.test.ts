/** The time axis of the chart: where its marks stand, and what pointers and keys do to it. */
import fc from 'fast-check';
import { afterEach, describe, expect, it } from 'vitest';
import { keyed, type TimeHost } from '../../client/chart/time-keys.ts';
import { roomyLabels, timeLabels, timeMarks, timeStep } from '../../client/chart/time-marks.ts';
import {
  CLOSEST_MS,
  moved,
  nearestRow,
  shownAs,
  stretched,
  viewOf,
} from '../../client/chart/view.ts';
import { runs } from '../long.ts';

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;
const before = process.env['TZ'];
afterEach(() => {
  if (before === undefined) delete process.env['TZ'];
  else process.env['TZ'] = before;
});

const ZONES = [
  'UTC',
  'America/New_York',
  'America/St_Johns',
  'Asia/Kathmandu',
  'Australia/Lord_Howe',
];
/** What a wall clock shows, counted from its midnight, ms. */
const sinceMidnight = (t: number): number => {
  const at = new Date(t);
  return (
    at.getHours() * HOUR + at.getMinutes() * MINUTE + at.getSeconds() * 1000 + at.getMilliseconds()
  );
};

/** A letter of the page's typeface is at most so wide and labels so high, CSS pixels. */
const EM = 14;
const LETTER = 0.6 * EM;
/** The marks as the axis makes them: with a finger's breadth for each. */
const marksOn = (widthPx: number, min: number, span: number) => {
  const step = timeStep(span, widthPx / (3.5 * EM));
  const marks = timeMarks(min, min + span, step);
  return { step, marks, xs: marks.map((t) => (widthPx * (t - min)) / span) };
};

/** Times near which a clock is set in one of the zones: 2026, by the zones' rules of the tz database. */
const NEAR_A_CHANGE = [
  Date.UTC(2026, 2, 8, 7),
  Date.UTC(2026, 10, 1, 6),
  Date.UTC(2026, 3, 4, 15),
  Date.UTC(2026, 9, 3, 15, 30),
];

describe('the marks of the time axis', () => {
  it('are round on the wall clock, in order, in view, and no more than fit', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...ZONES),
        fc.oneof(
          fc.integer({ min: Date.UTC(2024, 0, 1), max: Date.UTC(2028, 0, 1) }),
          fc
            .tuple(fc.constantFrom(...NEAR_A_CHANGE), fc.integer({ min: -2 * DAY, max: HOUR }))
            .map(([at, before]) => at + before),
        ),
        fc.oneof(
          fc.integer({ min: 10_000, max: 20 * DAY }),
          fc.integer({ min: 10_000, max: 6 * HOUR }),
        ),
        fc.integer({ min: 250, max: 1400 }),
        (zone, min, span, width) => {
          process.env['TZ'] = zone;
          const { step, marks } = marksOn(width, min, span);
          for (const [i, t] of marks.entries()) {
            expect(t).toBeGreaterThanOrEqual(min);
            expect(t).toBeLessThanOrEqual(min + span);
            if (i > 0) expect(t).toBeGreaterThan(marks[i - 1] ?? 0);
            expect(sinceMidnight(t) % Math.min(step, DAY)).toBe(0);
          }
          // A day on which the clock is put back holds some more.
          expect(marks.length).toBeLessThanOrEqual(width / (3.5 * EM) + 1 + Math.ceil(HOUR / step));
        },
      ),
      { numRuns: runs(600) },
    );
  });

  it('leave out no time that is round', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...ZONES),
        fc.constantFrom(...NEAR_A_CHANGE),
        fc.integer({ min: -3 * HOUR, max: HOUR }),
        fc.constantFrom(5, 15, 30, 60, 120),
        (zone, at, before, minutes) => {
          process.env['TZ'] = zone;
          const min = at + before;
          const round: number[] = [];
          for (let t = Math.ceil(min / MINUTE) * MINUTE; t <= min + 6 * HOUR; t += MINUTE)
            if (sinceMidnight(t) % (minutes * MINUTE) === 0) round.push(t);
          expect(timeMarks(min, min + 6 * HOUR, minutes * MINUTE)).toEqual(round);
        },
      ),
    );
  });

  it('are at least three on 300 px, at every span from 10 s to two weeks', () => {
    process.env['TZ'] = 'America/New_York';
    const from = Date.UTC(2026, 4, 4, 12, 3, 21);
    for (let span = 10_000; span < 14 * DAY; span = Math.round(span * 1.03)) {
      const { marks } = marksOn(300, from, span);
      expect(marks.length, `${span / 1000} s`).toBeGreaterThanOrEqual(3);
      expect(marks.length, `${span / 1000} s`).toBeLessThanOrEqual(8);
    }
  });

  it('stand on whole and half hours over an evening', () => {
    process.env['TZ'] = 'America/New_York';
    const from = new Date(2026, 4, 4, 23, 29, 10).getTime();
    const { marks } = marksOn(300, from, 2.5 * HOUR);
    expect(marks.map(sinceMidnight)).toEqual([23.5, 0, 0.5, 1, 1.5].map((h) => h * HOUR));
  });

  it('keep to the wall clock over the nights in which it is set', () => {
    process.env['TZ'] = 'America/New_York';
    const hours = (from: Date, step: number): number[] =>
      timeMarks(from.getTime(), from.getTime() + 9 * HOUR, step).map((t) => new Date(t).getHours());
    // US daylight saving ends on November 1, 2026 (Energy Policy Act of 2005): 1:00 comes twice …
    expect(hours(new Date(2026, 9, 31, 22, 0), HOUR)).toEqual([22, 23, 0, 1, 1, 2, 3, 4, 5, 6]);
    expect(hours(new Date(2026, 9, 31, 22, 0), 2 * HOUR)).toEqual([22, 0, 2, 4, 6]);
    // … and begins on March 8: there is no 2:00.
    expect(hours(new Date(2026, 2, 7, 22, 0), 2 * HOUR)).toEqual([22, 0, 4, 6, 8]);
  });

  it('are written as they are read: what stays the same is written once', () => {
    const t = new Date(2026, 4, 4, 14, 2, 40).getTime();
    expect(timeLabels([t, t + 10_000, t + 20_000, t + 30_000], 10_000)).toEqual([
      ...['14:02:40', ':50', '14:03', ':10'],
    ]);
    expect(timeLabels([t - 40_000], 30 * MINUTE)).toEqual(['14:02']);
    expect(timeLabels([t], DAY)).toEqual(['May 4']);
  });

  it('give way where a label would leave the drawing or touch another', () => {
    expect(roomyLabels(['00:00', '03:00', '06:00'], [10, 100, 130], 400, EM)).toEqual([
      ...['', '03:00', ''],
    ]);
    fc.assert(
      fc.property(
        fc.integer({ min: 10_000, max: 5 * DAY }),
        fc.integer({ min: 60, max: 900 }),
        (span, width) => {
          process.env['TZ'] = 'America/New_York';
          const { marks, step, xs } = marksOn(width, Date.UTC(2026, 2, 7, 21, 3, 21), span);
          let end = 0;
          for (const [i, label] of roomyLabels(timeLabels(marks, step), xs, width, EM).entries()) {
            if (label === '') continue;
            const half = (label.length * LETTER) / 2;
            expect((xs[i] ?? 0) - half).toBeGreaterThanOrEqual(end);
            end = (xs[i] ?? 0) + half;
          }
          expect(end).toBeLessThanOrEqual(width);
        },
      ),
    );
  });
});

describe('what is shown of the time', () => {
  const whole = { from: 0, to: 8 * HOUR };

  it('stays within the visit, and is no narrower than can be read', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -DAY, max: 2 * DAY }),
        fc.integer({ min: 0, max: 2 * DAY }),
        (from, span) => {
          const { span: window, held } = shownAs({ from, to: from + span }, whole);
          if (held === null) return;
          expect(window).toBe('all');
          expect(held.from).toBeGreaterThanOrEqual(whole.from);
          expect(held.to).toBeLessThanOrEqual(whole.to);
          expect(held.to - held.from).toBeGreaterThanOrEqual(CLOSEST_MS - 1);
        },
      ),
    );
  });

  it('goes on with the time at its end, and is all of it where all is in view', () => {
    expect(shownAs({ from: 7 * HOUR, to: 9 * HOUR }, whole)).toEqual({ span: 120, held: null });
    expect(shownAs({ from: -HOUR, to: 9 * HOUR }, whole)).toEqual({ span: 'all', held: null });
    const rows = Array.from({ length: 8 * 60 + 1 }, (_, i) => i * MINUTE);
    expect(viewOf(rows, 120, null)).toEqual([6 * HOUR, 8 * HOUR]);
  });

  it('at the end it is as long as it was asked for, also where a forecast is drawn ahead of now', () => {
    const last = 8 * HOUR - 5 * MINUTE;
    const rows = Array.from({ length: last / MINUTE + 1 }, (_, i) => i * MINUTE);
    const { span, held } = shownAs({ from: 7 * HOUR, to: 8 * HOUR }, whole, last);
    expect(viewOf(rows, span, held, whole.to)).toEqual([7 * HOUR, 8 * HOUR]);
    // What lies ahead of now alone can be looked at, and stays.
    const ahead = { from: last + MINUTE, to: 8 * HOUR };
    expect(shownAs(ahead, whole, last)).toEqual({ span: 'all', held: ahead });
  });

  it('the row nearest to a time, by looking at all of them', () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.integer({ min: 0, max: 500 }), { maxLength: 30 }),
        fc.integer({ min: -50, max: 550 }),
        (ts, at) => {
          const t = ts.toSorted((a, b) => a - b);
          const row = nearestRow(t, at);
          if (t.length === 0) expect(row).toBe(-1);
          else
            expect(Math.abs((t[row] ?? Infinity) - at)).toBe(
              Math.min(...t.map((each) => Math.abs(each - at))),
            );
        },
      ),
    );
  });

  it('is stretched about a time that stays, and moved as a whole', () => {
    const view = { from: HOUR, to: 3 * HOUR };
    expect(stretched(view, 0.5, 2 * HOUR)).toEqual({ from: 1.5 * HOUR, to: 2.5 * HOUR });
    expect(stretched(view, 2, HOUR).from).toBe(HOUR);
    expect(moved(view, -HOUR)).toEqual({ from: 0, to: 2 * HOUR });
  });

  it('follows the keys', () => {
    let view = { from: 2 * HOUR, to: 4 * HOUR };
    let resets = 0;
    const host: TimeHost = {
      view: () => view,
      show: (stretch) => (view = stretch),
      reset: () => resets++,
    };
    expect(keyed('ArrowLeft', host, whole)).toBe(true);
    expect(view).toEqual({ from: 1.8 * HOUR, to: 3.8 * HOUR });
    keyed('PageDown', host, whole);
    expect(view.from).toBe(3.8 * HOUR);
    keyed('Home', host, whole);
    expect(view).toEqual({ from: 0, to: 2 * HOUR });
    keyed('End', host, whole);
    expect(view).toEqual({ from: 6 * HOUR, to: 8 * HOUR });
    keyed('+', host, whole);
    expect(view.to - view.from).toBeCloseTo((2 * HOUR) / 1.4);
    // At the end it goes on with the time; elsewhere its middle stays.
    expect(view.to).toBe(8 * HOUR);
    keyed('ArrowLeft', host, whole);
    const middle = (view.from + view.to) / 2;
    keyed('-', host, whole);
    expect((view.from + view.to) / 2).toBeCloseTo(middle);
    expect(keyed('Tab', host, whole)).toBe(false);
    keyed('Escape', host, whole);
    expect(resets).toBe(1);
  });
});
