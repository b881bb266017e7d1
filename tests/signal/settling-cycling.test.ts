/** Figures that swing by themselves: hunting, cycling, and how that begins and ends. */
import { describe, expect, test } from 'vitest';
import { randomStream } from '../../simulator/random.ts';
import { near, Play, step } from './play.ts';

const sine =
  (periodS: number, part: number, level = 4000) =>
  (s: number): number =>
    level * (1 + part * Math.sin((2 * Math.PI * s) / periodS));
const onOff =
  (periodS: number, on = 0.5) =>
  (s: number): number =>
    s % periodS < on * periodS ? 4000 : 100;

describe('hunting', () => {
  test.each([40, 90, 180, 300])('by ±1 %, once in %i s, is steady', (periodS) => {
    const play = new Play().run(3600, sine(periodS, 0.01));
    expect(play.in('cycling')).toEqual([]);
    expect(play.in('steady', 400)).toHaveLength(3200);
    expect(play.spans).toHaveLength(1);
  });

  test.each([60, 120, 240, 400])('by ±8 %, once in %i s, is cycling, not steady', (periodS) => {
    const play = new Play().run(10 * periodS + 600, sine(periodS, 0.08));
    // In the first period of a slow one nobody can know yet.
    expect(play.in('steady', periodS)).toEqual([]);
    expect(play.in('cycling', 4 * periodS)).toHaveLength(6 * periodS + 600);
    const { cycle } = play.settling;
    expect(Math.abs((cycle?.periodS ?? NaN) / periodS - 1)).toBeLessThan(0.1);
    expect(Math.abs((cycle?.amplitude ?? NaN) / 320 - 1)).toBeLessThan(0.15);
  });
});

describe('on and off', () => {
  test.each([
    [240, 0.5],
    [600, 0.5],
    [900, 0.3],
    [1500, 0.5],
  ])('once in %i s, %f of it on: cycling after four periods, never steady again', (periodS, on) => {
    const delivers = (s: number): boolean => onOff(periodS, on)(s) > 200;
    const play = new Play();
    for (let s = 0; s < 10 * periodS; s++)
      play.run(1, onOff(periodS, on), { delivers: delivers(s) });
    expect(play.in('cycling', 4 * periodS)).toHaveLength(6 * periodS);
    expect(play.in('steady', 2.5 * periodS)).toEqual([]);
    expect(Math.abs((play.settling.cycle?.periodS ?? NaN) / periodS - 1)).toBeLessThan(0.05);
  });

  test('its span is whole cycles, from rise to rise', () => {
    const periodS = 400;
    const play = new Play();
    const ends: number[] = [];
    for (let s = 0; s < 4000; s++) {
      play.run(1, onOff(periodS));
      if (play.settling.cycleEnds) ends.push(s);
    }
    // Seen when a block and a half have passed: each as late as the other.
    for (const s of ends) expect(s % periodS).toBeLessThan(15);
    expect(ends.length).toBeGreaterThan(8);
    for (const { span } of play.said) {
      if (span?.kind !== 'cycling') continue;
      expect((span.to - span.from) % (periodS * 1000)).toBe(0);
    }
    expect(play.settling.cycle?.count).toBeGreaterThan(6);
    const { span, cycle } = play.settling;
    expect(((span?.to ?? NaN) - (span?.from ?? NaN)) / 1000 / periodS).toBe(cycle?.count);
  });

  test('a rest in between is none of its cycles', () => {
    const wave = (s: number): number => (s > 2000 && s < 5000 ? 4000 : onOff(400)(s));
    const play = new Play().run(8000, wave);
    expect(play.in('steady', 3500, 5000).length).toBeGreaterThan(1000);
    expect(play.in('cycling', 6600)).toHaveLength(1400);
    for (const { from, kind } of play.spans.filter((span) => span.to > 5000)) {
      if (kind === 'cycling') expect(from).toBeGreaterThan(5000);
    }
  });
});

describe('cycling ends', () => {
  test('when it runs through: settling again, then steady', () => {
    const play = new Play().run(4000, (s) => (s < 2400 ? sine(200, 0.1)(s) : 4000));
    expect(play.in('cycling', 1000, 2400)).toHaveLength(1400);
    // The next turn was due after one period; it is waited for not much longer.
    expect(play.in('cycling', 2400 + 400)).toEqual([]);
    expect(play.steadyAt(2400)).toBeLessThan(2400 + 700);
    expect(play.spans.at(-1)?.from).toBeGreaterThan(2400);
    expect(play.settling.cycle).toBeNull();
  });

  test('at once when something is told', () => {
    const play = new Play().run(2000, sine(200, 0.1));
    expect(play.said.at(-1)?.state).toBe('cycling');
    play.tell().run(1, 4000);
    expect(play.said.at(-1)).toMatchObject({ state: 'settling', span: null });
    expect(play.settling.cycle).toBeNull();
  });
});

describe('one swing is no cycle', () => {
  test('an overshoot has to come to rest', () => {
    const course = (s: number): number =>
      s < 600 ? 2500 : 4000 - 1500 * Math.exp(-(s - 600) / 120) * Math.cos((s - 600) / 50);
    const play = new Play().run(600, course).tell().run(1800, course);
    expect(play.in('cycling')).toEqual([]);
    for (const s of play.in('steady', 600)) {
      expect(Math.abs(course(s) - 4000), `at ${s} s`).toBeLessThan(near(4000));
    }
    expect(play.steadyAt(600)).toBeLessThan(600 + 700);
  });

  test('two changes are no cycle either', () => {
    const up = step({ from: 2500, to: 4000, atS: 600, tauS: 60 });
    const down = step({ from: 4000, to: 2500, atS: 1500, tauS: 60 });
    const play = new Play().run(3000, (s) => (s < 1500 ? up(s) : down(s)));
    expect(play.in('cycling')).toEqual([]);
    expect(play.spans).toHaveLength(3);
  });
});

test.each([100, 200, 300])('a draft that wanders by ±1.2 % is no cycle (seeds from %i)', (seed) => {
  for (let i = 0; i < 8; i++) {
    const random = randomStream(seed + i, 'draft');
    // First-order noise: each five seconds resemble those before by 0.8.
    let draft = 0;
    const play = new Play(seed + i).run(3600, (s) => {
      if (s % 5 === 0) draft = 0.8 * draft + 0.6 * 30 * random.normal();
      return 2500 + draft;
    });
    expect(play.in('cycling')).toEqual([]);
  }
});
