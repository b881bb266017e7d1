/** The best possible judge: its posterior is as sure as it says, and it needs what it is told. */
import { expect, test } from 'vitest';
import { bestJudge, normal } from './settling/best-judge.ts';
import { figuresOf } from './settling/figures.ts';
import { HOVER_KINDS } from './settling/hover-kinds.ts';
import { addTally, emptyTally, mean } from './settling/tally.ts';
import { at } from './settling/visit.ts';

test('the normal distribution, against its table (four digits, from memory)', () => {
  for (const [z, p] of [
    [0, 0.5],
    [1, 0.8413],
    [1.96, 0.975],
    [-1.645, 0.05],
  ] as const) {
    expect(normal(z)).toBeCloseTo(p, 4);
  }
});

test('it is off its goal by as much as it says that it may be, no more and no less', () => {
  const squares: number[] = [];
  for (const { make } of HOVER_KINDS.filter(({ name }) => /^approach-(1|1\.5)-5s$/.test(name))) {
    for (let seed = 0; seed < 8; seed++) {
      const visit = make(seed);
      const seen = bestJudge(visit);
      for (const { approach, from } of visit.segments) {
        if (approach === null) continue;
        const i = Math.round(from + approach.deadS + 2 * approach.tauS);
        squares.push(
          ((1.96 * (at(seen.plateauW, i) - at(visit.plateauW, i))) / at(seen.plateauU95W, i)) ** 2,
        );
      }
    }
  }
  expect(squares.length).toBeGreaterThan(25);
  // The root of the mean of some 30 squares is 1 ± 0.13 where the model is right.
  expect(Math.abs(Math.sqrt(mean(squares)) - 1)).toBeLessThan(0.35);
}, 120_000);

test('where nothing hovers it calls a flat stretch steady at once and for good', () => {
  const tally = emptyTally();
  for (const { make } of HOVER_KINDS.filter(({ name }) => name === 'flat-0-1s')) {
    const visit = make(1);
    addTally(tally, figuresOf(visit, bestJudge(visit)));
  }
  expect(tally.flatSteadyS).toBe(tally.flatS);
  expect(tally.flatChanges).toBe(0);
});

test('cannot judge what nothing is known of', () => {
  const visit = HOVER_KINDS[0]?.make(0);
  if (visit === undefined) throw new Error('no kind');
  expect(() => bestJudge({ ...visit, knowledge: null })).toThrow('nothing is known');
});
