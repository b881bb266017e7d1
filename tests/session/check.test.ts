/** The side-by-side check in a visit: what it does to the figures, the interval and the doubts. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { Line, ProbeLine } from '../../adapters/contract.ts';
import { capacity } from '../../server/measure/capacity.ts';
import { humidityRatio } from '../../server/measure/moist-air.ts';
import { type Capture, captureSchema } from '../../server/protocol.ts';
import { randomStream } from '../../simulator/random.ts';
import { plateau, tempFolder } from '../program.ts';
import { setUp, T0, TestVisit } from './visit.ts';

const ROOM = { tC: 26.7, rhPct: 51 };
const SUPPLY = { tC: 12, rhPct: 90 };
/** The probes' errors, inside their limits of 0.5 K and 2.5 %. */
const ERRORS = { r: { tC: 0.4, rhPct: -1.6 }, s: { tC: -0.3, rhPct: 1.8 } };
type Id = keyof typeof ERRORS;

/** Lines of a visit: readings with their errors and a little noise, a second apart. */
class Script {
  readonly lines: Line[];
  #s = 0;
  readonly #random = randomStream(7, 'check');
  readonly #errors: Record<Id, { tC: number; rhPct: number }>;

  constructor(errors: Record<Id, { tC: number; rhPct: number }> = ERRORS, lines = setUp()) {
    this.#errors = errors;
    this.lines = [...lines];
  }

  read(seconds: number, at: Record<Id, { tC: number; rhPct: number }>): this {
    for (let i = 0; i < seconds; i++, this.#s++) {
      for (const probe of ['r', 's'] as const) {
        const { tC, rhPct } = at[probe];
        const error = this.#errors[probe];
        this.lines.push({
          type: 'reading',
          t: T0 + this.#s * 1000 + (probe === 'r' ? 0 : 300),
          probe,
          temperatureC: tC + error.tC + 0.03 * this.#random.normal(),
          humidityPct: rhPct + error.rhPct + 0.2 * this.#random.normal(),
        });
      }
    }
    return this;
  }

  together(seconds: number): this {
    this.#check('start').read(seconds, { r: ROOM, s: ROOM });
    return this.#check('end');
  }

  atPlaces(seconds: number): this {
    return this.read(seconds, { r: ROOM, s: SUPPLY });
  }

  #check(phase: 'start' | 'end'): this {
    const t = T0 + this.#s * 1000 - 500;
    this.lines.push({ type: 'event', t, kind: 'check', phase, probes: ['r', 's'] });
    return this;
  }
}

function visitOf({ lines }: Script): TestVisit {
  const visit = new TestVisit(lines);
  visit.session.finish();
  return visit;
}

const CHECKED = new Script().atPlaces(20).together(200).atPlaces(400);
const UNCHECKED = new Script().atPlaces(400);

/** What perfect probes would give. */
const PERFECT = capacity(
  'cooling',
  { temperatureC: ROOM.tC, humidityRatio: humidityRatio(ROOM.tC, ROOM.rhPct, 101_325) },
  { temperatureC: SUPPLY.tC, humidityRatio: humidityRatio(SUPPLY.tC, SUPPLY.rhPct, 101_325) },
  { flowM3s: 0.2, basis: 'actual', plane: 'supply' },
  101_325,
);

function theCapture({ captures }: TestVisit): Capture {
  const capture = captures.at(-1);
  if (capture === undefined) throw new Error('no capture');
  return capture;
}

describe('a check of two probes', () => {
  const visit = visitOf(CHECKED);

  test('no figure while they lie together, and why', () => {
    const during = visit.snapshots.filter((s) => s.t > T0 + 21_000 && s.t < T0 + 219_000);
    expect(during.length).toBeGreaterThan(190);
    for (const { units } of during) {
      expect(units['u1']?.capacity.totalW).toBeNull();
      expect(units['u1']?.doubts.map((d) => d.code)).toContain('check-running');
      expect(units['u1']?.settling.state).toBe('waiting');
    }
  });

  test('it is reported each second, and once as ended', () => {
    const running = visit.checks.filter((c) => c.phase === 'running');
    expect(running).toHaveLength(200);
    expect(running.map((c) => c.verdict).filter((v, i, all) => v !== all[i - 1])).toEqual([
      'listening',
      // The probe that came from the supply was not still in the first two minutes.
      ...(running.some((c) => c.verdict === 'moving') ? ['moving'] : []),
      'agree',
    ]);
    const [ended, ...more] = visit.checks.filter((c) => c.phase === 'ended');
    expect(more).toEqual([]);
    expect(ended).toMatchObject({ verdict: 'agree', progress: 1, from: T0 + 19_500 });
    expect(ended?.text).toBe(
      'They agree within their accuracies. From now on their offsets are corrected.',
    );
    // Half of what they differ by: 0.7 K, 3.4 %.
    expect(ended?.probes['r']?.temperatureOffsetC).toBeCloseTo(0.35, 1);
    expect(ended?.probes['s']?.humidityOffsetPct).toBeCloseTo(1.7, 0);
    expect(ended?.probes['r']?.agrees).toBe(true);
  });

  test('in terms of water: what the offsets make of the vapour pressure', () => {
    const ended = visit.checks.at(-1)?.probes['s'];
    // p_ws of 26.7 °C is 3,504 Pa and rises by 5.89 % a kelvin (Handbook, eq. 6).
    const expected = 0.0174 * 3504 + 0.51 * 3504 * 0.0589 * (ended?.temperatureOffsetC ?? NaN);
    expect(Math.abs((ended?.vapourOffsetPa ?? NaN) - expected)).toBeLessThan(4);
  });

  test('afterwards their offsets are off: the figure is that of perfect probes, but for the common part', () => {
    // Common: errors of +0.05 K and +0.1 % in both; they move the total by some 10 W.
    const checked = theCapture(visit);
    expect(Math.abs(checked.totalW - PERFECT.totalW)).toBeLessThan(20);
    expect(Math.abs(checked.sensibleW - PERFECT.sensibleW)).toBeLessThan(15);
    const unchecked = theCapture(visitOf(UNCHECKED));
    expect(Math.abs(unchecked.totalW - PERFECT.totalW)).toBeGreaterThan(100);
  });

  test('and the interval is narrower, and still holds the truth', () => {
    const checked = theCapture(visit);
    const unchecked = theCapture(visitOf(UNCHECKED));
    expect(checked.totalU95W).toBeLessThan(0.65 * (unchecked.totalU95W ?? NaN));
    for (const { totalW, totalU95W } of [checked, unchecked]) {
      expect(Math.abs(totalW - PERFECT.totalW)).toBeLessThan(totalU95W ?? 0);
    }
  });

  test('the doubt goes; the probes tell what was found', () => {
    const before = visit.snapshots.find((s) => s.t === T0 + 10_000)?.units['u1'];
    expect(before?.doubts.map((d) => d.code)).toContain('check-missing');
    expect(visit.unit().doubts.map((d) => d.code)).toEqual(['airflow-not-measured']);
    const state = visit.session.probes.get('r')?.toState(T0 + 620_000);
    expect(state?.check?.temperatureOffsetC).toBeCloseTo(0.35, 1);
    expect(state?.check?.worth).toBeCloseTo(1, 3);
    expect(state?.check?.atC).toBeCloseTo(ROOM.tC + 0.05, 1);
    // Shown as sent; what is worked with has the offset off.
    expect(state?.values.temperatureC).toBeCloseTo(ROOM.tC + 0.4, 0);
  });
});

describe('what the figure says while probes lie in a check', () => {
  /** What to do about the missing figure, so many seconds into a check. */
  const remedyAfter = (seconds: number): string | undefined => {
    const script = new Script().atPlaces(20).together(seconds);
    return visitOf(script)
      .snapshots.flatMap(({ units }) => units['u1']?.doubts ?? [])
      .findLast(({ code }) => code === 'check-running')?.remedy;
  };
  test('to leave them where they lie while it listens', () => {
    expect(remedyAfter(30)).toMatch(/^Leave the probes where they are/);
  });
  test('to end it when it has heard enough', () => {
    expect(remedyAfter(400)).toMatch(/^End the check/);
  });
});

describe('a check that comes to nothing', () => {
  test('too short: nothing is corrected', () => {
    const visit = visitOf(new Script().together(60).atPlaces(400));
    expect(visit.checks.at(-1)).toMatchObject({ phase: 'ended', verdict: 'listening' });
    expect(visit.checks.at(-1)?.text).toMatch(/^The check was too short/);
    expect(visit.session.probes.get('r')?.correction).toBeNull();
    expect(visit.unit().doubts.map((d) => d.code)).toContain('check-missing');
    expect(theCapture(visit).totalW).toBeCloseTo(theCapture(visitOf(UNCHECKED)).totalW, -1.5);
  });

  test('the air was not still: nothing is corrected', () => {
    const script = new Script();
    script.lines.push({
      type: 'event',
      t: T0,
      kind: 'check',
      phase: 'start',
      probes: ['r', 's'],
    });
    for (let s = 0; s < 200; s++) {
      const air = { tC: 24 + s / 100, rhPct: 50 };
      script.read(1, { r: air, s: air });
    }
    script.lines.push({ ...lastCheck(script), t: T0 + 200_000, phase: 'end' });
    const visit = visitOf(script.atPlaces(10));
    expect(visit.checks.at(-1)).toMatchObject({ phase: 'ended', verdict: 'moving' });
    expect(visit.session.probes.get('s')?.correction).toBeNull();
  });

  test('a check that fails leaves an earlier one in force', () => {
    const visit = visitOf(new Script().together(200).atPlaces(30).together(40).atPlaces(30));
    expect(visit.session.probes.get('r')?.correction?.temperature?.points[0]?.offset).toBeCloseTo(
      0.35,
      1,
    );
    expect(visit.unit().doubts.map((d) => d.code)).not.toContain('check-missing');
  });
});

function lastCheck({ lines }: Script): Extract<Line, { kind: 'check' }> {
  const line = lines.findLast((l) => l.type === 'event' && l.kind === 'check');
  if (line?.type !== 'event' || line.kind !== 'check') throw new Error('no check');
  return line;
}

describe('a probe that is off', () => {
  const errors = { r: { tC: 2, rhPct: -8 }, s: { tC: -0.3, rhPct: 1.8 } };

  test('is said; its offset is taken off all the same, and the interval allows for it', () => {
    const visit = visitOf(new Script(errors).together(200).atPlaces(400));
    expect(visit.checks.at(-1)).toMatchObject({ phase: 'ended', verdict: 'off' });
    expect(visit.checks.at(-1)?.text).toBe(
      'The two differ by more than their accuracies explain. ' +
        'Their offsets are corrected all the same. Have the odd one calibrated.',
    );
    const capture = theCapture(visit);
    expect(Math.abs(capture.totalW - PERFECT.totalW)).toBeLessThan(capture.totalU95W ?? 0);
    // Wider than with probes that agree: which of the two is right is not known.
    expect(capture.totalU95W).toBeGreaterThan(
      1.3 * (theCapture(visitOf(CHECKED)).totalU95W ?? NaN),
    );
  });
});

describe('a display that rounds', () => {
  const resolved = (limits: ProbeLine['limits']): Line[] =>
    setUp().map((line) => (line.type === 'probe' ? { ...line, limits } : line));
  const limits = { temperatureC: 0.5, humidityPct: 2.5 };
  const width = (lines: Line[]): number =>
    theCapture(visitOf(new Script(ERRORS, lines).together(200).atPlaces(400))).totalU95W ?? NaN;

  test('stays in the interval after a check', () => {
    const coarse = width(resolved({ ...limits, resolutionC: 1, resolutionPct: 1 }));
    expect(coarse).toBeGreaterThan(1.5 * width(resolved(limits)));
  });
});

describe('the same in a visit log', () => {
  const folder = tempFolder();

  test('analyse gives the same capture', async () => {
    try {
      const path = join(folder.path, 'visit.ndjson');
      writeFileSync(path, CHECKED.lines.map((line) => JSON.stringify(line) + '\n').join(''));
      const { status, out, err } = await plateau(['analyse', path, '--every', '60']);
      expect(err).toBe('');
      expect(status).toBe(0);
      const captures = out
        .split('\n')
        .filter((line) => line.startsWith('{"type":"capture"'))
        .map((line) => captureSchema.parse(JSON.parse(line)));
      const live = theCapture(visitOf(CHECKED));
      expect(captures).toHaveLength(1);
      expect(captures[0]?.totalW).toBeCloseTo(live.totalW, 1);
      expect(captures[0]?.totalU95W).toBeCloseTo(live.totalU95W ?? NaN, 1);
    } finally {
      folder.remove();
    }
  }, 60_000);
});

describe('a check of an earlier visit', () => {
  const DAY = 86_400_000;
  /** The probes with a check that is so many days old. */
  const earlier = (days: number): TestVisit => {
    const at = { t: T0 - days * DAY, probes: ['r', 's'], atC: ROOM.tC, atPct: ROOM.rhPct };
    const found = (sign: number) => ({
      temperatureC: { offset: sign * 0.35, u: 0.005 },
      humidityPct: { offset: sign * -1.7, u: 0.03 },
    });
    const script = new Script();
    script.lines.push(
      { type: 'probe', id: 'r', check: { ...at, ...found(1) } },
      { type: 'probe', id: 's', check: { ...at, ...found(-1) } },
    );
    return visitOf(script.atPlaces(30));
  };
  const u95 = (visit: TestVisit): number => visit.unit().capacity.totalU95W ?? NaN;
  const old = (visit: TestVisit) => visit.unit().doubts.find((d) => d.code === 'check-old');

  test('of last week is as good as new', () => {
    expect(old(earlier(7))).toBeUndefined();
    expect(
      earlier(7)
        .unit()
        .doubts.map((d) => d.code),
    ).not.toContain('check-missing');
    expect(u95(earlier(7)) / u95(earlier(0))).toBeLessThan(1.05);
  });

  test('of two months ago is old: how old, and what it is worth', () => {
    expect(old(earlier(60))).toMatchObject({
      text: 'The side-by-side check is 60 days old.',
      // 1 − 60/365.
      effect: 'It is worth 84 % of a new one.',
    });
  });

  test('the interval grows with its age', () => {
    const widths = [0, 60, 180, 365, 1000].map((days) => u95(earlier(days)));
    widths.slice(1).forEach((width, i) => {
      expect(width).toBeGreaterThanOrEqual(widths[i] ?? NaN);
    });
    expect(widths[4]).toBe(widths[3]);
  });
});

describe('the budget', () => {
  const budgetOf = (visit: TestVisit) => {
    const [budget] = visit.session.budgets();
    if (budget === undefined) throw new Error('no budget');
    return budget;
  };

  test.each([
    ['without a check', UNCHECKED],
    ['after one', CHECKED],
  ])('%s: shares add up to 1, largest first', (_, script) => {
    const { items } = budgetOf(visitOf(script));
    expect(items.reduce((sum, i) => sum + i.share, 0)).toBeCloseTo(1, 12);
    items.forEach(({ share }, i) => {
      expect(share).toBeLessThanOrEqual(items[i - 1]?.share ?? 1);
    });
  });

  test('the advice gives no share: the bars do, and a sum of several would contradict them', () => {
    for (const script of [UNCHECKED, CHECKED]) {
      expect(budgetOf(visitOf(script)).advice).toMatch(/^[^\d%]+$/);
    }
  });

  test('without a check the probes dominate, and the check is what is advised', () => {
    const visit = visitOf(UNCHECKED);
    const { items, advice } = budgetOf(visit);
    expect(items[0]).toMatchObject({ of: 'r' });
    expect(advice).toBe(
      `Much of the interval comes from r’s ${items[0]?.kind}: check the probes side by side.`,
    );
  });

  test('after it the airflow does, and a traverse is', () => {
    const { items, advice } = budgetOf(visitOf(CHECKED));
    expect(items[0]?.kind).toBe('airflow');
    expect(advice).toBe(
      'Much of the interval comes from the airflow: measure the outlet by a traverse.',
    );
    expect(items.map((i) => i.kind)).toContain('common-humidity');
  });

  test('one that was measured already: more points', () => {
    const lines = setUp().map((line): Line =>
      line.type === 'unit' && line.airflow !== undefined
        ? { ...line, airflow: { ...line.airflow, source: 'grid' } }
        : line,
    );
    const { advice } = budgetOf(visitOf(new Script(ERRORS, lines).together(200).atPlaces(30)));
    expect(advice).toMatch(/the airflow: traverse it again with more points\.$/);
  });

  test('probes of one place that differ: the spread', () => {
    const limits = { temperatureC: 0.1, humidityPct: 0.5 };
    const visit = new TestVisit([
      ...setUp().map((line) => (line.type === 'probe' ? { ...line, limits } : line)),
      { type: 'probe', id: 's2', unit: 'u1', place: 'supply', limits },
    ]);
    for (let s = 0; s < 20; s++) {
      visit.run(s, s + 1);
      visit.reading('s2', s * 1000 + 500, { temperatureC: 16, humidityPct: 85 });
    }
    const { items, advice } = budgetOf(visit);
    expect(items[0]).toMatchObject({ kind: 'spread', of: 'supply' });
    expect(advice).toMatch(/air that differs from spot to spot: walk the outlet, or hang more/);
  });

  test('the pressure of an unknown height', () => {
    const visit = new TestVisit([
      { type: 'visit', version: 1, mode: 'cooling' },
      ...setUp()
        .slice(1)
        .map((line): Line => {
          if (line.type === 'probe') {
            return { ...line, limits: { temperatureC: 0.02, humidityPct: 0.1 } };
          }
          if (line.type !== 'unit' || line.airflow === undefined) return line;
          return { ...line, airflow: { ...line.airflow, limitPct: 0.5 } };
        }),
    ]);
    visit.run(0, 20);
    expect(budgetOf(visit).advice).toMatch(
      /comes from the pressure: enter what a barometer reads\.$/,
    );
  });

  test('there is none without an interval', () => {
    const visit = new TestVisit(setUp().filter((l) => l.type !== 'unit'));
    visit.run(0, 5);
    expect(visit.session.budgets()).toEqual([]);
  });
});
