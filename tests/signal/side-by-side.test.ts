/**
 * The side-by-side check on probes that are simulated here: each with its own error, noise, lag and
 * rhythm, brought from another air. The truth is what they were made with.
 */
import { describe, expect, test } from 'vitest';
import {
  type CheckedProbe,
  type CheckLimits,
  type CheckResult,
  SideBySide,
} from '../../server/signal/side-by-side.ts';
import { type Random, randomStream } from '../../simulator/random.ts';

interface TestProbe {
  errorC: number;
  errorPct: number;
  lagS?: number;
  everyS?: number;
  fromC?: number;
  fromPct?: number;
  /** Tells no humidity. */
  dry?: boolean;
  /** Says nothing in these seconds. */
  silent?: (s: number) => boolean;
  limits?: CheckLimits;
}
const LIMITS: CheckLimits = { temperatureC: 0.5, humidityPct: 2.5 };
const NOISE_C = 0.05;
const NOISE_PCT = 0.3;

interface Rig {
  probes: Record<string, TestProbe>;
  airC?: (s: number) => number;
  airPct?: (s: number) => number;
  seed?: number;
}

/** Runs a check for so many seconds; what it says after each. */
function run({ probes, airC = () => 24, airPct = () => 50, seed = 1 }: Rig, seconds: number) {
  const entries = Object.entries(probes);
  const check = new SideBySide(new Map(entries.map(([id, p]) => [id, p.limits ?? LIMITS])));
  const state = entries.map(([id, p]) => ({
    p,
    tC: p.fromC ?? airC(0),
    pct: p.fromPct ?? airPct(0),
    random: randomStream(seed, id),
    told: { tC: NaN, pct: NaN },
  }));
  const results: CheckResult[] = [];
  for (let s = 0; s < seconds; s++) {
    for (const each of state) {
      const gain = 1 - Math.exp(-1 / (each.p.lagS ?? 8));
      each.tC += gain * (airC(s) - each.tC);
      each.pct += gain * (airPct(s) - each.pct);
      if (s % (each.p.everyS ?? 1) === 0) each.told = tell(each, each.random);
    }
    const heard = (value: number, { p }: { p: TestProbe }): number =>
      p.silent?.(s) === true ? NaN : value;
    check.second(
      state.map((each) => heard(each.told.tC, each)),
      state.map((each) => (each.p.dry === true ? NaN : heard(each.told.pct, each))),
    );
    results.push(check.result());
  }
  return results;
}

function tell({ p, tC, pct }: { p: TestProbe; tC: number; pct: number }, random: Random) {
  return {
    tC: tC + p.errorC + NOISE_C * random.normal(),
    pct: pct + p.errorPct + NOISE_PCT * random.normal(),
  };
}

const verdicts = (results: CheckResult[]): string[] =>
  results.map((r) => r.verdict).filter((v, i, all) => v !== all[i - 1]);

function last(results: CheckResult[]): CheckResult {
  const result = results.at(-1);
  if (result === undefined) throw new Error('no result');
  return result;
}
function found(result: CheckResult, id: string): CheckedProbe {
  const probe = result.probes.get(id);
  if (probe === undefined) throw new Error(`no probe ${id}`);
  return probe;
}

const TWO: Record<string, TestProbe> = {
  a: { errorC: 0.3, errorPct: -1.2, fromC: 27, fromPct: 45 },
  b: { errorC: -0.2, errorPct: 1.6, fromC: 14, fromPct: 90, lagS: 20, everyS: 5 },
};
const FOUR: Record<string, TestProbe> = {
  ...TWO,
  c: { errorC: 0.1, errorPct: 0.4, lagS: 30, fromC: 20, fromPct: 60 },
  d: { errorC: -0.4, errorPct: -2, everyS: 5 },
};

describe('what it says, second by second', () => {
  test.each([
    ['two', TWO],
    ['four', FOUR],
  ])('%s probes from different air: listening, moving, agree', (_, probes) => {
    const results = run({ probes }, 400);
    expect(verdicts(results)).toEqual(['listening', 'moving', 'agree']);
    // Two minutes are listened to at least.
    expect(results.findIndex((r) => r.verdict !== 'listening')).toBe(119);
  });

  test('progress rises to 1 only where the offsets may be used', () => {
    const results = run({ probes: TWO }, 400);
    results.forEach(({ progress, verdict }, i) => {
      expect(progress).toBeLessThanOrEqual(1);
      if (verdict === 'listening')
        expect(progress).toBeGreaterThanOrEqual(results[i - 1]?.progress ?? 0);
      expect(progress === 1).toBe(verdict === 'agree');
    });
  });

  test('air that goes on drifting: never agrees', () => {
    const results = run({ probes: FOUR, airC: (s) => 24 + (0.3 * s) / 60 }, 1800);
    expect(verdicts(results)).toEqual(['listening', 'moving']);
    const damp = run({ probes: FOUR, airPct: (s) => 50 + (2 * s) / 60 }, 1200);
    expect(verdicts(damp)).toEqual(['listening', 'moving']);
  });

  test('a door opened meanwhile: wait, then agree again', () => {
    const airC = (s: number): number => 24 - (s > 300 ? 2 * Math.exp(-(s - 300) / 40) : 0);
    expect(verdicts(run({ probes: FOUR, airC }, 700))).toEqual([
      'listening',
      'moving',
      'agree',
      'moving',
      'agree',
    ]);
  });
});

describe('offsets', () => {
  /** Offsets from the weighted mean of all, as they were made. */
  const truth = (probes: Record<string, TestProbe>, of: 'errorC' | 'errorPct') => {
    const all = Object.values(probes).map((p) => p[of]);
    const mean = all.reduce((sum, e) => sum + e, 0) / all.length;
    return Object.fromEntries(Object.entries(probes).map(([id, p]) => [id, p[of] - mean]));
  };

  test.each([
    ['two', TWO],
    ['four', FOUR],
  ])('of %s probes are found within their u, over 200 runs', (_, probes) => {
    const errors = { temperature: truth(probes, 'errorC'), humidity: truth(probes, 'errorPct') };
    const z: number[] = [];
    for (let seed = 0; seed < 200; seed++) {
      // Ended as soon as it may be: the probes have come as near as they were let off with.
      const result = run({ probes, seed }, 600).find((r) => r.verdict === 'agree');
      if (result === undefined) throw new Error(`seed ${seed} does not agree`);
      for (const id of Object.keys(probes)) {
        for (const quantity of ['temperature', 'humidity'] as const) {
          const offset = found(result, id)[quantity];
          if (offset === null) throw new Error(`no ${quantity} of ${id}`);
          z.push((offset.offset - (errors[quantity][id] ?? NaN)) / offset.u);
        }
      }
    }
    const rms = Math.sqrt(z.reduce((sum, v) => sum + v * v, 0) / z.length);
    expect(rms).toBeGreaterThan(0.5);
    expect(rms).toBeLessThan(1.3);
    // Six blocks make u uncertain itself: 95 % of a t distribution of five degrees is ±2.57.
    expect(z.filter((v) => Math.abs(v) <= 2.57).length / z.length).toBeGreaterThan(0.93);
  });

  test('of still air and noise alone: u is what its scatter predicts', () => {
    const still: Record<string, TestProbe> = {
      a: { errorC: 0.2, errorPct: 1 },
      b: { errorC: -0.1, errorPct: 0 },
    };
    let square = 0;
    let u2 = 0;
    const runs = 300;
    for (let seed = 0; seed < runs; seed++) {
      const offset = found(last(run({ probes: still, seed }, 130)), 'a').temperature;
      square += ((offset?.offset ?? NaN) - 0.15) ** 2 / runs;
      u2 += (offset?.u ?? NaN) ** 2 / runs;
    }
    // Half the difference of two means of 120 s: σ/√(2·120) = 3.2 mK; u also allows for a drift.
    expect(Math.sqrt(square)).toBeCloseTo(NOISE_C / Math.sqrt(240), 3);
    expect(Math.sqrt(u2)).toBeGreaterThan(Math.sqrt(square));
    expect(Math.sqrt(u2)).toBeLessThan(2 * Math.sqrt(square));
  });

  test('a better probe counts for more in the mean', () => {
    const probes: Record<string, TestProbe> = {
      good: { errorC: 0, errorPct: 0, limits: { temperatureC: 0.1, humidityPct: 1 } },
      plain: { errorC: 0.4, errorPct: 2 },
    };
    const result = last(run({ probes }, 200));
    // Weights 1/a²: 25 to 1.
    expect(found(result, 'good').temperature?.offset).toBeCloseTo(-0.4 / 26, 1.5);
    expect(found(result, 'plain').temperature?.offset).toBeCloseTo(0.4 * (25 / 26), 1.5);
    expect(result.verdict).toBe('agree');
  });

  test('a probe of unknown limits does not move the mean of the others', () => {
    const probes: Record<string, TestProbe> = {
      ...TWO,
      unknown: { errorC: 0.6, errorPct: 3, limits: {} },
    };
    const result = last(run({ probes }, 400));
    expect(found(result, 'a').temperature?.offset).toBeCloseTo(0.25, 1.5);
    expect(found(result, 'unknown').temperature?.offset).toBeCloseTo(0.55, 1.5);
  });
});

describe('a probe that is off', () => {
  const agrees = (result: CheckResult): Record<string, (boolean | undefined)[]> =>
    Object.fromEntries(
      [...result.probes].map(([id, p]) => [id, [p.temperature?.agrees, p.humidity?.agrees]]),
    );

  test('of two: they differ, and it cannot be said which is wrong', () => {
    const probes = { ...TWO, b: { errorC: -1, errorPct: 1.6 } };
    const result = last(run({ probes }, 400));
    expect(result.verdict).toBe('off');
    expect(agrees(result)).toEqual({ a: [false, true], b: [false, true] });
    expect(found(result, 'a').temperature?.offset).toBeCloseTo(0.65, 1);
  });

  test.each([
    ['three', { a: TWO['a'], c: FOUR['c'] }],
    ['four', { a: TWO['a'], c: FOUR['c'], d: FOUR['d'] }],
  ])('of %s: it is named, and the others’ offsets are as without it', (_, good) => {
    const fine = Object.fromEntries(
      Object.entries(good).flatMap(([id, p]) => (p === undefined ? [] : [[id, p] as const])),
    );
    const wet: TestProbe = { errorC: 5, errorPct: 22 };
    const result = last(run({ probes: { ...fine, wet } }, 400));
    const without = last(run({ probes: fine }, 400));
    expect(result.verdict).toBe('off');
    expect(without.verdict).toBe('agree');
    expect(result.progress).toBe(1);
    const none = Object.fromEntries(Object.keys(fine).map((id) => [id, [true, true]]));
    expect(agrees(result)).toEqual({ ...none, wet: [false, false] });
    for (const id of Object.keys(fine)) {
      const of = (r: CheckResult): number => found(r, id).temperature?.offset ?? NaN;
      expect(of(result)).toBeCloseTo(of(without), 6);
    }
  });

  test('humidity alone can be off', () => {
    const probes = { ...FOUR, c: { errorC: 0.1, errorPct: 9 } };
    const result = last(run({ probes }, 400));
    expect(result.verdict).toBe('off');
    expect(agrees(result)).toMatchObject({ a: [true, true], c: [true, false] });
  });
});

describe('what comes badly', () => {
  test('a probe that tells no humidity is checked for temperature', () => {
    const probes = { ...FOUR, c: { errorC: 0.1, errorPct: 0, dry: true } };
    const result = last(run({ probes }, 400));
    expect(result.verdict).toBe('agree');
    expect(found(result, 'c').humidity).toBeNull();
    expect(found(result, 'c').temperature?.offset).toBeCloseTo(0.15, 1);
    // The humidity's mean is that of the other three: −1.2, 1.6, −2.
    expect(found(result, 'a').humidity?.offset).toBeCloseTo(-1.2 - -1.6 / 3, 0);
  });

  test('no probe tells humidity: temperatures are enough', () => {
    const probes: Record<string, TestProbe> = {
      a: { errorC: 0.2, errorPct: 0, dry: true },
      b: { errorC: 0, errorPct: 0, dry: true },
    };
    const result = last(run({ probes }, 200));
    expect(result.verdict).toBe('agree');
    expect(result.humidityPct).toBeNaN();
  });

  test('of one alone, or of nothing, nothing can be said', () => {
    const alone = last(run({ probes: { a: { errorC: 0, errorPct: 0 } } }, 400));
    expect(alone).toMatchObject({ verdict: 'listening', progress: 0 });
    expect(found(alone, 'a')).toEqual({ temperature: null, humidity: null });
    const check = new SideBySide(new Map());
    check.second([], []);
    expect(check.result()).toMatchObject({ verdict: 'listening', progress: 0 });
  });

  test('one that is silent throughout stays unknown; the others are checked', () => {
    const probes = { ...TWO, gone: { errorC: 0, errorPct: 0, silent: () => true } };
    const result = last(run({ probes }, 400));
    expect(result.verdict).toBe('agree');
    expect(found(result, 'gone')).toEqual({ temperature: null, humidity: null });
  });

  test('seconds without a reading now and then do no harm', () => {
    const probes = { ...FOUR, c: { errorC: 0.1, errorPct: 0.4, silent: (s: number) => s % 7 < 2 } };
    const result = last(run({ probes }, 600));
    expect(result.verdict).toBe('agree');
    // The mean of the errors is −0.05 °C.
    expect(found(result, 'c').temperature?.offset).toBeCloseTo(0.15, 1);
    expect(found(result, 'a').temperature?.offset).toBeCloseTo(0.35, 1);
  });

  test('one that falls silent for long: the mean is of others then, so two more minutes', () => {
    const silent = (s: number): boolean => s >= 300;
    const probes = { ...FOUR, a: { errorC: 0.5, errorPct: 0, silent } };
    expect(verdicts(run({ probes }, 600))).toEqual([
      'listening',
      'moving',
      'agree',
      'moving',
      'agree',
    ]);
    const back = {
      ...FOUR,
      a: { errorC: 0.5, errorPct: 0, silent: (s: number) => s >= 300 && s < 340 },
    };
    const result = last(run({ probes: back }, 700));
    expect(result.verdict).toBe('agree');
    expect(found(result, 'a').temperature?.offset).toBeCloseTo(0.5, 1);
  });

  test('one in the midst of the others that falls silent: also not until two minutes are whole', () => {
    const silent = (s: number): boolean => s >= 300 && s < 340;
    const probes: Record<string, TestProbe> = {
      a: { errorC: 0.2, errorPct: 1 },
      b: { errorC: -0.2, errorPct: -1 },
      c: { errorC: 0, errorPct: 0, silent },
    };
    const results = run({ probes }, 500);
    expect(verdicts(results)).toEqual(['listening', 'agree', 'moving', 'agree']);
    // Whole again two minutes after the last block with a gap, which ends at 340 s.
    expect(results.findLastIndex((r) => r.verdict === 'moving')).toBe(340 + 120 - 2);
  });
});
