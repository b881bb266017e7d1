/** Defrosts on prescribed courses: what a unit delivers, how warm its supply is, and the weather. */
import { describe, expect, test } from 'vitest';
import { AFTER_S, Defrost, type DefrostSpan } from '../../server/signal/defrost.ts';

const T0 = 1_777_885_200_000;

interface Course {
  watts: (s: number) => number;
  /** Supply less return, K. */
  riseK?: (s: number) => number;
  outdoorC?: number;
  /** When something was told to the unit. */
  toldS?: number;
}

interface Seen {
  s: number;
  what: 'begins' | 'ends';
  span: DefrostSpan | null;
}

function watch({ watts, riseK, outdoorC = NaN, toldS }: Course, untilS: number) {
  const defrost = new Defrost();
  const seen: Seen[] = [];
  const spans: { s: number; span: DefrostSpan | null }[] = [];
  for (let s = 0; s < untilS; s++) {
    if (s === toldS) defrost.changed();
    const rise = riseK?.(s) ?? watts(s) / 180;
    const what = defrost.second(T0 + s * 1000, watts(s), rise, outdoorC);
    const span = defrost.span === null ? null : { ...defrost.span };
    if (what !== null) seen.push({ s, what, span });
    spans.push({ s, span });
  }
  return { seen, spans };
}

const OUT = 1200;
/** 4 kW, then for so long next to nothing or less, then again. */
const pause =
  (seconds: number, meanwhileW: number) =>
  (s: number): number =>
    s >= OUT && s < OUT + seconds ? meanwhileW : 4000;

describe('supply colder than return', () => {
  test.each([NaN, -5, 5])('is one, at once, with %f °C outdoors', (outdoorC) => {
    const { seen } = watch({ watts: pause(360, -800), outdoorC }, 2400);
    expect(seen.map(({ what }) => what)).toEqual(['begins', 'ends']);
    expect(seen[0]?.s).toBeLessThan(OUT + 5);
    expect(seen[0]?.span).toEqual({ from: T0 + OUT * 1000, to: null });
    expect(seen[1]?.s).toBe(OUT + 360);
    expect(seen[1]?.span).toEqual({ from: T0 + OUT * 1000, to: T0 + (OUT + 360) * 1000 });
  });

  test('not in mild weather: there is no frost to melt', () => {
    expect(watch({ watts: pause(360, -800), outdoorC: 12 }, 2400).seen).toEqual([]);
  });

  test('by no more than probes differ it says nothing', () => {
    const riseK = (s: number): number => (s >= OUT && s < OUT + 60 ? -1 : 22);
    expect(watch({ watts: pause(60, -100), riseK }, 2400).seen).toEqual([]);
  });
});

describe('with the fan off, so that nothing cold is felt', () => {
  test('in frosty weather it is one after some seconds, from its beginning', () => {
    const { seen } = watch({ watts: pause(240, 0), outdoorC: 1 }, 2400);
    expect(seen.map(({ what }) => what)).toEqual(['begins', 'ends']);
    expect(seen[0]?.s).toBe(OUT + 10);
    expect(seen[0]?.span?.from).toBe(T0 + OUT * 1000);
  });

  test('in mild weather it is a pause', () => {
    expect(watch({ watts: pause(240, 0), outdoorC: 10 }, 2400).seen).toEqual([]);
  });

  test('in weather that nobody knows it is found when it is over', () => {
    const { seen } = watch({ watts: pause(240, 0) }, 2400);
    expect(seen.map(({ what }) => what)).toEqual(['ends']);
    expect(seen[0]?.s).toBe(OUT + 240);
    expect(seen[0]?.span).toEqual({ from: T0 + OUT * 1000, to: T0 + (OUT + 240) * 1000 });
  });

  test('in such weather a pause soon after the last one is no defrost: it has not frosted over', () => {
    const watts = (s: number): number => (s < OUT ? 4000 : (s - OUT) % 1400 < 240 ? 0 : 4000);
    const { seen } = watch({ watts }, 6000);
    expect(seen.map(({ what, s }) => [what, s])).toEqual([['ends', OUT + 240]]);
    const rarer = (s: number): number => (s < OUT ? 4000 : (s - OUT) % 1500 < 240 ? 0 : 4000);
    expect(watch({ watts: rarer }, 6000).seen).toHaveLength(4);
    // Dips are no pauses.
    const dips = (s: number): number => (s % 300 >= 100 && s % 300 < 105 ? 0 : pause(240, 0)(s));
    expect(watch({ watts: dips }, 2400).seen.map(({ what }) => what)).toEqual(['ends']);
  });

  test.each([60, 1300])('in such weather a pause of %i s is as long as none', (seconds) => {
    expect(watch({ watts: pause(seconds, 0) }, 4000).seen).toEqual([]);
  });
});

describe('what is none', () => {
  test.each([
    ['half the output', pause(300, 1800)],
    ['a dip of a few seconds', pause(8, 0)],
    ['a unit that never delivered', () => 100],
    ['a unit that starts', (s: number) => (s < OUT ? 0 : 4000)],
    ['one that is switched off', (s: number) => (s < OUT ? 4000 : 0)],
  ])('%s, in unknown weather', (_, watts) => {
    expect(watch({ watts }, 3000).seen).toEqual([]);
  });

  test('seconds without a figure', () => {
    expect(watch({ watts: pause(240, NaN), outdoorC: 0 }, 3000).seen).toEqual([]);
  });

  test.each([0, 30, 120])('less output because less was asked for %i s before', (agoS) => {
    const less = (s: number): number => (s < OUT ? 4000 : 900);
    expect(watch({ watts: less, outdoorC: 0, toldS: OUT - agoS }, 3000).seen).toEqual([]);
    // And nobody having told that, in frosty weather, it might have been one.
    expect(watch({ watts: less, outdoorC: 0 }, 3000).seen[0]?.what).toBe('begins');
  });
});

describe('when something is told', () => {
  test('minutes before it, it is found all the same', () => {
    const { seen } = watch({ watts: pause(360, -800), outdoorC: 0, toldS: OUT - 300 }, 2400);
    expect(seen.map(({ what }) => what)).toEqual(['begins', 'ends']);
  });

  test('in the midst of it, it goes on', () => {
    const { seen } = watch({ watts: pause(360, -800), outdoorC: 0, toldS: OUT + 100 }, 2400);
    expect(seen.map(({ s, what }) => [what, s])).toEqual([
      ['begins', OUT + 1],
      ['ends', OUT + 360],
    ]);
  });

  test('in the minutes after it, these are counted to their end', () => {
    const { spans } = watch({ watts: pause(360, -800), outdoorC: 0, toldS: OUT + 400 }, 2400);
    expect(spans.filter(({ span }) => span !== null).at(-1)?.s).toBe(OUT + 360 + AFTER_S - 1);
  });
});

test('it is remembered for the minutes after it, and no longer', () => {
  const { spans } = watch({ watts: pause(240, 0), outdoorC: 1 }, 2400);
  const stands = spans.flatMap(({ s, span }) => (span === null ? [] : [s]));
  expect([stands[0], stands.at(-1)]).toEqual([OUT + 10, OUT + 240 + AFTER_S - 1]);
  expect(stands).toHaveLength(240 - 10 + AFTER_S);
});

test('one that never ends is something else after twenty minutes', () => {
  const { seen } = watch({ watts: (s) => (s < OUT ? 4000 : 0), outdoorC: -5 }, 4000);
  expect(seen.map(({ what }) => what)).toEqual(['begins', 'ends']);
  expect(seen[1]?.s).toBe(OUT + 1200);
});

test('one after another, each by itself', () => {
  const watts = (s: number): number => (s % 2400 >= 2000 && s % 2400 < 2300 ? -600 : 4000);
  const { seen } = watch({ watts, outdoorC: -2 }, 10_000);
  expect(seen.map(({ what }) => what)).toEqual(Array(4).fill(['begins', 'ends']).flat());
  expect(new Set(seen.map(({ span }) => span?.from)).size).toBe(4);
});

test('a warm-up after it that takes its time belongs to it, until it is back at most', () => {
  const watts = (s: number): number =>
    s < OUT ? 4000 : s < OUT + 240 ? -500 : 4000 - 4500 * Math.exp(-(s - OUT - 240) / 100);
  const { seen } = watch({ watts, outdoorC: -2 }, 3000);
  const ended = seen[1]?.s ?? NaN;
  expect(watts(ended) / 4000).toBeGreaterThan(0.58);
  expect(watts(ended - 1) / 4000).toBeLessThan(0.62);
});
