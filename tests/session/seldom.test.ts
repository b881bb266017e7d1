/**
 * Loggers that read seldom: the work is bounded by the lines, not by the time between them, and what
 * stands counts for as long as it stands.
 */
import { describe, expect, test } from 'vitest';
import { T0, TestVisit } from './visit.ts';

const HOUR_S = 3600;
const MINUTE_S = 60;

/** Both probes every `everyS` up to `toS`. */
function log(everyS: number, toS: number, supplyC: (s: number) => number = () => 12): TestVisit {
  const visit = new TestVisit();
  visit.run(0, toS, supplyC, everyS);
  return visit;
}
const second = (t: number): number => (t - T0) / 1000;

describe('the work', () => {
  test('of a reading every half hour is a hundred seconds each, not 1,800', () => {
    const visit = log(1800, 20 * HOUR_S);
    expect(visit.snapshots.length).toBeLessThan(40 * 110);
  });

  test('of one line is no more, when years have passed', () => {
    const visit = new TestVisit();
    visit.run(0, 100);
    const before = visit.snapshots.length;
    visit.reading('r', 10 * 365 * 24 * HOUR_S * 1000, { temperatureC: 20 });
    expect(visit.snapshots.length - before).toBeLessThan(300);
  });

  test('of what is told before the first reading is bounded, too', () => {
    const visit = new TestVisit();
    for (const h of [0, 30_000, 60_000]) {
      visit.take({ type: 'event', t: T0 + h * HOUR_S * 1000, kind: 'note', text: 'set up' });
    }
    expect(visit.snapshots.length).toBeLessThan(600);
  });

  test('of a logger that reads every minute is every second, as of any probe', () => {
    const visit = log(MINUTE_S, HOUR_S);
    expect(visit.snapshots.length).toBe(HOUR_S - MINUTE_S + 1);
  });
});

describe('what stands', () => {
  test.each([2, 5, 10])('every %d minutes: a constant figure is steady', (minutes) => {
    const visit = log(minutes * MINUTE_S, 4 * HOUR_S);
    expect(visit.unit().settling.state).toBe('steady');
    // The rule of all probes: at least three readings.
    const since = second(visit.unit().settling.since ?? 0);
    expect(since).toBeLessThan(8 * minutes * MINUTE_S);
  });

  test('weighs in a capture by how long it stands', () => {
    // Three minutes of one level, seven of the other: within what settling calls steady.
    const visit = new TestVisit();
    const levels = [12, 12.1];
    const totals: number[] = [];
    for (let s = 0, i = 0; s < 4 * HOUR_S; s += i++ % 2 === 0 ? 180 : 420) {
      visit.run(s, s + 1, () => levels[i % 2] ?? NaN);
      // The second after it, in which it stands.
      visit.session.advanceTo(T0 + (s + 20) * 1000);
      totals[i % 2] = visit.unit().capacity.totalW ?? NaN;
    }
    visit.session.finish();
    const { totalW, from, to } = visit.captures.at(-1) ?? { totalW: NaN, from: 0, to: 0 };
    expect(to - from).toBeGreaterThan(HOUR_S * 1000);
    const [short = NaN, long = NaN] = totals;
    const share = (totalW - long) / (short - long);
    expect(share).toBeGreaterThan(0.26);
    expect(share).toBeLessThan(0.34);
  });

  test('is live up to the last second of its rhythm, and not in the next', () => {
    const visit = log(200, 2000);
    // Three usual intervals of 200 s after the last reading of both, at 1800.3 s at the latest.
    const live = (): boolean => visit.unit().capacity.totalW !== null;
    visit.session.advanceTo(T0 + 3_000_000);
    const seen = visit.snapshots.filter(({ t }) => t > T0 + 1_800_000);
    const last = seen.findLastIndex(({ units }) => units['u1']?.capacity.totalW !== null);
    expect(seen[last]?.t).toBe(T0 + 2_399_000);
    expect(seen[last + 1]?.t).toBe(T0 + 2_400_000);
    expect(live()).toBe(false);
  });
});

test('a visit that is looked at shows every second, and gives the same as its log', () => {
  const [live, played] = [new TestVisit(), new TestVisit()];
  const supplyC = (s: number): number => 12 + Math.sin(s / 1000);
  for (const visit of [live, played]) {
    for (let s = 0; s < 5 * HOUR_S; s += 400) {
      for (let now = s - 399.5; visit === live && s > 0 && now < s; now += 0.2) {
        visit.session.showAt(T0 + now * 1000);
      }
      visit.run(s, s + 1, supplyC);
    }
    visit.session.finish();
  }
  const times = live.snapshots.map(({ t }) => second(t));
  expect(times.every((t, i) => i === 0 || t === (times[i - 1] ?? NaN) + 1)).toBe(true);
  expect(played.snapshots.length).toBeLessThan(0.3 * times.length);
  expect(live.captures).toEqual(played.captures);
  const at = new Map(live.snapshots.map((snapshot) => [snapshot.t, snapshot]));
  for (const { t, units } of played.snapshots) {
    expect(at.get(t)?.units['u1']?.capacity).toEqual(units['u1']?.capacity);
  }
  expect(live.unit().settling).toEqual(played.unit().settling);
});
