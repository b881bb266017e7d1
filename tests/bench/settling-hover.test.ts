/**
 * Hover is what it says it is. The figures that it is held against are those of a laboratory heat pump's
 * record, read every 5 s for 41 minutes, as they were handed down to us; the record itself is not to be
 * had.
 */
import { describe, expect, it, test } from 'vitest';
import { randomStream } from '../../simulator/random.ts';
import { HOVER_KINDS } from './settling/hover-kinds.ts';
import {
  autocorrelation,
  hover,
  LABORATORY,
  LABORATORY_RECORD,
  type Machine,
  MACHINES,
  scatterOfMean,
} from './settling/hover.ts';
import { mean } from './settling/tally.ts';
import { at } from './settling/visit.ts';

/** So long that by chance an autocorrelation is off by some 0.01. */
const LONG = 400_000;

function drawn(machine: Machine, seconds = LONG): Float64Array {
  const random = randomStream(1, machine);
  const next = hover(MACHINES[machine](random), random);
  return Float64Array.from({ length: seconds }, next);
}

/** Of a sample, by products: nothing of hover.ts is in it. */
function measured(values: Float64Array, lag: number): number {
  let products = 0;
  let squares = 0;
  for (let i = 0; i < values.length - lag; i++) {
    products += at(values, i) * at(values, i + lag);
    squares += at(values, i) ** 2;
  }
  return products / squares;
}

function scatter(values: Float64Array, length: number): number {
  const means: number[] = [];
  for (let i = 0; i + length <= values.length; i += length) {
    means.push(mean([...values.subarray(i, i + length)]));
  }
  return Math.sqrt(mean(means.map((value) => value * value)));
}

describe('the laboratory’s hover', () => {
  const values = drawn('laboratory');

  it.each(Object.entries(LABORATORY_RECORD.autocorrelation))(
    'at a lag of %s s is as alike as the record says',
    (lag, wanted) => {
      expect(Math.abs(measured(values, Number(lag)) - wanted)).toBeLessThan(0.05);
    },
  );

  it.each(Object.entries(LABORATORY_RECORD.scatterOfMeans))(
    'in means of %s s scatters as the record says',
    (length, wanted) => {
      expect(Math.abs(scatter(values, Number(length)) - wanted)).toBeLessThan(0.1);
    },
  );
});

describe.each(Object.keys(MACHINES) as Machine[])('the hover of %s', (machine) => {
  const random = randomStream(1, machine);
  const spectrum = MACHINES[machine](random);
  const values = drawn(machine);

  it('has mean 0 and standard deviation 1', () => {
    expect(spectrum.reduce((sum, { weight }) => sum + weight, 0)).toBeCloseTo(1, 9);
    expect(Math.abs(mean([...values]))).toBeLessThan(0.08);
    expect(Math.abs(scatter(values, 1) - 1)).toBeLessThan(0.04);
  });

  it('has the autocorrelation of its formula', () => {
    for (const lag of [1, 5, 30, 100]) {
      expect(Math.abs(measured(values, lag) - autocorrelation(spectrum, lag))).toBeLessThan(0.05);
    }
  });

  it('is as wide at its beginning as later', () => {
    const firsts = Array.from({ length: 4000 }, (_, seed) =>
      hover(spectrum, randomStream(seed, 'first'))(),
    );
    expect(Math.abs(Math.sqrt(mean(firsts.map((v) => v * v))) - 1)).toBeLessThan(0.05);
  });
});

test('the scatter of a mean follows from the autocorrelation', () => {
  expect(Math.abs(scatterOfMean(LABORATORY, 60) - scatter(drawn('laboratory'), 60))).toBeLessThan(
    0.03,
  );
});

test('visits hover by as much as their kind says, and about their level', () => {
  for (const [name, share] of [
    ['flat-1.5-1s', 0.015],
    ['flat-4-60s', 0.04],
    ['flat-0-5s', 0],
  ] as const) {
    const kind = HOVER_KINDS.find((each) => each.name === name);
    const squares = [0, 1, 2, 3].map((seed) => {
      const visit = kind?.make(seed);
      expect(visit?.source).toBe('hover');
      const { trueW, levelW } = visit ?? { trueW: new Float64Array(), levelW: null };
      if (levelW === null) throw new Error('no level');
      return mean([...trueW].map((watts, i) => (watts / at(levelW, i) - 1) ** 2));
    });
    expect(Math.abs(Math.sqrt(mean(squares)) - share), name).toBeLessThanOrEqual(0.3 * share);
  }
});
