/** Captures of a unit against a settling that says what it is told to say. */
import { describe, expect, test } from 'vitest';
import { ErrorList } from '../../server/measure/error-list.ts';
import { student95 } from '../../server/measure/student.ts';
import type { Capture, CaptureSetting } from '../../server/protocol.ts';
import { CaptureMean, type Capturing } from '../../server/session/capture-mean.ts';
import { NO_CAPACITY } from '../../server/session/figures.ts';
import type { Span } from '../../server/signal/settling.ts';
import { randomStream } from '../../simulator/random.ts';
import { T0 } from './visit.ts';

const SENSIBLE = 0.7;
const U95 = 100;
const ERRORS = ErrorList.from([
  { kind: 'airflow', of: 'x', totalW: 51, sensibleW: 36, latentW: 15, shape: 0 },
]);

const SETTING: CaptureSetting = {
  ...{ setpointC: 18, fan: 'high', wetness: 1, flowM3s: 0.2, dryAirKgs: 0.24, source: 'entered' },
  ...{ flowLimitPct: 5, pressurePa: 101_325, returnProbes: ['r'], supplyProbes: ['s'] },
  ...{ outdoorC: 35, indoorC: 26.7, indoorWetBulbC: 19.4, powerW: null, groupW: null },
  ...{ indoorPct: 51, supplyC: 12, supplyPct: 94, roomC: null },
};

/** A capture mean with what it made. */
class Stage {
  readonly capturing: { captureAfterS: number | null; everySpan: boolean };
  readonly mean: CaptureMean;
  readonly made: Capture[] = [];
  u95: Pick<Capture, 'totalU95W' | 'sensibleU95W' | 'latentU95W'> = {
    ...{ totalU95W: U95, sensibleU95W: 0.7 * U95, latentU95W: 0.3 * U95 },
  };

  constructor(capturing: Partial<Capturing> = {}) {
    this.capturing = { captureAfterS: 120, everySpan: false, ...capturing };
    this.mean = new CaptureMean('u1', this.capturing, () => SETTING);
  }

  /** One second; without a figure where `totalW` is null. */
  second(s: number, totalW: number | null, span: Span | null, cycleEnds = false): void {
    const figures =
      totalW === null
        ? NO_CAPACITY
        : {
            ...NO_CAPACITY,
            ...{ totalW, sensibleW: SENSIBLE * totalW, latentW: (1 - SENSIBLE) * totalW },
            ...this.u95,
          };
    const errors = s % 10 === 0 ? ERRORS : null;
    this.made.push(
      ...this.mean.second(
        { t: T0 + s * 1000, figures, mode: 'cooling', simulated: false, errors },
        { span, cycleEnds },
      ),
    );
  }

  /** Steady from `fromS`, called so at `calledS`, up to and without `toS`. */
  steady(fromS: number, calledS: number, toS: number, watts: (s: number) => number): void {
    for (let s = fromS; s < toS; s++) {
      this.second(s, watts(s), s < calledS ? null : span('steady', fromS, s));
    }
  }
}

const span = (kind: Span['kind'], fromS: number, toS: number): Span => ({
  kind,
  from: T0 + fromS * 1000,
  to: T0 + toS * 1000,
});

describe('a steady span', () => {
  test('is averaged from its beginning, half an hour before it was called as well', () => {
    const stage = new Stage();
    stage.steady(0, 1800, 1900, (s) => (s < 950 ? 1000 : 3000));
    stage.second(1900, 3000, null);
    expect(stage.made).toHaveLength(1);
    expect(stage.made[0]).toMatchObject({ from: T0, to: T0 + 1_899_000, state: 'steady' });
    expect(stage.made[0]?.totalW).toBeCloseTo(2000, 6);
    expect(stage.made[0]).not.toHaveProperty('cycles');
  });

  test('seconds that nobody has judged yet are not averaged', () => {
    const stage = new Stage();
    for (let s = 0; s < 60; s++)
      stage.second(s, s < 30 ? 1000 : 9000, span('steady', 0, Math.min(s, 29)));
    stage.second(60, 9000, null);
    expect(stage.made.map((c) => [c.totalW, c.to - T0])).toEqual([[1000, 29_000]]);
  });

  test('seconds without a figure are passed over', () => {
    const stage = new Stage();
    for (let s = 0; s < 60; s++) stage.second(s, s % 2 === 0 ? 1000 : null, span('steady', 0, s));
    expect(stage.mean.running?.meanW).toBeCloseTo(1000, 9);
  });

  test('its interval: the errors as they are, and the scatter', () => {
    const stage = new Stage();
    const random = randomStream(3, 'steady');
    stage.steady(0, 10, 400, () => 2000 + 50 * random.normal());
    stage.second(400, 2000, null);
    const u95 = stage.made.at(-1)?.totalU95W ?? NaN;
    // White noise of 50 W over 400 s: 1.96 · 50/√400 = 4.9 W beside the 100 W of the errors.
    expect(u95).toBeGreaterThan(U95);
    expect(Math.sqrt(u95 ** 2 - U95 ** 2)).toBeGreaterThan(3.5);
    expect(Math.sqrt(u95 ** 2 - U95 ** 2)).toBeLessThan(7);
  });

  test('while it goes on its mean is at hand, with the scatter alone', () => {
    const stage = new Stage();
    expect(stage.mean.running).toBeNull();
    stage.steady(0, 10, 100, (s) => 2000 + (s % 2 === 0 ? 10 : -10));
    expect(stage.mean.running?.meanW).toBeCloseTo(2000, 6);
    expect(stage.mean.running?.u95W).toBeLessThan(3);
    stage.second(100, 2000, null);
    expect(stage.mean.running).toBeNull();
  });

  test('two spans never share a second', () => {
    const stage = new Stage();
    stage.steady(0, 180, 300, () => 1000);
    stage.second(300, 1000, null);
    for (let s = 301; s < 500; s++) stage.second(s, 2000, span('steady', 250, s));
    stage.second(500, 2000, null);
    const [first, second] = stage.made.filter((c) => c.open !== true);
    expect(second?.from).toBeGreaterThan(first?.to ?? Infinity);
  });
});

describe('a span that is cut, since an airflow was told', () => {
  /** Steady for 400 s about 2780 W, cut, and for so many seconds more about 2610 W. */
  function cutAfter(watts: (s: number, level: number) => number, secondsMore: number): Stage {
    const stage = new Stage();
    stage.steady(0, 100, 400, (s) => watts(s, 2780));
    stage.made.push(...[stage.mean.cut()].filter((capture) => capture !== null));
    for (let s = 400; s < 400 + secondsMore; s++) {
      stage.second(s, watts(s, 2610), span('steady', 0, s));
    }
    return stage;
  }

  test('goes on as another capture, of its own seconds only', () => {
    const stage = cutAfter((_, level) => level, 130);
    stage.second(530, 2610, null);
    const finals = stage.made.filter(({ open }) => open !== true);
    expect(
      finals.map(({ totalW, from, to }) => [totalW, (from - T0) / 1000, (to - T0) / 1000]),
    ).toEqual([
      [2780, 0, 399],
      [2610, 400, 529],
    ]);
  });

  test('a touch before its first second has been judged is made with that', () => {
    const stage = cutAfter((_, level) => level, 0);
    expect(stage.mean.touch()).toBe('next');
    stage.second(400, 2610, span('steady', 0, 399));
    stage.second(401, 2610, span('steady', 0, 401));
    expect(stage.made.at(-1)).toMatchObject({ by: 'touch', totalW: 2610, from: T0 + 400_000 });
    stage.second(402, 2610, span('steady', 0, 402));
    expect(stage.made.filter(({ by }) => by === 'touch')).toHaveLength(1);
  });

  test('a touch whose span ends instead is forgotten', () => {
    const stage = cutAfter((_, level) => level, 0);
    stage.mean.touch();
    for (let s = 400; s < 500; s++) stage.second(s, 2610, s < 450 ? null : span('steady', 450, s));
    expect(stage.made.filter(({ by }) => by === 'touch')).toEqual([]);
    expect(stage.mean.touch()).toMatchObject({ from: T0 + 450_000 });
  });

  // A hover of 2 % with a memory of 20 s: a first-order process with a known level (Monte Carlo).
  test.each([1, 5, 20, 60])(
    'its interval knows from the seconds before how a mean of %i scatters',
    (seconds) => {
      const runs = 400;
      const random = randomStream(8, `hover ${seconds}`);
      let held = 0;
      for (let run = 0; run < runs; run++) {
        let x = random.normal();
        const stage = cutAfter((_, level) => {
          x = x * Math.exp(-1 / 20) + random.normal() * Math.sqrt(1 - Math.exp(-2 / 20));
          return level * (1 + 0.02 * x);
        }, seconds);
        const { meanW, u95W } = stage.mean.running ?? { meanW: NaN, u95W: null };
        if (Math.abs(meanW - 2610) <= (u95W ?? NaN)) held++;
      }
      // 95 in 100, less what 400 s tell too little of a memory of 20 s.
      expect(held / runs).toBeGreaterThan(0.89);
      expect(held / runs).toBeLessThan(0.985);
    },
  );

  test('cycles of before are not averaged with those that follow', () => {
    const stage = new Stage();
    const s = cycling(stage, [400, 400, 400], () => 4000);
    stage.mean.cut();
    for (let more = 1; more <= 1200; more++) {
      const start = s + more - (more % 400);
      const watts = more % 400 < 100 ? 2000 : 0;
      stage.second(s + more, watts, span('cycling', 0, start), more % 400 === 0);
    }
    // The cycle in which it was told is of neither.
    expect(stage.mean.running).toMatchObject({ cycles: 2, meanW: 500 });
  });
});

describe('without an interval', () => {
  const unknown = { totalU95W: null, sensibleU95W: null, latentU95W: null };

  test.each([
    [false, 0],
    [true, 1],
  ])('nothing is made by itself, but of a log that is looked through: %s', (everySpan, made) => {
    const stage = new Stage({ everySpan });
    stage.u95 = unknown;
    stage.steady(0, 10, 400, () => 2000);
    expect(stage.mean.touch()).toMatchObject({ totalW: 2000, totalU95W: null });
    stage.second(400, 2000, null);
    expect(stage.made).toHaveLength(made);
  });
});

describe('when a capture is made', () => {
  test('by itself once the span has held, open; the final one has the same beginning', () => {
    const stage = new Stage({ captureAfterS: 60 });
    stage.steady(0, 180, 239, () => 1000);
    expect(stage.made).toEqual([]);
    for (let s = 239; s < 300; s++) stage.second(s, 1000, span('steady', 0, s));
    expect(stage.made).toHaveLength(1);
    expect(stage.made[0]).toMatchObject({ from: T0, by: 'itself', open: true });
    stage.second(300, 1000, null);
    expect(stage.made).toHaveLength(2);
    expect(stage.made[1]).toMatchObject({ from: T0, to: T0 + 299_000, by: 'itself' });
    expect(stage.made[1]).not.toHaveProperty('open');
  });

  test('never by itself: nothing but what a touch made', () => {
    const stage = new Stage({ captureAfterS: null });
    expect(stage.mean.touch()).toBeNull();
    stage.steady(0, 180, 300, () => 1000);
    const touched = stage.mean.touch();
    expect(touched).toMatchObject({ from: T0, to: T0 + 299_000, by: 'touch', totalW: 1000 });
    expect(touched).not.toHaveProperty('open');
    stage.second(300, 1000, null);
    expect(stage.mean.end()).toBeNull();
    expect(stage.made).toEqual([]);
  });

  test('for a log that is looked through, one of each span all the same', () => {
    const stage = new Stage({ captureAfterS: null, everySpan: true });
    stage.steady(0, 180, 300, () => 1000);
    stage.second(300, 1000, null);
    expect(stage.made.map((c) => [c.by, c.open])).toEqual([['itself', undefined]]);
  });

  test('one that is open is ended, though the setting was changed meanwhile', () => {
    const stage = new Stage({ captureAfterS: 0 });
    stage.steady(0, 180, 200, () => 1000);
    expect(stage.made[0]?.open).toBe(true);
    stage.capturing.captureAfterS = null;
    stage.second(200, 1000, null);
    expect(stage.made).toHaveLength(2);
    expect(stage.made[1]).not.toHaveProperty('open');
  });
});

/** Cycles of the given lengths, s; the first quarter of each delivers, with `watts` of that cycle. */
function cycling(
  stage: Stage,
  lengths: readonly number[],
  watts: (cycle: number) => number,
  calledAfter = 2,
): number {
  let s = 0;
  let first = 0;
  lengths.forEach((length, cycle) => {
    const start = s;
    if (cycle === 0) first = start;
    for (; s < start + length; s++) {
      const on = s - start < length / 4;
      const called = cycle >= calledAfter ? span('cycling', first, start) : null;
      stage.second(s, on ? watts(cycle) : 0, called, s === start);
    }
  });
  stage.second(s, 0, span('cycling', first, s), true);
  return s;
}

describe('over whole cycles', () => {
  test('no part of a cycle weighs more, although the span ends within one', () => {
    const stage = new Stage();
    const s = cycling(stage, [400, 400, 400, 400], () => 4000);
    // A quarter of the next one, in which it delivers: not a whole cycle.
    for (let more = 1; more < 100; more++) {
      stage.second(s + more, 4000, span('cycling', 0, s));
    }
    stage.second(s + 100, 4000, null);
    const capture = stage.made.at(-1);
    expect(capture).toMatchObject({ state: 'cycling', cycles: 4, from: T0, to: T0 + s * 1000 });
    expect(capture?.totalW).toBeCloseTo(1000, 6);
    expect(capture?.sensibleW).toBeCloseTo(700, 6);
    expect(capture?.totalU95W).toBeCloseTo(U95, 3);
  });

  test('cycles before it was called count, those before its first one do not', () => {
    const stage = new Stage();
    for (let s = 0; s < 1000; s++) {
      const start = s - (s % 200);
      const watts = start === 0 ? 9000 : 2000;
      stage.second(s, watts, s < 800 ? null : span('cycling', 200, start), s === start);
    }
    expect(stage.mean.running?.meanW).toBeCloseTo(2000, 6);
  });

  test('cycles of unequal length weigh by their time', () => {
    const stage = new Stage();
    cycling(stage, [200, 600], (cycle) => (cycle === 0 ? 4000 : 8000), 1);
    // (50 · 4000 + 150 · 8000)/800 W.
    expect(stage.mean.running?.meanW).toBeCloseTo(1750, 6);
  });

  test('two cycles: Student’s t of one degree of freedom; one: no interval', () => {
    const stage = new Stage();
    const s = cycling(stage, [400, 400], (cycle) => 4000 + 40 * cycle, 1);
    // Means of 1000 and 1010 W: s/√2 = 5 W.
    expect(stage.mean.running?.u95W).toBeCloseTo(5 * student95(1), 3);
    stage.second(s + 1, 0, null);
    const capture = stage.made.at(-1);
    expect(capture?.totalU95W).toBeCloseTo(Math.hypot(U95, 5 * student95(1)), 3);
    const alone = new Stage();
    cycling(alone, [400], () => 4000, 0);
    expect(alone.mean.touch()).toMatchObject({ cycles: 1, totalU95W: null });
  });

  test.each([2, 3, 6])(
    'the scatter’s interval over %i cycles holds the truth 95 times in 100',
    (n) => {
      const runs = 2000;
      const random = randomStream(5, `cycles ${n}`);
      let held = 0;
      for (let run = 0; run < runs; run++) {
        const stage = new Stage();
        cycling(stage, Array<number>(n).fill(8), () => 4000 + 400 * random.normal(), 0);
        const { meanW, u95W } = stage.mean.running ?? { meanW: NaN, u95W: null };
        if (Math.abs(meanW - 1000) <= (u95W ?? NaN)) held++;
      }
      // 0.95 ± 4 standard deviations of 2,000 draws.
      expect(held / runs).toBeGreaterThan(0.93);
      expect(held / runs).toBeLessThan(0.97);
    },
  );

  test('a span that lets old cycles go is still the same span', () => {
    const stage = new Stage();
    for (let s = 0; s < 4000; s++) {
      const start = s - (s % 200);
      const from = Math.max(0, start - 600);
      stage.second(s, 1000, s < 400 ? null : span('cycling', from, start), s === start);
    }
    stage.second(4000, 1000, null);
    const final = stage.made.filter((c) => c.open !== true);
    expect(final).toHaveLength(1);
    expect(final[0]).toMatchObject({ from: T0, to: T0 + 3_800_000, cycles: 19 });
  });
});
