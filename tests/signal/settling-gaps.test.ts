/** Settling when readings fail to come, or come seldom. */
import { describe, expect, test } from 'vitest';
import { near, Play, step } from './play.ts';

describe('a pause without a figure while it is steady', () => {
  test.each([5, 10, 14])('of %i s does not show', (gapS) => {
    const play = new Play().run(600, 3000).run(gapS, null).run(400, 3000);
    expect(play.in('steady', 599)).toHaveLength(401 + gapS);
    expect(play.spans).toHaveLength(1);
  });

  test.each([20, 60, 110])(
    'of %i s: waiting meanwhile, then steady when it is seen to be so, in a span of its own',
    (gapS) => {
      const play = new Play().run(600, 3000).run(gapS, null).run(400, 3000);
      // It may have been a late reading for some seconds.
      expect(play.in('waiting', 600 + 18, 600 + gapS)).toHaveLength(gapS - 18);
      expect(play.in('steady', 600 + gapS).length).toBeGreaterThan(390);
      expect(play.in('settling', 600 + gapS)).toEqual([]);
      expect(play.spans).toHaveLength(2);
      expect(play.spans[0]?.to).toBeLessThanOrEqual(600);
      expect(play.spans[1]?.from).toBeGreaterThanOrEqual(600 + gapS);
    },
  );

  test('of two minutes: it begins anew', () => {
    const play = new Play().run(600, 3000).run(121, null).run(600, 3000);
    expect(play.in('waiting', 620, 721)).toHaveLength(101);
    expect(play.in('steady', 721, 780)).toEqual([]);
    expect(play.steadyAt(721)).toBeLessThan(721 + 180);
    expect(play.spans).toHaveLength(2);
    expect(play.spans[1]?.from).toBeGreaterThanOrEqual(721);
    const { forecast, cycle } = play.settling;
    expect([forecast.plateauW, cycle]).toEqual([null, null]);
  });

  test('behind which it is another: that is seen, and not averaged with it', () => {
    const play = new Play().run(600, 3000).run(60, null).run(600, 3600);
    expect(play.in('steady', 670, 720)).toEqual([]);
    expect(play.spans).toHaveLength(2);
    expect(play.spans[0]?.to).toBeLessThan(660);
    // Seconds without a figure are in no mean.
    expect(play.spans[1]?.from).toBeGreaterThanOrEqual(600);
    expect(play.spans[1]?.from).toBeGreaterThan(play.spans[0]?.to ?? NaN);
  });
});

describe('while it settles', () => {
  const course = step({ from: 2500, to: 4000, atS: 600, deadS: 20, tauS: 80 });

  test.each([15, 60])('a dropout of %i s leads to no wrong steady', (gapS) => {
    for (const atS of [610, 650, 700, 760, 900]) {
      const play = new Play().run(600, course).tell();
      play
        .run(atS - 600, course)
        .run(gapS, null)
        .run(2000 - atS - gapS, course);
      for (const s of play.in('steady', 600)) {
        expect(Math.abs(course(s) - 4000), `${gapS} s at ${atS} s, at ${s} s`).toBeLessThan(120);
      }
      // Within 2 % at 922 s: what was missed may be waited for.
      expect(play.steadyAt(600)).toBeLessThan(922 + 150 + gapS);
    }
  });

  test('every third second is missing: as good as all', () => {
    const lossy = (s: number): number | null => (s % 3 === 0 ? null : course(s));
    const play = new Play().run(600, lossy).tell().run(900, lossy);
    for (const s of play.in('steady', 600)) {
      expect(Math.abs(course(s) - 4000)).toBeLessThan(near(4000));
    }
    expect(play.steadyAt(600)).toBeLessThan(922 + 150);
  });
});

test('before there is any figure it waits, and since when is told', () => {
  const play = new Play().run(300, null);
  expect(play.in('waiting')).toHaveLength(300);
  expect(play.said[299]?.since).toBe(play.said[0]?.since);
  play.run(200, 3000);
  expect(play.steadyAt(300)).toBeGreaterThanOrEqual(360);
  expect(play.spans[0]?.from).toBeGreaterThanOrEqual(300);
});

describe('readings that come seldom', () => {
  const course = step({ from: 2500, to: 4000, atS: 1800, deadS: 20, tauS: 80 });
  // Within 2 % at 2122 s.
  test.each([
    { everyS: 2, mostS: 150 },
    { everyS: 5, mostS: 150 },
    { everyS: 10, mostS: 180 },
    { everyS: 30, mostS: 360 },
    { everyS: 60, mostS: 600 },
  ])('one in $everyS s: steady within $mostS s', ({ everyS, mostS }) => {
    const play = new Play().run(1800, course, { everyS }).tell().run(3000, course, { everyS });
    expect(play.in('steady', 1700, 1800)).toHaveLength(100);
    // What is shown is as old as the last reading.
    for (const s of play.in('steady', 1800)) {
      expect(Math.abs(course(s - (s % everyS)) - 4000), `at ${s} s`).toBeLessThan(near(4000));
    }
    expect(play.steadyAt(1800) - 2122).toBeLessThan(mostS);
    expect(play.in('steady', 2122 + mostS)).toHaveLength(4800 - 2122 - mostS);
  });

  test('one a minute: steady needs three of them', () => {
    const play = new Play().run(1800, 3000, { everyS: 60 });
    expect(play.steadyAt()).toBeGreaterThanOrEqual(180);
    expect(play.steadyAt()).toBeLessThan(600);
  });

  test('the level shown says how late it is', () => {
    const delay = (everyS: number): number | null =>
      new Play().run(600, 3000, { everyS }).settling.levelDelayS;
    expect(delay(1)).toBeCloseTo(5, 6);
    expect(delay(5)).toBeCloseTo(7, 1);
    expect(delay(60)).toBeCloseTo(5 + 59 / 2, 0);
  });
});
