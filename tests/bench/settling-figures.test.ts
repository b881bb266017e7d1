/**
 * The figures of settling, on visits and detectors that are made up so that each figure is known
 * beforehand; then a detector that knows the truth, and one that always says steady, over played visits.
 */
import { describe, expect, it, test } from 'vitest';
import type { Capture } from '../../server/protocol.ts';
import { CURVE_KINDS } from './settling/curve-kinds.ts';
import { figuresOf } from './settling/figures.ts';
import { aimsOf, TABLES, tableOf, worstOf } from './settling/report.ts';
import { addTally, emptyTally, mean, quantile } from './settling/tally.ts';
import type { Segment, Visit } from './settling/visit.ts';
import { silent, type State, type Watch } from './settling/watch.ts';

const START_T = 1_777_885_200_000;
const N = 1000;
/** The plateau of the second half of the made-up visit; 1000 W in the first. */
const PLATEAU_W = 3000;
const ACT = 200;
const SETTLED = 400;

/** 200 s at 1 kW, an act, 200 s off the new plateau of 3 kW (by `offW`), then exactly on it. */
function visitOf(offW: number, segment: Partial<Segment> = {}): Visit {
  const of = (value: (i: number) => number): Float64Array =>
    Float64Array.from({ length: N }, (_, i) => value(i));
  const none = { toldAt: null, settledAt: null, approach: null, turns: [] };
  return {
    ...{ source: 'curves', kind: 'made-up', seed: 0, aside: false, unit: 'u1', startT: START_T },
    lines: [],
    trueW: of((i) => (i < ACT ? 1000 : i < SETTLED ? PLATEAU_W - offW : PLATEAU_W)),
    trueLatentW: of(() => 500),
    levelW: null,
    knowledge: null,
    plateauW: of((i) => (i < ACT ? 1000 : PLATEAU_W)),
    segments: [
      { stretch: 'lead', from: 0, to: ACT - 1, ...none },
      {
        ...{ stretch: 'settles', from: ACT, to: N - 1, ...none, settledAt: SETTLED },
        approach: { deadS: 20, tauS: 60, largerS: 50, lagS: 10 },
        ...segment,
      },
    ],
  };
}

/** A detector that says `state` in each second, and measures what is true. */
function saying(visit: Visit, state: (i: number) => State): Watch {
  const seen = silent(N);
  seen.states = seen.states.map((_, i) => state(i));
  seen.totalW.set(visit.trueW);
  seen.latentW.set(visit.trueLatentW);
  return seen;
}

const at = (seconds: Float64Array, from: number, to: number, value: number): void =>
  void seconds.fill(value, from, to);

describe('steady seconds', () => {
  const always = (): State => 'steady';

  it('are wrong while the truth is more than 3 % off its plateau', () => {
    const visit = visitOf(0.031 * PLATEAU_W);
    expect(figuresOf(visit, saying(visit, always))).toMatchObject({ steadyS: N, wrongS: 200 });
    const near = visitOf(0.029 * PLATEAU_W);
    expect(figuresOf(near, saying(near, always))).toMatchObject({ steadyS: N, wrongS: 0 });
  });

  it('are wrong from 60 W on only, where that is more', () => {
    for (const [offW, wrongS] of [
      [59, 0],
      [61, 200],
    ] as const) {
      const visit = visitOf(offW);
      visit.plateauW.fill(1000, 0, SETTLED);
      visit.trueW.fill(1000 - offW, ACT, SETTLED);
      expect(figuresOf(visit, saying(visit, always)).wrongS).toBe(wrongS);
    }
  });

  it('count where the plateau is known only', () => {
    const visit = visitOf(1000);
    visit.plateauW.fill(NaN, ACT, SETTLED);
    const tally = figuresOf(visit, saying(visit, always));
    expect(tally).toMatchObject({ steadyS: N - 200, wrongS: 0 });
  });
});

describe('a flat stretch', () => {
  // Settled from second 400 to 999: from its third minute on that is 420 s.
  const flat = (state: (i: number) => State, segment: Partial<Segment> = {}) => {
    const visit: Visit = { ...visitOf(1000, segment), source: 'hover' };
    return figuresOf(visit, saying(visit, state));
  };

  it('is asked from its third minute on', () => {
    const expected = { flats: 1, flatS: 420, flatSteadyS: 420, flatChanges: 0, flatCyclingS: 0 };
    expect(flat(() => 'steady')).toMatchObject(expected);
    expect(flat(() => 'steady', { toldAt: 450 })).toMatchObject({ flats: 1, flatS: 370 });
    expect(flat(() => 'steady', { settledAt: 600 })).toMatchObject({ flats: 0, flatS: 0 });
  });

  it('the first call is no needless change, each later one is', () => {
    const late = flat((i) => (i < 600 ? 'settling' : 'steady'));
    expect(late).toMatchObject({ flatSteadyS: 400, flatChanges: 0 });
    const flickers = flat((i) => (i >= 700 && i < 710 ? 'settling' : 'steady'));
    expect(flickers).toMatchObject({ flatSteadyS: 410, flatChanges: 2 });
    const cycles = flat((i) => (i >= 650 && i < 700 ? 'cycling' : 'steady'));
    expect(cycles).toMatchObject({ flatSteadyS: 370, flatCyclingS: 50, flatChanges: 2 });
  });

  it('steady is false where the mean since then is not that of the next ten minutes', () => {
    const visit = visitOf(0, { toldAt: ACT });
    const seen = saying(visit, (i) => (i >= SETTLED ? 'steady' : 'settling'));
    seen.since.fill(SETTLED);
    visit.levelW = visit.trueW.map((w) => w);
    // 480 s: of the last two minutes nobody knows where they go.
    expect(figuresOf(visit, seen)).toMatchObject({ judgedS: 480, movedS: 0 });
    visit.levelW.fill(PLATEAU_W - 95, 700);
    // Before: 95 W · 300/(999 − i) > 2 % of what comes, from 515 on; after: 95 W · 300/(i − 399) > 2 %
    // of 2905 W, to the end of what is asked, 879.
    expect(figuresOf(visit, seen)).toMatchObject({ judgedS: 480, movedS: 699 - 514 + 879 - 699 });
  });
});

describe('the delay', () => {
  const delaysOf = (state: (i: number) => State, segment: Partial<Segment> = {}): number[] => {
    const visit = visitOf(1000, segment);
    return figuresOf(visit, saying(visit, state)).delaysS;
  };

  it('goes from truly settled to the first call', () => {
    expect(delaysOf((i) => (i >= 470 ? 'steady' : 'settling'))).toEqual([70]);
  });

  it('is nothing where it was called before, and for ever where it never is', () => {
    expect(delaysOf(() => 'steady')).toEqual([0]);
    expect(delaysOf(() => 'cycling')).toEqual([Infinity]);
  });

  it('does not take the last plateau, still called steady, for the new one', () => {
    const state = (i: number): State => (i < 203 || i >= 290 ? 'steady' : 'settling');
    expect(delaysOf(state, { settledAt: ACT, toldAt: 203 })).toEqual([87]);
  });

  it('is asked of segments only that stay settled for five minutes, and settle at all', () => {
    expect(delaysOf(() => 'steady', { settledAt: N - 200 })).toEqual([]);
    expect(delaysOf(() => 'steady', { settledAt: null })).toEqual([]);
    expect(delaysOf(() => 'steady', { stretch: 'cut' })).toEqual([]);
  });

  it('says how much of what follows is still called steady', () => {
    const visit = visitOf(0);
    const seen = saying(visit, (i) => (i >= 500 && i % 4 !== 3 ? 'steady' : 'settling'));
    expect(figuresOf(visit, seen)).toMatchObject({ calledS: 500, keptS: 375 });
  });
});

describe('forecasts', () => {
  /** Act at 200, 20 s dead, 60 s time constant: 280, 340, 370; with the lag 350, 380; larger 320. */
  const looked = { '1': 280, '2': 340, '2.5': 370, '2 + lag': 350, '2.5 + lag': 380 } as const;

  it.each(Object.entries(looked))('are looked at after %s time constants', (moment, second) => {
    const visit = visitOf(1000);
    const seen = saying(visit, () => 'settling');
    seen.plateauW[second] = 1.04 * PLATEAU_W;
    seen.plateauU95W[second] = 312;
    const { moments } = figuresOf(visit, seen);
    for (const [name, of] of Object.entries(moments)) {
      const here = name === moment ? 1 : 0;
      expect(of, name).toMatchObject({ asked: 1, offered: here, within: here });
    }
    expect(Object.entries(moments).find(([name]) => name === moment)?.[1].widths).toEqual([0.1]);
  });

  it('are good within 5 % of what is measured in the last two minutes', () => {
    for (const [share, within] of [
      [1.049, 1],
      [1.051, 0],
      [0.951, 1],
    ] as const) {
      const visit = visitOf(1000);
      const seen = saying(visit, () => 'settling');
      at(seen.totalW, N - 120, N, 2500);
      seen.plateauW[340] = 2500 * share;
      expect(figuresOf(visit, seen).moments['2'].within).toBe(within);
    }
  });

  it('are worth more than the measured value only where that is not there yet', () => {
    for (const [offW, there] of [
      [140, 1],
      [160, 0],
    ] as const) {
      const visit = visitOf(offW);
      const tally = figuresOf(
        visit,
        saying(visit, () => 'settling'),
      );
      expect(tally.moments['2']).toMatchObject({ asked: 1, within: 0, there });
    }
  });

  it('are none in other states than settling and steady', () => {
    const visit = visitOf(1000);
    for (const state of ['waiting', 'cycling'] as const) {
      const seen = saying(visit, () => state);
      seen.plateauW.fill(PLATEAU_W);
      expect(figuresOf(visit, seen).moments['2']).toMatchObject({ asked: 1, offered: 0 });
    }
  });

  it('hold the final value or not, second by second', () => {
    const visit = visitOf(1000);
    const seen = saying(visit, (i) => (i < 500 ? 'settling' : 'steady'));
    at(seen.plateauW, 300, 1000, 2800);
    at(seen.plateauU95W, 300, 400, 199);
    at(seen.plateauU95W, 400, 1000, 201);
    expect(figuresOf(visit, seen)).toMatchObject({ offeredS: 200, heldS: 100 });
  });

  it('that go and come again flap', () => {
    const visit = visitOf(1000);
    const seen = saying(visit, () => 'settling');
    for (const [from, to] of [
      [300, 310],
      [320, 330],
      [340, 350],
    ] as const) {
      at(seen.plateauW, from, to, 2700);
    }
    seen.plateauW[345] = 3000;
    const tally = figuresOf(visit, seen);
    expect(tally.flaps).toEqual([2]);
    expect(tally.moves).toHaveLength(27);
    expect(tally.moves.filter((move) => move > 0)).toEqual([0.1, 0.1]);
  });

  it('are brought back along a plateau that drifts', () => {
    const visit = visitOf(1000);
    visit.plateauW.fill(0.8 * PLATEAU_W, 900);
    visit.trueW.fill(0.8 * PLATEAU_W, 880);
    const seen = saying(visit, () => 'settling');
    seen.plateauW[340] = PLATEAU_W;
    expect(figuresOf(visit, seen).moments['2'].within).toBe(1);
  });

  it('of the time left are compared with when it was called', () => {
    const visit = visitOf(1000);
    const seen = saying(visit, (i) => (i < 450 ? 'settling' : 'steady'));
    seen.steadyInS[340] = 90;
    expect(figuresOf(visit, seen).timeLeftS).toEqual([-20]);
  });
});

describe('cycles', () => {
  it('are judged after four whole periods', () => {
    const visit = visitOf(0, {
      stretch: 'cycles',
      turns: [200, 310, 410, 510, 600, 680, 800, 900],
    });
    const seen = saying(visit, (i) => (i < 650 ? 'settling' : i < 700 ? 'steady' : 'cycling'));
    at(seen.periodS, 850, 900, 110);
    const tally = figuresOf(visit, seen);
    expect(tally).toMatchObject({ cyclesS: 400, cyclingS: 300, cycleSteadyS: 50 });
    expect(quantile(tally.periods, 0.5)).toBeCloseTo(0.1, 10);
  });

  it('that are none are counted where it settles', () => {
    const visit = visitOf(0);
    const tally = figuresOf(
      visit,
      saying(visit, (i) => (i < 300 ? 'cycling' : 'steady')),
    );
    expect(tally).toMatchObject({ settlingS: 800, falseCyclingS: 100 });
  });
});

function capture(from: number, to: number, totalW: number, u95W: number | null): Capture {
  const parts = { sensibleW: 0, sensibleU95W: 0, latentW: 0, latentU95W: 0 };
  return {
    ...{ type: 'capture', unit: 'u1', state: 'steady', simulated: true, by: 'itself', ...parts },
    ...{ from: START_T + 1000 * from, to: START_T + 1000 * to, totalW, totalU95W: u95W },
  };
}

describe('captures', () => {
  it('hold the mean of the truth over their span, or not', () => {
    const visit = visitOf(1000);
    const seen = saying(visit, () => 'settling');
    // Half of the first span is at 2 kW, half at 3 kW: its mean is 2500 W.
    seen.captures = [
      capture(380, 419, 2590, 91),
      capture(380, 419, 2590, 89),
      capture(500, 600, 3000, null),
    ];
    expect(figuresOf(visit, seen)).toMatchObject({ captures: 3, holds: [1 / 3] });
  });

  it('should stay out of a defrost and of the five minutes after it', () => {
    const visit = visitOf(0, { stretch: 'defrost', from: 200, to: 399 });
    const seen = saying(visit, () => 'settling');
    seen.captures = [capture(100, 209, 1000, 100), capture(690, 800, 3000, 100)];
    expect(figuresOf(visit, seen)).toMatchObject({ defrostS: 500, defrostCapturedS: 20 });
  });
});

test('false latent heat is what the end of the segment has not', () => {
  const visit = visitOf(0);
  const seen = saying(visit, (i) => (i < 300 ? 'settling' : 'steady'));
  // The probes' own error makes 40 W throughout; 300 W more in ten seconds, five of them doubted.
  for (let i = 0; i < N; i++) seen.latentW[i] = 540;
  at(seen.latentW, 250, 260, 840);
  seen.latentU95W.fill(200);
  seen.transient.fill(true, 255, 400);
  const tally = figuresOf(visit, seen);
  expect(tally).toMatchObject({ latentBeyondS: 10, latentDoubtedS: 5 });
  expect(tally.latent).toHaveLength(100);
  expect(mean(tally.latent)).toBeCloseTo(0.01, 10);
});

test('tallies add up, lists and moments too', () => {
  const total = emptyTally();
  const visit = visitOf(1000);
  for (let k = 0; k < 2; k++)
    addTally(
      total,
      figuresOf(
        visit,
        saying(visit, () => 'steady'),
      ),
    );
  expect(total).toMatchObject({ visits: 2, segments: 2, steadyS: 2 * N, delaysS: [0, 0] });
  expect(total.moments['2'].asked).toBe(2);
});

test('a quantile between a figure and never is never', () => {
  expect(quantile([3, 1, 2], 0.5)).toBe(2);
  expect(quantile([1, 2], 0.75)).toBe(1.75);
  expect(quantile([1, Infinity], 0.5)).toBe(Infinity);
  expect(quantile([1, 2, Infinity, Infinity], 0.9)).toBe(Infinity);
  expect(quantile([], 0.5)).toBeNaN();
});

/** What somebody would say who knows the truth. */
function oracle(visit: Visit): Watch {
  const n = visit.trueW.length;
  const seen = silent(n);
  seen.totalW.set(visit.trueW);
  seen.latentW.set(visit.trueLatentW);
  for (const { stretch, from, to, settledAt } of visit.segments) {
    const finalW = mean([...visit.trueW.subarray(to - 119, to + 1)]);
    for (let i = from; i <= to; i++) {
      const steady = stretch === 'lead' || (settledAt !== null && i >= settledAt);
      seen.states[i] = stretch === 'cycles' ? 'cycling' : steady ? 'steady' : 'settling';
      seen.plateauW[i] = finalW;
      seen.plateauU95W[i] = 0.03 * finalW;
    }
  }
  return seen;
}

describe('over played visits', () => {
  const kinds = CURVE_KINDS.filter(({ name }) =>
    ['second-order', 'overshoot', 'fan', 'no-effect', 'on-off', 'defrost'].includes(name),
  );
  const tallyOf = (detector: (visit: Visit) => Watch): ReturnType<typeof emptyTally> => {
    const total = emptyTally();
    for (const { make } of kinds) {
      const visit = make(1);
      addTally(total, figuresOf(visit, detector(visit)));
    }
    return total;
  };

  it('one who knows the truth has all the aims', () => {
    const tally = tallyOf(oracle);
    expect(tally.wrongS / tally.steadyS).toBeLessThan(0.001);
    expect(tally.delaysS.length).toBeGreaterThan(10);
    expect(quantile(tally.delaysS, 1)).toBe(0);
    for (const moment of ['1', '2', '2.5'] as const) {
      const { asked, offered, within } = tally.moments[moment];
      expect(asked).toBeGreaterThan(5);
      expect([offered, within]).toEqual([asked, asked]);
    }
    expect(tally.heldS / tally.offeredS).toBeGreaterThan(0.99);
    expect(tally.cyclesS).toBeGreaterThan(500);
    expect(tally.cyclingS).toBe(tally.cyclesS);
  });

  it('one who always says steady is wrong in as many seconds as it takes to settle', () => {
    const tally = tallyOf((visit) => {
      const seen = oracle(visit);
      seen.states.fill('steady');
      return seen;
    });
    expect(tally.wrongS / tally.steadyS).toBeGreaterThan(0.1);
    expect(tally.cycleSteadyS).toBe(tally.cyclesS);
  });

  it('one who says nothing never calls anything, and the tables say so', () => {
    const tally = tallyOf(({ trueW }) => silent(trueW.length));
    expect(tally.steadyS).toBe(0);
    expect(quantile(tally.delaysS, 0)).toBe(Infinity);
    const rows = [{ name: 'all of them', tally }];
    for (const { title, columns } of TABLES) {
      expect(tableOf(title, columns, rows)).toContain('all of them');
    }
    expect(aimsOf(rows)).toMatch(/never called steady\s+0\s+100.0 %/);
    expect(worstOf(rows, 1)).toContain('never called steady');
  });
});
