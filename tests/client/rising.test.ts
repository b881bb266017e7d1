/** Which probe is warmed in the hand: by made-up courses, and by the physics of the simulator. */
import { describe, expect, it } from 'vitest';
import { Finder, risesOf, risingOf, type Track, type Verdict } from '../../client/probes/rising.ts';
import { randomStream } from '../../simulator/random.ts';
import { scenario } from '../../simulator/scenarios.ts';
import { System, type SystemParameters } from '../../simulator/system.ts';
import { T0 } from './fixtures.ts';

const random = randomStream(3, 'rising');
const HAND_C = 33;

interface Course {
  /** Its temperature so many seconds after the search began. */
  at: (s: number) => number;
  everyS?: number;
  noise?: number;
  step?: number;
}
/** Warmed in the hand from a moment on, with a lag. */
const warmed =
  (fromC: number, fromS = 5, lagS = 8) =>
  (s: number): number =>
    s < fromS ? fromC : HAND_C - (HAND_C - fromC) * Math.exp(-(s - fromS) / lagS);

function trackOf(
  { at, everyS = 1, noise = 0.02, step = 0.01 }: Course,
  toS: number,
  fromS = 0,
): Track {
  const t: number[] = [];
  const temperatureC: number[] = [];
  for (let s = fromS; s <= toS; s += everyS) {
    t.push(T0 + 1000 * s);
    temperatureC.push(Math.round((at(s) + noise * random.normal()) / step) * step);
  }
  return { t, temperatureC };
}
const tracksOf = (courses: Record<string, Course>, toS: number, fromS = 0) =>
  new Map(Object.entries(courses).map(([id, c]) => [id, trackOf(c, toS, fromS)]));

const still = (c: number): Course => ({ at: () => c });
const at = (courses: Record<string, Course>, toS: number, fromS = 0): Verdict =>
  risingOf(tracksOf(courses, toS, fromS), T0);

/** When a course is pointed at, s after the search began; null: never within the minute. */
function foundAfter(courses: Record<string, Course>, id: string): number | null {
  for (let s = 1; s <= 60; s++) {
    const verdict = at(courses, s);
    if (verdict.is !== 'one') continue;
    expect(verdict.id).toBe(id);
    return s;
  }
  return null;
}

describe('the one that rises by itself', () => {
  it.each([
    ['1 s', { at: warmed(21) }, 12],
    ['1 s and slow', { at: warmed(21, 5, 60) }, 20],
    ['5 s', { at: warmed(21), everyS: 5 }, 25],
    ['5 s and slow', { at: warmed(21, 5, 60), everyS: 5 }, 25],
    ['in steps of half a degree', { at: warmed(21, 5, 20), step: 0.5, noise: 0.1 }, 25],
    ['noisy', { at: warmed(21), noise: 0.3 }, 20],
    ['out of cold supply air', { at: warmed(12) }, 12],
    ['in the hand from the beginning', { at: warmed(21, 0) }, 8],
  ] satisfies [string, Course, number][])('is found: %s', (_, warm, withinS) => {
    const others = { a: still(21), b: { ...still(24), everyS: 5 }, c: still(12) };
    const after = foundAfter({ ...others, warm }, 'warm');
    expect(after).not.toBeNull();
    expect(after).toBeLessThanOrEqual(withinS);
  });

  it('is found when it is the only probe that there is', () => {
    expect(at({ warm: { at: warmed(21) } }, 30)).toEqual({ is: 'one', id: 'warm' });
  });

  it('is found among sixteen', () => {
    const others = Object.fromEntries(
      Array.from({ length: 15 }, (_, i) => [`p${i}`, { at: () => 15 + i, noise: 0.1 }]),
    );
    expect(at({ ...others, warm: { at: warmed(20) } }, 25)).toEqual({ is: 'one', id: 'warm' });
  });
});

describe('in doubt, none', () => {
  it.each<[string, Record<string, Course>]>([
    ['nothing moves', { a: still(21), b: still(24) }],
    ['all scatter', { a: { ...still(21), noise: 0.5 }, b: { ...still(24), noise: 0.5 } }],
    ['all rise together', { a: { at: (s) => 20 + s / 15 }, b: { at: (s) => 22 + s / 15 } }],
    ['all fall', { a: { at: (s) => 24 - s / 10 }, b: { at: (s) => 22 - s / 20 } }],
    ['one rises a little', { a: { at: (s) => 21 + s / 100 }, b: still(24) }],
    ['one is off for a reading', { a: { at: (s) => (s === 30 ? 29 : 21) }, b: still(24) }],
    [
      'one sways as it did before',
      { a: { at: (s) => 21 + 0.3 * Math.sin(s / 5), noise: 0.2 }, b: still(24) },
    ],
  ])('%s', (_, courses) => {
    for (let s = 1; s <= 60; s++)
      expect(['none', 'waiting'], `${s} s`).toContain(at(courses, s).is);
  });

  it('what was rising already, at the same pace, is not the one; the hand still is', () => {
    const heating = { at: (s: number) => 30 + 0.15 * s };
    for (let s = 1; s <= 45; s++) {
      expect(at({ heating, b: still(21) }, s, -30).is, `${s} s`).toBe('none');
    }
    const warm = { at: warmed(21) };
    expect(at({ heating, warm }, 25, -30)).toEqual({ is: 'one', id: 'warm' });
  });

  it('waits until there are readings', () => {
    expect(risingOf(new Map(), T0)).toEqual({ is: 'waiting' });
    expect(at({ a: still(20) }, 1)).toEqual({ is: 'waiting' });
    expect(at({ a: still(20) }, -2, -30)).toEqual({ is: 'waiting' }); // silent since
  });
});

describe('two at once', () => {
  it('are both named', () => {
    const verdict = at({ a: { at: warmed(21) }, b: { at: warmed(23, 7, 12) }, c: still(22) }, 25);
    expect(verdict.is).toBe('several');
    expect(verdict.is === 'several' ? [...verdict.ids].sort() : null).toEqual(['a', 'b']);
  });

  it('of two in all leave a doubt: the air may be getting warmer', () => {
    for (let s = 1; s <= 60; s++) {
      const verdict = at({ a: { at: warmed(21) }, b: { at: warmed(22, 5, 9) } }, s);
      expect(verdict.is, `${s} s`).not.toBe('one');
    }
  });

  it('a second that follows a little leaves the first the one', () => {
    const near = { at: (s: number) => 21 + Math.min(s / 40, 0.8) };
    expect(at({ a: { at: warmed(21) }, near, c: still(22) }, 25)).toEqual({ is: 'one', id: 'a' });
  });

  it('tells how much each has risen by itself', () => {
    const tracks = tracksOf({ a: { at: warmed(21), noise: 0 }, b: still(22), c: still(23) }, 40);
    const rise = risesOf(tracks, T0).find(({ id }) => id === 'a');
    expect(rise?.riseK).toBeCloseTo(warmed(21)(39) - 21, 1);
    expect(rise?.ownK).toBeCloseTo(rise?.riseK ?? 0, 0);
  });
});

describe('the finder', () => {
  const courses: Record<string, Course> = { warm: { at: warmed(21, 10) }, b: still(24) };

  it('points at one when it has been the one for two seconds, and begins anew when told to', () => {
    const finder = new Finder();
    const said: string[] = [];
    for (let s = -10; s <= 40; s++) {
      for (const [id, { at: course }] of Object.entries(courses)) {
        finder.take(id, T0 + s * 1000, course(s));
        finder.take(id, T0 + s * 1000, 99); // known already
      }
      if (s === 0) finder.begin(T0);
      said.push(finder.verdict(T0 + s * 1000).is);
    }
    expect(said.slice(0, 10)).toEqual(Array.from({ length: 10 }, () => 'waiting'));
    const first = risingFirst(said);
    expect(first).toBeGreaterThan(12);
    expect(first).toBeLessThan(18);
    finder.begin(T0 + 40_000); // warm by now, it rises no more
    expect(finder.verdict(T0 + 43_000).is).toBe('none');
  });
  const risingFirst = (said: string[]): number => said.indexOf('one') - 10;

  it('points at none for two readings that are off', () => {
    const finder = new Finder();
    for (let s = -10; s <= 60; s++) {
      finder.take('a', T0 + s * 1000, s === 30 || s === 31 ? 29 : 21);
      finder.take('b', T0 + s * 1000, 24);
      if (s === 0) finder.begin(T0);
      expect(finder.verdict(T0 + s * 1000).is, `${s} s`).not.toBe('one');
    }
  });

  it('keeps a minute and a half of each', () => {
    const finder = new Finder();
    for (let s = 0; s < 600; s++) finder.take('a', T0 + s * 1000, 20);
    expect(finder.tracks.get('a')?.t.length).toBeLessThanOrEqual(91);
    expect(finder.tracks.get('a')?.temperatureC.length).toBe(finder.tracks.get('a')?.t.length);
  });
});

describe('by the physics of the simulator', () => {
  /** Whether the probe that is warmed from the tenth second on is the one within the minute. */
  function play(parameters: SystemParameters, warm: string | null, seed: number, afterS: number) {
    const system = new System(parameters, seed, T0);
    system.advance(T0 + afterS * 1000);
    const finder = new Finder();
    let found: Verdict = { is: 'waiting' };
    for (let s = -20; s <= 60; s++) {
      if (s === 5) system.warm(warm);
      for (const { probe, t, temperatureC } of system.advance(T0 + (afterS + 20 + s) * 1000)) {
        if (temperatureC !== undefined) finder.take(probe, t, temperatureC);
      }
      if (s === 0) finder.begin(system.t);
      if (s < 0) continue;
      found = finder.verdict(system.t);
      if (found.is === 'one') return found;
    }
    return found;
  }

  it.each(['demo', 'five-seconds', 'noisy', 'heating', 'cycling'])('%s: finds each', (name) => {
    const parameters = scenario(name);
    for (const seed of [1, 2, 3]) {
      for (const { id, unit, place } of parameters.probes) {
        // A warm supply is no colder than a hand; on a hot day outdoor air hardly is.
        if (parameters.mode === 'heating' && place === 'supply') continue;
        if (name === 'noisy' && place === 'outdoor') continue;
        expect(play(parameters, id, seed, 600), `${id} ${unit ?? ''} ${seed}`).toEqual({
          is: 'one',
          id,
        });
      }
    }
  });

  it.each(['demo', 'five-seconds', 'noisy', 'heating', 'drifting-room'])(
    '%s: points at none that nobody warms',
    (name) => {
      for (const seed of [1, 2, 3, 4, 5]) {
        expect(play(scenario(name), null, seed, 900).is, `seed ${seed}`).toBe('none');
      }
    },
  );
});
