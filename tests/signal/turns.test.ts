/** Turning points of waves whose period and swing are known. */
import { describe, expect, test } from 'vitest';
import { type CycleFound, Turns } from '../../server/signal/turns.ts';
import { randomStream } from '../../simulator/random.ts';

const T0 = 1_777_885_200_000;
const STEP_S = 5;

/** What is seen of a wave, every five seconds up to `untilS`. */
function watch(wave: (s: number) => number, untilS: number, threshold = 100, turns = new Turns()) {
  const seen: { s: number; turned: boolean; cycle: CycleFound | null }[] = [];
  for (let s = 0; s <= untilS; s += STEP_S) {
    const t = T0 + s * 1000;
    const turned = turns.add(t, wave(s), threshold);
    if (turned && turns.last?.rising === true) turns.countCycle();
    seen.push({ s, turned, cycle: turns.cycle(t) });
  }
  return { turns, seen, last: seen.at(-1)?.cycle ?? null };
}

const square =
  (periodS: number, high = 3000, low = 0, on = 0.5) =>
  (s: number): number =>
    s % periodS < on * periodS ? high : low;
const sine =
  (periodS: number, amplitude: number) =>
  (s: number): number =>
    2500 + amplitude * Math.sin((2 * Math.PI * s) / periodS);

describe('cycles', () => {
  test.each([
    ['on and off', square(400), 400, 1500],
    ['a quarter on', square(600, 4000, 200, 0.25), 600, 1900],
    ['a quick sine', sine(60, 300), 60, 300],
    ['a slow sine', sine(900, 300), 900, 300],
  ])('%s: period and amplitude', (_, wave, periodS, amplitude) => {
    const { last } = watch(wave, 6 * periodS);
    expect(Math.abs((last?.periodS ?? NaN) / periodS - 1)).toBeLessThan(0.02 + STEP_S / periodS);
    expect(Math.abs((last?.amplitude ?? NaN) / amplitude - 1)).toBeLessThan(0.05);
  });

  test('are called after two whole periods and the beginning of a third, not before', () => {
    const { seen } = watch(square(400), 2400);
    const first = seen.find(({ cycle }) => cycle !== null)?.s;
    // It falls at 200, rises at 400, …: the fifth turn is at 1000.
    expect(first).toBe(1000);
  });

  test('begin and end with rising turns, and are counted', () => {
    const { last, seen } = watch(square(400), 2500);
    expect(last).toMatchObject({ from: T0 + 400_000, to: T0 + 2_400_000, count: 5 });
    // Up to the second: with each cycle one more.
    const counts = seen.map(({ cycle }) => cycle?.count ?? 0);
    expect([...new Set(counts)]).toEqual([0, 1, 2, 3, 4, 5]);
    const whole = seen.flatMap(({ cycle }) =>
      cycle === null ? [] : [(cycle.to - cycle.from) / 400_000 - cycle.count],
    );
    expect(new Set(whole)).toEqual(new Set([0]));
  });

  test('uneven ones, as a thermostat makes them, are cycles too', () => {
    const random = randomStream(7, 'thermostat');
    const edges: number[] = [0];
    while (edges.length < 20) edges.push((edges.at(-1) ?? 0) + 200 * random.between(0.85, 1.15));
    const wave = (s: number): number => (edges.filter((e) => e <= s).length % 2 === 0 ? 3000 : 0);
    const { seen } = watch(wave, 3500);
    const after = seen.filter(({ s }) => s > 1200);
    expect(after.every(({ cycle }) => cycle !== null)).toBe(true);
    for (const { cycle } of after) {
      expect(cycle?.periodS).toBeGreaterThan(340);
      expect(cycle?.periodS).toBeLessThan(460);
    }
  });

  test('once called they go through one uneven cycle', () => {
    // The fourth lasts almost twice as long.
    const wave = (s: number): number => square(400)(s < 1600 ? s : s < 2350 ? 0.55 * s : s + 50);
    const { seen } = watch(wave, 3600);
    expect(seen.filter(({ s }) => s >= 1000).every(({ cycle }) => cycle !== null)).toBe(true);
  });

  test('have ended when the next turn is long overdue', () => {
    const wave = (s: number): number => (s < 2100 ? square(400)(s) : 3000);
    const { seen } = watch(wave, 4000);
    const lastCalled = seen.filter(({ cycle }) => cycle !== null).at(-1)?.s ?? NaN;
    // The last fall was at 1800: due at 2200, over after 1.7 periods.
    expect(lastCalled).toBe(2480);
  });

  test('are called anew after a pause, which is none of them', () => {
    const wave = (s: number): number => (s > 2000 && s < 5000 ? 3000 : square(400)(s));
    const { last, seen } = watch(wave, 9000);
    expect(seen.find(({ s }) => s === 4000)?.cycle).toBeNull();
    expect(last?.from).toBeGreaterThan(T0 + 5_000_000);
    expect(((last?.to ?? NaN) - (last?.from ?? NaN)) / 400_000).toBe(last?.count);
  });
});

describe('no cycles', () => {
  const never = (wave: (s: number) => number, untilS = 4000, threshold = 100) => {
    const { seen, turns } = watch(wave, untilS, threshold);
    expect(seen.filter(({ cycle }) => cycle !== null)).toEqual([]);
    return turns;
  };

  test('a single step is one turn: where it leaves its beginning', () => {
    const turns = never((s) => (s < 600 ? 1000 : 3000));
    expect(turns.list).toEqual([{ t: T0 + 600_000, rising: true, value: 1000 }]);
  });

  test('a rise that overshoots turns once more', () => {
    const turns = never((s) => 3000 - 2000 * Math.exp(-s / 60) * Math.cos(s / 60));
    expect(turns.list.map(({ rising }) => rising)).toEqual([true, false]);
  });

  test('scatter below the threshold turns nowhere', () => {
    const random = randomStream(3, 'scatter');
    expect(never(() => 2500 + 99 * random.uniform()).list).toEqual([]);
    expect(never(() => 2500).list).toEqual([]);
  });

  test('a swing that dies away', () => {
    never((s) => 2500 + 2000 * Math.exp(-s / 150) * Math.sin((2 * Math.PI * s) / 200));
  });

  test('pauses without any order', () => {
    const steps = [0, 300, 420, 700, 1900, 2600, 2800, 3000];
    never((s) => (steps.filter((e) => e <= s).length % 2 === 0 ? 3000 : 0));
  });
});

test('after each turn of one kind comes one of the other, at the extreme between', () => {
  const random = randomStream(4, 'walk');
  let value = 2000;
  const values: number[] = [];
  const turns = new Turns();
  const found: { i: number; rising: boolean; value: number }[] = [];
  for (let i = 0; i < 2000; i++) {
    value += 60 * random.normal();
    values.push(value);
    if (turns.add(T0 + i * 5000, value, 150) && turns.last !== null) {
      found.push({ i, rising: turns.last.rising, value: turns.last.value });
    }
  }
  expect(found.length).toBeGreaterThan(50);
  found.forEach((turn, k) => {
    const before = found[k - 1];
    if (before !== undefined) expect(turn.rising).toBe(!before.rising);
    const since = values.slice(before?.i ?? 0, turn.i + 1);
    expect(turn.value).toBe(turn.rising ? Math.min(...since) : Math.max(...since));
    expect(Math.abs((values[turn.i] ?? NaN) - turn.value)).toBeGreaterThan(150);
  });
});

test('only the newest are kept, and how many came after a time is told', () => {
  const { turns } = watch(square(400), 20_000);
  expect(turns.list.length).toBeLessThanOrEqual(12);
  expect(turns.since(T0 + 19_000_000)).toBe(5);
  expect(turns.since(T0 + 20_000_000)).toBe(0);
});

test('rescaled, what was seen before is as if it had been so', () => {
  const { turns } = watch(square(400), 1900);
  const before = turns.cycle(T0 + 1_900_000);
  turns.rescale(1.05);
  expect(turns.cycle(T0 + 1_900_000)?.amplitude).toBeCloseTo(1.05 * (before?.amplitude ?? NaN), 9);
  expect(turns.reach(0)).toBeCloseTo(1.05 * 3000, 9);
  // What rose by so much with it has not turned.
  expect(turns.add(T0 + 1_905_000, 0, 100)).toBe(false);
});

test('cleared, nothing is left', () => {
  const { turns } = watch(square(400), 1900);
  turns.clear();
  expect(turns.cycle(T0 + 1_900_000)).toBeNull();
  expect([turns.last, turns.reach(-7)]).toEqual([null, 7]);
  expect(turns.add(T0 + 2_000_000, 0, 100)).toBe(false);
  expect(turns.add(T0 + 2_005_000, 50, 100)).toBe(false);
});
