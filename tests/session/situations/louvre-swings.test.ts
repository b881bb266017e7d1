/** A louvre that swings. What a probe shows of it is the gain of a first-order lag, 1/√(1 + (2πτ/P)²). */
import { describe, expect, it } from 'vitest';
import { EvenSwing } from '../../../server/session/situations/even-swing.ts';
import { randomStream } from '../../../simulator/random.ts';
import { scenario } from '../../../simulator/scenarios.ts';
import { TestVisit } from '../visit.ts';
import { firstOf, slower } from './simulated.ts';

const gain = (lagS: number, periodS: number): number =>
  1 / Math.hypot(1, (2 * Math.PI * lagS) / periodS);

function watch(seconds: number, value: (s: number) => number): EvenSwing {
  const swing = new EvenSwing(0.12);
  for (let s = 0; s < seconds; s++) swing.second(value(s));
  return swing;
}

describe('an even swing', () => {
  it.each([
    [6, 6],
    [14, 6],
    [14, 20],
    [29, 35],
  ])('with a period of %s s, through a lag of %s s: its period and size', (periodS, lagS) => {
    const amplitude = 3 * gain(lagS, periodS);
    const random = randomStream(1, 'swing');
    const swing = watch(
      180,
      (s) => 14 + amplitude * Math.sin((2 * Math.PI * s) / periodS) + 0.02 * random.normal(),
    );
    expect(swing.found?.periodS).toBeCloseTo(periodS, -0.5);
    expect(Math.abs((swing.found?.amplitude ?? NaN) / amplitude - 1)).toBeLessThan(0.1);
  });

  it('is not seen below what can be told from nothing, and ends when it stops', () => {
    const wave = (s: number): number => Math.sin((2 * Math.PI * s) / 14);
    expect(watch(600, (s) => 14 + 0.1 * wave(s)).found).toBeNull();
    expect(watch(600, (s) => 14 + (s < 300 ? wave(s) : 0)).found).toBeNull();
  });

  it.each<[string, (s: number, normal: number) => number]>([
    ['noise', (_s, n) => 14 + 0.3 * n],
    ['a controller that hunts in 45 s', (s) => 14 + Math.sin((2 * Math.PI * s) / 45)],
    ['a course', (s) => 12 + 14 * Math.exp(-s / 90)],
    ['steps', (s) => 14 + (Math.floor(s / 97) % 2)],
    ['readings each ten seconds that scatter', (s) => 14 + ((Math.floor(s / 10) * 7919) % 13) / 26],
  ])('is none: %s', (_name, value) => {
    const random = randomStream(2, 'no swing');
    for (const seconds of [150, 300, 900]) {
      expect(watch(seconds, (s) => value(s, random.normal())).found).toBeNull();
    }
  });
});

describe('in a visit', () => {
  it.each([
    [14, 1],
    [10, 3],
    [28, 5],
  ])('a period of %s s, probes %s times as slow: named within five minutes', (periodS, times) => {
    const parameters = scenario('louvre-swings');
    const swinging = {
      ...parameters,
      units: parameters.units.map((unit) => ({
        ...unit,
        head: { ...unit.head, louvre: { periodS, away: 0.5 } },
      })),
    };
    const first = firstOf('louvre-swings', slower(swinging, times), 1, 300, []);
    const said = Number(/every (\d+) s/.exec(first?.text ?? '')?.[1]);
    expect(Math.abs(said / periodS - 1)).toBeLessThan(0.1);
  });

  it('where the supply probe is too slow, the velocity in the outlet tells', () => {
    const visit = new TestVisit();
    visit.take({ type: 'probe', id: 'v', unit: 'u1', place: 'outlet' });
    for (let s = 0; s < 240; s++) {
      visit.run(s, s + 1, () => 12);
      visit.reading('v', s * 1000 + 500, { velocityMs: 3 + Math.sin((2 * Math.PI * s) / 12) });
    }
    const doubt = visit.unit().doubts.find(({ code }) => code === 'louvre-swings');
    expect(doubt?.text).toMatch(/^The velocity in the outlet swings evenly, about every 12 s/);
  });
});
