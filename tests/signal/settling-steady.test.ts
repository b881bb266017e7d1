/** When a figure is called steady, and when that ends. */
import { describe, expect, test, vi } from 'vitest';
import { Approach } from '../../server/signal/approach.ts';
import { near, Play, step, T0 } from './play.ts';

/** When it is within 2 % of its plateau, or 40 W, for good. */
function settledS(course: (s: number) => number, plateau: number, untilS: number): number {
  let s = untilS;
  while (s > 0 && Math.abs(course(s - 1) - plateau) <= Math.max(40, 0.02 * plateau)) s--;
  return s;
}

describe('after a change', () => {
  const STEPS = [
    { from: 2500, to: 4000, deadS: 0, tauS: 20 },
    { from: 2500, to: 4000, deadS: 30, tauS: 60 },
    { from: 4000, to: 2500, deadS: 30, tauS: 60 },
    { from: 4000, to: 3000, deadS: 60, tauS: 120 },
    { from: 800, to: 1100, deadS: 20, tauS: 60 },
    { from: 3000, to: 9000, deadS: 45, tauS: 100 },
  ];

  test.each(STEPS)('$from to $to W, $deadS s of dead time, τ $tauS s', (one) => {
    const course = step({ ...one, atS: 600 });
    const play = new Play().run(600, course).tell().run(1800, course);
    // Steady before it was told, not while it is not there, and soon after it is.
    expect(play.in('steady', 500, 600)).toHaveLength(100);
    for (const s of play.in('steady', 600)) {
      expect(Math.abs(course(s) - one.to), `at ${s} s`).toBeLessThan(near(one.to));
    }
    const settled = settledS(course, one.to, 2400);
    expect(play.steadyAt(600) - settled).toBeLessThan(150);
    // And it stays so.
    expect(play.in('steady', settled + 150)).toHaveLength(2400 - settled - 150);
  });

  test.each(STEPS)('the span begins on the plateau: $from to $to W, τ $tauS s', (one) => {
    const course = step({ ...one, atS: 600 });
    const play = new Play().run(600, course).tell().run(1800, course);
    const [before, after, ...more] = play.spans;
    expect(more).toEqual([]);
    expect(before?.to).toBeLessThan(600);
    const from = after?.from ?? NaN;
    expect(Math.abs(course(from) - one.to)).toBeLessThan(2 * near(one.to));
    // The mean is about as near already when it is called, and better as it goes on.
    const called = play.steadyAt(600);
    let sum = 0;
    for (let s = from; s <= called; s++) sum += course(s) - one.to;
    expect(Math.abs(sum / (called - from + 1))).toBeLessThan(1.1 * near(one.to));
  });

  test('when nothing comes of it, it is steady again after it has been waited for', () => {
    const play = new Play().run(600, 3000).tell().run(600, 3000);
    expect(play.said[599]?.state).toBe('steady');
    expect(play.said[600]?.state).toBe('settling');
    expect(play.steadyAt(600)).toBeGreaterThanOrEqual(600 + 120);
    expect(play.steadyAt(600)).toBeLessThan(600 + 180);
    expect(play.spans[1]?.from).toBeGreaterThanOrEqual(600);
  });

  test.each([10, 40, 80, 110, 130])('a dead time of %i s is not taken for rest', (deadS) => {
    const course = step({ from: 3000, to: 4200, atS: 600, deadS, tauS: 40 });
    const play = new Play().run(600, course).tell().run(900, course);
    expect(play.in('steady', 600, 600 + deadS + 60)).toEqual([]);
    expect(play.steadyAt(600)).toBeGreaterThan(0);
  });

  test.each([1, 2, 3, 4, 5])('scatter does not end the dead time, seed %i', (seed) => {
    const course = step({ from: 3000, to: 4200, atS: 600, deadS: 110, tauS: 40 });
    const wide = { noiseW: 90 };
    const play = new Play(seed).run(600, course, wide).tell();
    // A gust, as far as a movement, and back.
    play.run(10, 3110, wide).run(900, course, wide);
    expect(play.in('steady', 600, 600 + 110 + 30)).toEqual([]);
  });

  test.each([60, 90, 120])('a long tail behind a quick approach is none: %i s', (tailS) => {
    const course = (s: number): number => {
      const x = Math.max(0, s - 600);
      return 1900 - 600 * (0.75 * Math.exp(-x / 25) + 0.25 * Math.exp(-x / tailS));
    };
    for (const seed of [1, 2, 3, 4, 5]) {
      const play = new Play(seed).run(600, course).tell().run(1500, course);
      for (const s of play.in('steady', 600)) {
        expect(Math.abs(course(s) - 1900), `at ${s} s, seed ${seed}`).toBeLessThan(near(1900));
      }
      expect(play.steadyAt(600) - settledS(course, 1900, 2100)).toBeLessThan(150);
    }
  });

  test('another change before the first has settled', () => {
    const first = step({ from: 2500, to: 4000, atS: 600, deadS: 20, tauS: 80 });
    const turn = first(700);
    const second = step({ from: turn, to: 2000, atS: 700, deadS: 20, tauS: 80 });
    const course = (s: number): number => (s < 720 ? first(s) : second(s));
    const play = new Play().run(600, course).tell().run(100, course).tell().run(1200, course);
    for (const s of play.in('steady', 600)) {
      expect(Math.abs(course(s) - 2000), `at ${s} s`).toBeLessThan(near(2000));
    }
    expect(play.steadyAt(600)).toBeLessThan(settledS(course, 2000, 1900) + 150);
  });

  test('from the first reading on: nobody knows yet what it did before', () => {
    const play = new Play().run(600, 3000);
    expect(play.said.slice(0, 9).every(({ state }) => state !== 'steady')).toBe(true);
    expect(play.steadyAt()).toBeGreaterThanOrEqual(60);
    expect(play.steadyAt()).toBeLessThan(200);
    expect(play.spans).toHaveLength(1);
  });
});

describe('a unit that is off', () => {
  test('is never steady, however still its figure lies', () => {
    const play = new Play().run(1800, 5, { delivers: false, noiseW: 1 });
    expect(play.in('waiting')).toHaveLength(1800);
    expect(play.spans).toEqual([]);
    const silent = new Play().run(900, 0, { delivers: false, noiseW: 0 });
    expect(silent.in('waiting')).toHaveLength(900);
  });

  test('nor is what comes after it, until it has settled', () => {
    const course = step({ from: 0, to: 3000, atS: 900, tauS: 50 });
    const play = new Play().run(900, course, { delivers: false }).run(900, course);
    for (const s of play.in('steady')) {
      expect(Math.abs(course(s) - 3000), `at ${s} s`).toBeLessThan(near(3000));
    }
    expect(play.steadyAt()).toBeLessThan(settledS(course, 3000, 1800) + 150);
    expect(play.spans[0]?.from).toBeGreaterThan(1000);
  });
});

describe('a steady figure that is steady no more', () => {
  // At each place in a block of five seconds.
  test.each([0, 1, 2, 3, 4].flatMap((at) => [0, 0.5, 0.8].map((left) => ({ at, left }))))(
    'it collapses to $left of it, $at s into a block: seconds later that is said, and it is in no span',
    ({ at, left }) => {
      const play = new Play(at).run(600 + at, 4000).run(300, 4000 * left);
      expect(play.said[599]?.state).toBe('steady');
      expect(play.in('steady', 600 + at + 5, 600 + at + 60)).toEqual([]);
      expect(play.spans[0]?.to).toBeLessThan(600 + at);
      for (const { from } of play.spans.slice(1)) expect(from).toBeGreaterThanOrEqual(600 + at);
    },
  );

  test.each([0, 1, 2, 3, 4])(
    'by twice as far as is near: after five seconds, %i s into a block',
    (at) => {
      const play = new Play(at).run(600 + at, 4000).run(100, 4000 - 280);
      expect(play.in('steady', 600 + at + 5, 660)).toEqual([]);
    },
  );

  test('it leaves by itself, slowly: said before it is twice as far as is near', () => {
    const course = step({ from: 4000, to: 3000, atS: 900, tauS: 200 });
    const play = new Play().run(2400, course);
    for (const s of play.in('steady', 900, 1300)) expect(course(s)).toBeGreaterThan(4000 - 240);
    for (const s of play.in('steady', 1300)) expect(course(s)).toBeLessThan(3000 + near(3000));
    expect(play.in('steady', 1300).length).toBeGreaterThan(400);
  });

  test('a lone absurd second costs as long as fine means are kept, at most', () => {
    const play = new Play().run(900, (s) => (s === 600 ? 12_000 : 3000));
    expect(play.in('steady', 550, 600)).toHaveLength(50);
    expect(play.in('steady', 760)).toHaveLength(140);
  });

  test.each([-0.15, 0.15])(
    'a drift of %f an hour stays steady, in spans that say something',
    (drift) => {
      const course = (s: number): number => 4000 * (1 + (drift * s) / 3600);
      const play = new Play().run(3 * 3600, course);
      expect(play.in('steady', 300).length).toBeGreaterThan(0.95 * (3 * 3600 - 300));
      expect(play.spans.length).toBeGreaterThan(3);
      play.spans.forEach(({ from, to }, i) => {
        expect(from).toBeGreaterThan(play.spans[i - 1]?.to ?? -1);
        expect(Math.abs(course(to) - course(from))).toBeLessThan(3 * near(course(from)));
      });
    },
  );
});

describe('what must not matter', () => {
  const course = step({ from: 2500, to: 4000, atS: 1200, deadS: 30, tauS: 70 });
  const states = (play: Play, fromS = 0): string[] => play.between(fromS).map(({ state }) => state);

  test('the size of a unit, above the least watts', () => {
    const sized = (by: number): Play =>
      new Play()
        .run(1200, (s) => by * course(s), { noiseW: 6 * by })
        .tell()
        .run(1500, (s) => by * course(s), { noiseW: 6 * by });
    const one = sized(1);
    expect(new Set(states(one))).toEqual(new Set(['waiting', 'settling', 'steady']));
    for (const by of [2, 8]) expect(states(sized(by))).toEqual(states(one));
  });

  /** A scatter that comes round with the coarsest blocks: after an hour the past is always the same. */
  const ripple = (s: number): number => 10 * Math.sin((2 * Math.PI * s) / 16) * Math.sin(s % 80);

  test('for how long it has been steady before: neither what is said nor the work', () => {
    const after = (steadyS: number) => {
      const fits = vi.spyOn(Approach.prototype, 'fit');
      const quiet = { noiseW: 0 };
      const play = new Play().run(steadyS, (s) => 2500 + ripple(s), quiet);
      play.tell();
      fits.mockClear();
      play.run(
        1600,
        (s) => step({ from: 2500, to: 4000, atS: steadyS, deadS: 30, tauS: 70 })(s) + ripple(s),
        quiet,
      );
      const work = fits.mock.calls.length;
      fits.mockRestore();
      return { work, states: states(play, steadyS) };
    };
    const [short, long] = [after(3600), after(14 * 3600)];
    expect(long.states).toEqual(short.states);
    expect(long.work).toBe(short.work);
    expect(long.states).toContain('steady');
    // Fits are made when a block of their level ends, of a steady figure seldom: two in five seconds.
    expect(long.work).toBeLessThan((2 * 1600) / 5);
  });

  test('when it begins: epoch times', () => {
    const play = new Play().run(300, 3000);
    expect(play.said.at(-1)?.since).toBe(T0 + play.steadyAt() * 1000);
  });
});
