/** The time axis of the chart: where its marks stand, and what pointers and keys do to it. */
import fc from 'fast-check';
import { afterEach, describe, expect, it } from 'vitest';
import { keyed, type TimeHost } from '../../client/chart/time-keys.ts';
import { timeLabel, timeMarks, timeStep } from '../../client/chart/time-marks.ts';
import { CLOSEST_MS, moved, shownAs, stretched, viewOf } from '../../client/chart/view.ts';

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

describe('the marks of the time axis', () => {
  it('are round on the wall clock, in order, in view, and no more than fit', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...ZONES),
        fc.integer({ min: Date.UTC(2024, 0, 1), max: Date.UTC(2028, 0, 1) }),
        fc.integer({ min: 10_000, max: 20 * DAY }),
        fc.integer({ min: 3, max: 14 }),
        (zone, min, span, most) => {
          process.env['TZ'] = zone;
          const step = timeStep(span, most);
          const marks = timeMarks(min, min + span, step);
          for (const [i, t] of marks.entries()) {
            expect(t).toBeGreaterThanOrEqual(min);
            expect(t).toBeLessThanOrEqual(min + span);
            if (i > 0) expect(t).toBeGreaterThan(marks[i - 1] ?? 0);
            expect(sinceMidnight(t) % Math.min(step, DAY)).toBe(0);
          }
          // A day of 25 hours holds some more.
          expect(marks.length).toBeLessThanOrEqual(most + 1 + Math.ceil((2 * HOUR) / step));
        },
      ),
      { numRuns: 400 },
    );
  });

  it('are at least three where there is room for six, at every span a visit has', () => {
    process.env['TZ'] = 'America/New_York';
    for (let span = 10_000; span < 3 * DAY; span = Math.round(span * 1.07)) {
      const marks = timeMarks(
        Date.UTC(2026, 4, 4, 12, 3, 21),
        Date.UTC(2026, 4, 4, 12, 3, 21) + span,
        timeStep(span, 6),
      );
      expect(marks.length, `${span / 1000} s`).toBeGreaterThanOrEqual(2);
    }
    // 7½ minutes: every two.
    const from = new Date(2026, 4, 4, 14, 1, 10).getTime();
    expect(
      timeMarks(from, from + 7.5 * MINUTE, timeStep(7.5 * MINUTE, 6)).map((t) =>
        new Date(t).getMinutes(),
      ),
    ).toEqual([2, 4, 6, 8]);
  });

  it('keep to the wall clock over the night in which it is set', () => {
    process.env['TZ'] = 'America/New_York';
    // US daylight saving ends on November 1, 2026 (Energy Policy Act of 2005): 2:00 comes twice.
    const from = new Date(2026, 9, 31, 22, 0).getTime();
    const hours = timeMarks(from, from + 12 * HOUR, 2 * HOUR).map((t) => new Date(t).getHours());
    expect(hours).toEqual([22, 0, 2, 4, 6, 8]);
  });

  it('are written as they are read', () => {
    const t = new Date(2026, 4, 4, 14, 2, 10).getTime();
    expect(timeLabel(t, 10_000)).toBe('14:02:10');
    expect(timeLabel(t, 30 * MINUTE)).toBe('14:02');
    expect(timeLabel(t, DAY)).toBe('May 4');
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
    expect(keyed('Tab', host, whole)).toBe(false);
    keyed('Escape', host, whole);
    expect(resets).toBe(1);
  });
});
