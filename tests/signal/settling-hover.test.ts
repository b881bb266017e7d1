/**
 * A machine that hovers, as real ones do: a laboratory heat pump's record (tests/bench/settling/hover.ts)
 * at the size that it had, 1.4 %, and smaller. Its mean is what a person would write down.
 */
import { describe, expect, test } from 'vitest';
import { randomStream } from '../../simulator/random.ts';
import { hover, LABORATORY } from '../bench/settling/hover.ts';
import { Play, step } from './play.ts';

const LEVEL_W = 5800;
const SEEDS = [1, 2, 3, 4, 5, 6, 7, 8];
/** As long as the record. */
const FLAT_S = 2460;

/** A course that hovers by `share` (standard deviation). */
function hovering(share: number, seed: number, course: (s: number) => number = () => LEVEL_W) {
  const next = hover(LABORATORY, randomStream(seed, `hover ${share}`));
  const values: number[] = [];
  return (s: number): number => {
    while (values.length <= s) values.push(1 + share * next());
    return course(s) * (values[s] ?? NaN);
  };
}

const changesOf = (play: Play, fromS: number): number => {
  const said = play.between(fromS);
  return said.filter(({ state }, i) => i > 0 && state !== said[i - 1]?.state).length;
};

describe('a flat stretch of 41 minutes', () => {
  test.each(
    [0, 0.005, 0.01, 0.014].flatMap((share) => [1, 5].map((everyS) => ({ share, everyS }))),
  )(
    'hovering by $share, read every $everyS s: steady nearly all the time, and one span',
    ({ share, everyS }) => {
      const steady: number[] = [];
      let changes = 0;
      let spans = 0;
      for (const seed of SEEDS) {
        const play = new Play(seed).run(FLAT_S, hovering(share, seed), { everyS });
        steady.push(play.in('steady', 180).length / (FLAT_S - 180));
        changes += changesOf(play, 300);
        spans += play.spans.length;
        expect(play.in('cycling')).toEqual([]);
      }
      expect(steady.reduce((sum, x) => sum + x, 0) / SEEDS.length).toBeGreaterThan(0.95);
      // A needless change and back is two.
      expect(changes / SEEDS.length).toBeLessThanOrEqual(1);
      expect(spans / SEEDS.length).toBeLessThanOrEqual(1.5);
    },
  );

  test('how far it hovers is said: the amplitude of a wave that scatters as much', () => {
    for (const share of [0.01, 0.014]) {
      const told = SEEDS.map((seed) => {
        const play = new Play(seed).run(FLAT_S, hovering(share, seed));
        return (play.settling.hoverW ?? NaN) / LEVEL_W;
      }).filter((x) => x === x);
      expect(told.length).toBeGreaterThan(SEEDS.length / 2);
      const mean = told.reduce((sum, x) => sum + x, 0) / told.length;
      expect(mean / (Math.SQRT2 * share)).toBeGreaterThan(0.7);
      expect(mean / (Math.SQRT2 * share)).toBeLessThan(1.3);
    }
  });

  test('one that does not hover says so', () => {
    const play = new Play().run(900, LEVEL_W);
    expect(play.settling.hoverW).toBeLessThan(0.005 * LEVEL_W);
  });
});

describe('a figure that hovers and is changed', () => {
  test('the change is seen, and steady comes back at the new level', () => {
    for (const seed of SEEDS) {
      const course = step({ from: LEVEL_W, to: 4600, atS: 900, tauS: 60 });
      const play = new Play(seed).run(2400, hovering(0.01, seed, course));
      // Three time constants later nine tenths of the way lie behind it.
      for (const s of play.in('steady', 960, 1080)) {
        expect(Math.abs(course(s) - 4600), `seed ${seed}, at ${s} s`).toBeLessThan(0.06 * 4600);
      }
      expect(play.in('steady', 1500).length, `seed ${seed}`).toBeGreaterThan(700);
    }
  });

  test('a swing that is regular and large is cycling', () => {
    const play = new Play().run(4000, (s) => LEVEL_W * (1 + 0.08 * Math.sin(s / 40)));
    expect(play.in('steady', 1000)).toEqual([]);
    expect(play.in('cycling', 1500)).toHaveLength(2500);
  });
});
