/** What is told to a unit, when, and what that does to settling: restarts, airflow, defrosts. */
import { describe, expect, test } from 'vitest';
import { BLOCK_S, KEPT } from '../../server/signal/block-means.ts';
import { near, Play, step, T0 } from './play.ts';

describe('a change that is told late', () => {
  const course = step({ from: 2500, to: 4000, atS: 600, deadS: 20, tauS: 70 });
  const toldAfter = (agoS: number): Play =>
    new Play()
      .run(600 + agoS, course)
      .tell(agoS)
      .run(1500 - agoS, course);

  test.each([1, 7, 20, 44, 63, 100])('by %i s: what lies after it is kept', (agoS) => {
    const [prompt, late] = [toldAfter(0), toldAfter(agoS)];
    // Blocks begin elsewhere, and how it hovers was learnt on the way: no more than that.
    expect(Math.abs(late.steadyAt(720) - prompt.steadyAt(720))).toBeLessThan(35);
    const shown = (play: Play): number =>
      play.between(700).find(({ plateauW }) => plateauW !== null)?.s ?? NaN;
    expect(Math.abs(shown(late) - shown(prompt))).toBeLessThan(15);
  });

  test.each([0, 1, 2, 3, 4, 7, 63])(
    'by %i s: nothing that lies before it is in the next span',
    (agoS) => {
      // It is there at once, so only the time that was told keeps what was before out.
      const play = new Play().run(600, 3000).run(agoS, 3000).tell(agoS).run(600, 3000);
      const [before, after] = play.spans;
      expect(before?.to).toBeLessThan(600 + agoS);
      expect(after?.from).toBeGreaterThanOrEqual(600);
    },
  );

  test('by longer than is kept, it begins with what is', () => {
    const play = new Play().run(2000, 3000).tell(1500).run(200, 3000);
    expect(play.steadyAt(2000)).toBeLessThan(2070);
    expect(play.spans.at(-1)?.from).toBeGreaterThanOrEqual(2000 - KEPT * BLOCK_S);
  });

  test('it ends a steady span, and a plateau is said from the level that was before', () => {
    const play = toldAfter(0);
    expect(play.said[599]?.span).not.toBeNull();
    expect(play.said[600]).toMatchObject({ state: 'settling', span: null });
    expect(play.said[600]?.since).toBe(T0 + 599_000);
  });
});

describe('another airflow', () => {
  test('a few per cent are the fan’s own doing: it stays steady, in the same span', () => {
    const play = new Play().run(600, 3000);
    play.settling.rescale(1.05);
    play.run(600, 3150);
    expect(play.in('steady', 599)).toHaveLength(601);
    expect(play.spans).toHaveLength(1);
  });

  test('without a word of it, such a step is one', () => {
    const play = new Play().run(600, 3000).run(600, 3150);
    expect(play.in('steady', 599).length).toBeLessThan(580);
    expect(play.spans).toHaveLength(2);
  });

  test('while it settles the course goes on', () => {
    const course = step({ from: 2500, to: 4000, atS: 600, deadS: 20, tauS: 70 });
    const same = new Play().run(600, course).tell().run(1400, course);
    const play = new Play().run(600, course).tell().run(150, course);
    play.settling.rescale(0.94);
    play.run(1250, (s) => 0.94 * course(s));
    expect(Math.abs(play.steadyAt(600) - same.steadyAt(600))).toBeLessThanOrEqual(10);
    const plateau = play.said[800]?.plateauW ?? NaN;
    expect(Math.abs(plateau / (0.94 * 4000) - 1)).toBeLessThan(0.1);
  });

  test('a larger one restarts it: where it was before is no level to come from', () => {
    const play = new Play().run(600, 3000);
    play.settling.restart(play.t - 1000, true);
    play.run(600, 4500);
    // The step to 4500 W is no movement; nothing is forecast of it but that it is there.
    for (const { plateauW } of play.between(600)) {
      if (plateauW !== null) expect(Math.abs(plateauW - 4500)).toBeLessThan(100);
    }
    expect(play.spans[1]?.from).toBeGreaterThanOrEqual(600);
    expect(play.steadyAt(600)).toBeGreaterThan(660);
    expect(play.steadyAt(600)).toBeLessThan(800);
  });

  test('while it cycles the cycles are seen as if they had always been so', () => {
    const square = (s: number): number => (s % 400 < 200 ? 3000 : 1000);
    const play = new Play().run(2000, square);
    play.settling.rescale(1.05);
    play.run(1000, (s) => 1.05 * square(s));
    expect(play.in('cycling', 2000)).toHaveLength(1000);
    expect(play.spans.filter(({ kind }) => kind === 'cycling')).toHaveLength(1);
  });
});

describe('a defrost', () => {
  /** Steady at 4 kW, out from 900 to 1260 s, then back with a time constant of 60 s. */
  const course = (s: number): number =>
    s < 900 ? 4000 : s < 1260 ? -500 : 4000 - 4500 * Math.exp(-(s - 1260) / 60);

  test('is no settling, and the minutes after it are not steady', () => {
    const play = new Play().run(910, course);
    play.settling.suspend(play.t);
    play.run(360, course);
    expect(play.said.at(-1)).toMatchObject({ state: 'settling', span: null, plateauW: null });
    play.settling.resume(play.t, play.t + 300_000);
    play.run(1200, course);
    expect(play.in('steady', 910, 1270 + 300)).toEqual([]);
    expect(play.steadyAt(910)).toBeLessThan(1270 + 300 + 10);
    expect(play.spans.at(-1)?.from).toBeGreaterThanOrEqual(1270 + 300);
    for (const s of play.in('steady', 910)) {
      expect(Math.abs(course(s) - 4000)).toBeLessThan(near(4000));
    }
  });

  test('that is found afterwards makes the minutes after it count as such', () => {
    const play = new Play().run(1300, course);
    play.settling.resume(play.t, play.t + 300_000);
    play.run(1200, course);
    expect(play.in('steady', 1300, 1600)).toEqual([]);
    expect(play.spans.at(-1)?.from).toBeGreaterThanOrEqual(1600);
  });
});
