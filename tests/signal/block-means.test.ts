/** Means over blocks against the same worked out in two passes over all that was given. */
import { describe, expect, test } from 'vitest';
import { BLOCK_S, BlockMeans, KEPT, LEVELS } from '../../server/signal/block-means.ts';
import { randomStream } from '../../simulator/random.ts';

const T0_S = 1_777_885_200;
const COARSEST_S = BLOCK_S * 2 ** (LEVELS - 1);

function blocks(means: BlockMeans, level: number, n = KEPT): number[] {
  const to = new Float64Array(n);
  means.copyLast(level, n, to);
  return [...to];
}

function filled(values: readonly number[]): BlockMeans {
  const means = new BlockMeans();
  for (const value of values) means.add(value);
  return means;
}

const mean = (y: readonly number[]): number => y.reduce((sum, v) => sum + v, 0) / y.length;

/** Mean, variance and slope a second of evenly spaced means, whose middles lie at epoch seconds. */
function momentsOf(y: readonly number[], firstS: number, stepS: number) {
  const t = y.map((_, i) => firstS + i * stepS);
  const [my, mt] = [mean(y), mean(t)];
  const about = (i: number): number => (t[i] ?? NaN) - mt;
  const product = y.reduce((sum, v, i) => sum + (v - my) * about(i), 0);
  const square = y.reduce((sum, _, i) => sum + about(i) ** 2, 0);
  return {
    mean: my,
    variance: y.reduce((sum, v) => sum + (v - my) ** 2, 0) / (y.length - 1),
    slope: product / square,
  };
}

describe('after ten million seconds, one of them absurd', () => {
  const N = 10_000_000;
  const KEEP = KEPT * COARSEST_S;
  const means = new BlockMeans();
  const raw = new Float64Array(KEEP);
  const random = randomStream(11, 'capacity');
  for (let s = 0; s < N; s++) {
    const glitch = s === N - 2 * KEEP;
    const value = glitch ? 1e12 : 2500 + 300 * Math.sin(s / 700) + 20 * (random.uniform() - 0.5);
    raw[s % KEEP] = value;
    means.add(value);
  }

  test.each(Array.from({ length: LEVELS }, (_, level) => level))(
    'mean, variance and slope of level %i are those of two passes',
    (level) => {
      const lengthS = means.lengthS(level);
      // The last whole blocks: ten million is a multiple of each block's length.
      expect(N % lengthS).toBe(0);
      expect(means.count(level)).toBe(N / lengthS);
      const direct = Array.from({ length: KEPT }, (_, i) => {
        const from = N - (KEPT - i) * lengthS;
        let sum = 0;
        for (let s = from; s < from + lengthS; s++) sum += raw[s % KEEP] ?? NaN;
        return sum / lengthS;
      });
      const firstS = T0_S + N - (KEPT - 0.5) * lengthS;
      const ours = momentsOf(blocks(means, level), firstS, lengthS);
      const theirs = momentsOf(direct, firstS, lengthS);
      for (const name of ['mean', 'variance', 'slope'] as const) {
        expect(Math.abs(ours[name] / theirs[name] - 1), name).toBeLessThan(1e-9);
      }
      expect(theirs.mean).toBeGreaterThan(2000);
    },
  );

  test('an absurd second is gone when its block is', () => {
    const recent = new BlockMeans();
    for (let s = 0; s < 2 * KEEP; s++) recent.add(s === 7 ? 1e12 : 1000.1);
    for (let level = 0; level < LEVELS; level++) {
      for (const value of blocks(recent, level)) {
        expect(Math.abs(value / 1000.1 - 1)).toBeLessThan(1e-12);
      }
    }
  });
});

describe('seconds that are not known', () => {
  test('a block is the mean of those that are', () => {
    expect(blocks(filled([1, NaN, 3, NaN, 5]), 0, 1)).toEqual([3]);
  });

  test('with fewer than two of five it is not known', () => {
    expect(filled([NaN, NaN, 3, NaN, NaN]).last(0)).toBeNaN();
    expect(filled([NaN, NaN, NaN, NaN, NaN]).last(0)).toBeNaN();
    expect(filled([NaN, 2, NaN, NaN, 4]).last(0)).toBe(3);
  });

  test('of a pair of blocks one stands for both, and none for none', () => {
    const [one, none] = [Array<number>(5).fill(1), Array<number>(5).fill(NaN)];
    expect(filled([...one, ...none]).last(1)).toBe(1);
    expect(filled([...none, ...one]).last(1)).toBe(1);
    expect(filled([...none, ...none]).last(1)).toBeNaN();
    expect(filled([...none, ...none]).count(1)).toBe(1);
  });

  test('nothing is older than what was given', () => {
    const means = filled(Array<number>(12).fill(4));
    expect([means.last(0), means.last(0, 1), means.last(0, 2)]).toEqual([4, 4, NaN]);
    expect(means.last(1, 1)).toBeNaN();
    expect(means.last(LEVELS)).toBeNaN();
  });
});

describe('forgetting', () => {
  const counting = (n: number): BlockMeans => filled(Array.from({ length: n }, (_, s) => s));

  test.each([
    [60, 0, 12],
    [57, 0, 11],
    [4, 0, 0],
    [4, 3, 0],
    [60, 3, 11],
    [63, 3, 12],
  ])(
    'all but the last %i s, with %i s in the open block: %i whole blocks are left',
    (s, open, n) => {
      const means = counting(200 + open);
      const left = means.keepLast(s);
      expect(means.count(0)).toBe(n);
      expect(left).toBeLessThanOrEqual(s);
      expect(left).toBe(n * BLOCK_S + open);
      expect(means.last(0, n)).toBeNaN();
      if (n > 0) expect(means.last(0, n - 1)).toBe(200 - n * BLOCK_S + 2);
    },
  );

  test('coarser blocks are made anew of what is left, and go on from there', () => {
    const means = counting(200);
    means.keepLast(35);
    for (let s = 200; s < 205; s++) means.add(s);
    // Of 165 … 204: eight blocks of 5 s, one of 40 s.
    expect([0, 1, 2, 3, 4].map((level) => means.count(level))).toEqual([8, 4, 2, 1, 0]);
    expect(means.last(3)).toBe(184.5);
  });

  test('no more than is kept can be left', () => {
    const means = counting(1000);
    expect(means.keepLast(1e9)).toBe(KEPT * BLOCK_S);
    expect(means.last(0, KEPT - 1)).toBe(1000 - KEPT * BLOCK_S + 2);
  });

  test.each([0, -20])('with %i s to keep the next block begins now', (s) => {
    const means = counting(203);
    expect(means.keepLast(s)).toBe(0);
    for (let i = 0; i < 4; i++) expect(means.add(7)).toBe(false);
    expect(means.add(7)).toBe(true);
    expect([means.count(0), means.last(0)]).toEqual([1, 7]);
  });

  test('an open block that began before what is to be kept is not kept', () => {
    const means = filled([...Array<number>(203).fill(1), 9]);
    expect(means.keepLast(1)).toBe(0);
    for (let i = 0; i < BLOCK_S; i++) means.add(9);
    expect(means.last(0)).toBe(9);
  });
});

test('the mean of a time that is over', () => {
  const means = filled(Array.from({ length: 1000 }, (_, s) => s));
  // Seconds count up: those that ended 100 ago lie that much lower.
  expect(means.mean(60, 100)).toBeCloseTo(means.mean(60) - 100, 9);
  // Longer ago in coarser steps, and what was never seen is not known.
  expect(Math.abs(means.mean(60, 600) - (means.mean(60) - 600))).toBeLessThan(20);
  expect(means.mean(60, 1000)).toBeNaN();
});

test('rescaled, all that is kept is, and the open block with it', () => {
  const values = Array.from({ length: 1603 }, (_, s) => 1000 + s);
  const rescaled = filled(values);
  rescaled.rescale(1.07);
  const anew = filled(values.map((v) => 1.07 * v));
  for (const means of [rescaled, anew]) for (const v of [2000, 2010]) means.add(v);
  for (let level = 0; level < LEVELS; level++) {
    const n = Math.min(KEPT, anew.count(level));
    expect(n).toBeGreaterThan(9);
    blocks(rescaled, level, n).forEach((value, i) => {
      expect(value).toBeCloseTo(blocks(anew, level, n)[i] ?? NaN, 9);
    });
  }
});

test('it holds the last three hours, nearly, and no more, however long it goes on', () => {
  const means = filled(Array<number>(100_000).fill(1));
  expect(means.count(LEVELS - 1)).toBe(100_000 / COARSEST_S);
  for (let level = 0; level < LEVELS; level++) {
    expect(means.last(level, KEPT - 1)).toBe(1);
    expect(means.last(level, KEPT)).toBeNaN();
  }
});
