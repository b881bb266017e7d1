import { describe, expect, it } from 'vitest';
import { Hand, HAND, type HandParameters, type Spot } from '../../simulator/hand.ts';
import { EVEN, type SectionSize, type Support } from '../../simulator/outlet-field.ts';
import { randomStream } from '../../simulator/random.ts';

const HEAD_M = 0.06;
const STEP_S = 0.1;

function hand(
  sections: readonly SectionSize[],
  parameters: HandParameters = HAND,
  supports: readonly Support[] = [],
): Hand {
  const opening = { sections, freeArea: 1, shape: { ...EVEN, supports } };
  return new Hand(opening, HEAD_M, randomStream(3, 'hand'), parameters);
}

function spots(moving: Hand, seconds: number): Spot[] {
  return Array.from({ length: Math.round(seconds / STEP_S) }, () => {
    const spot = moving.step(STEP_S);
    if (spot === null) throw new Error('out of the stream');
    return spot;
  });
}

describe('a hand that sweeps', () => {
  it('goes from end to end at about its pace, not evenly, and no nearer than half a head', () => {
    const sweeping = hand([{ widthM: 0.06, lengthM: 0.8 }]);
    sweeping.sweep(0);
    const way = spots(sweeping, 300).map(({ alongM }) => alongM);
    expect(Math.min(...way)).toBeGreaterThanOrEqual(HEAD_M / 2);
    expect(Math.max(...way)).toBeLessThanOrEqual(0.8 - HEAD_M / 2);
    expect(Math.min(...way)).toBeLessThan(HEAD_M / 2 + 0.02);
    const steps = way.slice(1).map((x, i) => Math.abs(x - (way[i] ?? NaN)) / STEP_S);
    const moving = steps.filter((v) => v > 0.001);
    const mean = moving.reduce((sum, v) => sum + v, 0) / moving.length;
    expect(mean).toBeGreaterThan(0.08);
    expect(mean).toBeLessThan(0.12);
    const sd = Math.sqrt(moving.reduce((sum, v) => sum + (v - mean) ** 2, 0) / moving.length);
    expect(sd / mean).toBeGreaterThan(0.1);
    // Rests at turns and elsewhere.
    expect(moving.length).toBeLessThan(0.99 * steps.length);
    expect(moving.length).toBeGreaterThan(0.8 * steps.length);
  });

  it.each(['lanes', 'zigzag'] as const)('paints all of a wide section in %s', (paints) => {
    const sweeping = hand([{ widthM: 0.25, lengthM: 0.5 }], { ...HAND, paints });
    sweeping.sweep(0);
    const all = spots(sweeping, 240);
    const across = all.map(({ acrossM }) => acrossM);
    expect(Math.min(...across)).toBeCloseTo(HEAD_M / 2, 2);
    expect(Math.max(...across)).toBeCloseTo(0.25 - HEAD_M / 2, 2);
    for (let x = 0.05; x < 0.5; x += 0.1) {
      for (let y = 0.03; y < 0.25; y += 0.05) {
        const near = all.some((s) => Math.hypot(s.alongM - x, s.acrossM - y) < HEAD_M / 2 + 0.01);
        expect(near, `${x} ${y}`).toBe(true);
      }
    }
  });

  it('is out of the stream while it rests, and goes on with what it did', () => {
    const sweeping = hand([{ widthM: 0.06, lengthM: 0.8 }]);
    expect(sweeping.step(STEP_S)).toBeNull();
    sweeping.sweep(0);
    spots(sweeping, 3);
    sweeping.rest();
    expect(sweeping.step(STEP_S)).toBeNull();
    sweeping.goOn();
    const [a, b] = [spots(sweeping, 1).at(-1), spots(sweeping, 3).at(-1)];
    expect(a?.alongM).not.toBe(b?.alongM);
  });
});

describe('a hand that holds', () => {
  it('stays at the point, as near to an end as half a head, beside a support', () => {
    const support = { section: 0, atM: 0.4, widthM: 0.02 };
    const holding = hand([{ widthM: 0.06, lengthM: 0.8 }], HAND, [support]);
    for (const [wanted, there] of [
      [0.2, 0.2],
      [0.01, HEAD_M / 2],
      [0.41, 0.44],
    ] as const) {
      holding.hold({ section: 0, alongM: wanted, acrossM: 0.03 });
      spots(holding, 5);
      const held = spots(holding, 5).map(({ alongM }) => alongM);
      const mean = held.reduce((sum, x) => sum + x, 0) / held.length;
      expect(mean).toBeCloseTo(there, 2);
    }
  });
});
