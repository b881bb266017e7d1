/**
 * The verdict on a capture. Probabilities are those of tests/reference/expectation.test.ts; here the figures
 * of the visit itself are put into the formula.
 */
import { describe, expect, it } from 'vitest';
import type { Line } from '../../adapters/contract.ts';
import type { Capture, Expected, VerdictMessage } from '../../server/protocol.ts';
import { Session } from '../../server/session.ts';
import { setUp, T0 } from './visit.ts';

const SOURCE = { adapter: 'test', simulated: false };

class Judged {
  readonly verdicts: VerdictMessage[] = [];
  readonly captures: Capture[] = [];
  readonly session: Session;
  s = 0;
  constructor(lines: Line[]) {
    this.session = new Session({
      ...{
        snapshot: () => {},
        capture: (c) => void this.captures.push(c),
        check: () => {},
        walk: () => {},
      },
      ...{ event: () => {}, probe: () => {}, setup: () => {} },
      verdict: (verdict, capture) => {
        if (capture.open !== true) this.verdicts.push(verdict);
      },
    });
    for (const line of [
      ...setUp(),
      { type: 'probe', id: 'o', place: 'outdoor' } as const,
      ...lines,
    ]) {
      expect(this.session.apply(line, SOURCE)).toBeNull();
    }
  }
  go(seconds: number, supplyC: number, outdoorC = 35): void {
    for (const end = this.s + seconds; this.s < end; this.s++) {
      const t = T0 + this.s * 1000;
      const read = (probe: string, temperatureC: number, humidityPct: number): Line => ({
        ...{ type: 'reading', t, probe, temperatureC, humidityPct },
      });
      this.session.apply(read('r', 26.7, 51), SOURCE);
      this.session.apply(read('s', supplyC, 94), SOURCE);
      this.session.apply({ type: 'reading', t, probe: 'o', temperatureC: outdoorC }, SOURCE);
    }
  }
  push(valueC: number, more: { boost?: true } = {}): void {
    this.tell({ type: 'event', t: this.t, kind: 'setpoint', unit: 'u1', valueC, ...more });
  }
  get t(): number {
    return T0 + this.s * 1000;
  }
  tell(line: Line): string | null {
    return this.session.apply(line, SOURCE);
  }
  get now(): Expected {
    const now = this.session.expected().find(({ unit }) => unit === 'u1');
    if (now === undefined) throw new Error('no u1');
    return now;
  }
  get last(): VerdictMessage {
    const last = this.verdicts.at(-1);
    if (last === undefined) throw new Error('no verdict');
    return last;
  }
}

const LIMITS = { temperatureC: 0.5, humidityPct: 2.5 };

const published = (totalW: number, more: object = {}): Line => ({
  ...{ type: 'expectation', unit: 'u1', mode: 'cooling', net: true, limitPct: 5 },
  points: [{ speed: 'rated', outdoorC: 35, indoorC: 26.7, indoorWetBulbC: 19.1, totalW }],
  ...more,
});

/** Steady, the setpoint pushed on, steady again; the air brings some 5 kW at 12 °C. */
function judged(totalW: number, more: object = {}): VerdictMessage[] {
  const visit = new Judged([published(totalW, more)]);
  visit.go(900, 12);
  visit.push(16);
  visit.go(900, 12);
  visit.session.finish();
  return visit.verdicts;
}

describe('a capture', () => {
  it('meets what was promised, falls short of it, or nobody can tell', () => {
    expect(judged(4000).at(-1)?.verdict).toBe('meets');
    expect(judged(9000).at(-1)?.verdict).toBe('falls-short');
    const [, last] = judged(5700);
    expect(last?.verdict).toBe('cannot-tell');
    expect(last?.probability).toBeGreaterThan(0.05);
    expect(last).toMatchObject({ basis: 'table', by: 'itself', limit: 0.9 });
    expect(last?.conditions.outdoorC).toBeCloseTo(35, 6);
  });

  it('can fall short only once full demand has been shown', () => {
    const verdicts = judged(9000);
    expect(verdicts.map(({ verdict }) => verdict)).toEqual(['not-asked', 'falls-short']);
    // More came when it was pushed: it had not given all it has, and may have more.
    const visit = new Judged([published(12_000)]);
    visit.go(900, 16);
    visit.push(16);
    visit.go(900, 12);
    visit.session.finish();
    expect(visit.verdicts.at(-1)?.verdict).toBe('not-asked');
  });

  it('a setpoint that asks for less takes full demand back', () => {
    const visit = new Judged([published(9000)]);
    visit.go(900, 12);
    visit.push(16);
    visit.go(900, 12);
    visit.push(26);
    visit.go(900, 18);
    visit.session.finish();
    expect(visit.verdicts.map(({ verdict }) => verdict)).toEqual([
      'not-asked',
      'falls-short',
      'not-asked',
    ]);
  });

  it('a gross figure is made net by the fan’s watts; a limit of one’s own counts', () => {
    const net = judged(5000).at(-1);
    const gross = judged(5000, { net: false, fanW: 40 }).at(-1);
    expect((net?.expectedW ?? NaN) - (gross?.expectedW ?? NaN)).toBeCloseTo(40, 6);
    const strict = judged(5000, { limit: 1 }).at(-1);
    expect(strict?.probability).toBeLessThan(net?.probability ?? NaN);
  });

  it('without outdoor air, or for another mode, there is none', () => {
    const visit = new Judged([published(4000, { mode: 'heating' })]);
    visit.go(900, 12);
    visit.session.finish();
    expect(visit.verdicts).toEqual([]);
  });
});

describe('full demand', () => {
  const shown = (visit: Judged): unknown => visit.now.fullDemand?.valueC;

  it('is shown by a setpoint that is pushed on, or by boost; a step within the room’s air shows nothing', () => {
    const visit = new Judged([published(9000)]);
    visit.go(900, 12);
    visit.push(25.5);
    visit.go(900, 12);
    visit.push(16);
    visit.go(30, 12);
    expect(visit.now.push).toBeNull();
    visit.go(870, 12);
    visit.session.finish();
    expect(visit.now.push).toMatchObject({ answer: 'all', valueC: 16, boost: false });
    expect(shown(visit)).toBe(16);

    const boosted = new Judged([published(9000)]);
    boosted.go(900, 12);
    boosted.push(25.5, { boost: true });
    boosted.go(900, 12);
    boosted.session.finish();
    expect(boosted.now.push).toMatchObject({ answer: 'all', boost: true });
  });

  it('another fan speed takes it back', () => {
    const visit = new Judged([published(9000)]);
    visit.go(900, 12);
    visit.push(16);
    visit.go(900, 12);
    visit.tell({ type: 'event', t: visit.t, kind: 'fan', unit: 'u1', speed: 'low' });
    expect(shown(visit)).toBeUndefined();
  });

  it('says that more came', () => {
    const more = new Judged([published(9000)]);
    more.go(900, 16);
    more.push(16);
    more.go(900, 12);
    more.session.finish();
    expect(more.now.push?.answer).toBe('more');
    const push = more.now.push;
    expect(push?.differenceW).toBeGreaterThan(push?.differenceU95W ?? NaN);
  });

  it('figures for another fan speed than the one that is told show no shortfall', () => {
    const visit = new Judged([published(9000, { fan: 'high' })]);
    visit.tell({ type: 'event', t: T0, kind: 'fan', unit: 'u1', speed: 'low' });
    visit.go(900, 12);
    visit.push(16);
    visit.go(900, 12);
    visit.session.finish();
    expect(visit.last).toMatchObject({ verdict: 'not-asked', otherSpeed: true });
  });
});

describe('heads on one outdoor unit', () => {
  /** Another head of the same system gives some 5 kW as well. */
  const twoHeads = (system: object): Judged => {
    const visit = new Judged([
      published(9000),
      { type: 'system', id: 's', ...system },
      { type: 'unit', id: 'u1', system: 's' },
      {
        ...{ type: 'unit', id: 'u2', system: 's', unevenPct: { return: 0, supply: 0 } },
        airflow: { source: 'entered', flowM3s: 0.2, basis: 'actual', plane: 'supply', limitPct: 5 },
      },
      { type: 'probe', id: 'r2', unit: 'u2', place: 'return', limits: LIMITS },
      { type: 'probe', id: 's2', unit: 'u2', place: 'supply', limits: LIMITS },
    ]);
    const both = (seconds: number): void => {
      for (let i = 0; i < seconds; i++) {
        const { t } = visit;
        for (const [probe, temperatureC, humidityPct] of [
          ['r2', 26.7, 51],
          ['s2', 12, 94],
        ] as const) {
          visit.tell({ type: 'reading', t, probe, temperatureC, humidityPct });
        }
        visit.go(1, 12);
      }
    };
    both(900);
    visit.push(16);
    both(900);
    visit.session.finish();
    return visit;
  };

  it('what others take is unknown until the outdoor unit’s own figure is: no shortfall, only a bound', () => {
    expect(twoHeads({}).last).toMatchObject({ verdict: 'cannot-tell', atMost: true });
  });

  it('a head gets what the others leave', () => {
    const { last, captures } = twoHeads({ combinedCoolingW: 10_500 });
    // At 35 °C outdoors, and 19.1 °C wet bulb within 0.2 % of rating: 10.5 kW less some 5.5 kW.
    const otherW = captures.findLast(({ unit }) => unit === 'u2')?.totalW ?? NaN;
    expect(last.limited).toBe(true);
    expect(Math.abs(last.expectedW - (10_500 - otherW))).toBeLessThan(60);
    expect(last.verdict).not.toBe('falls-short');
  });

  it('others that take more than is printed for all leave a bound, and every figure finite', () => {
    const { last } = twoHeads({ combinedCoolingW: 3000 });
    expect(last).toMatchObject({ verdict: 'cannot-tell', atMost: true, limited: false });
    expect(Number.isFinite(last.ratio)).toBe(true);
  });

  it('heads without probes may run: that is asked for, and counts', () => {
    const alone = (system: object): VerdictMessage => {
      const visit = new Judged([
        published(9000),
        { type: 'system', id: 's', heads: 3, ...system },
        { type: 'unit', id: 'u1', system: 's' },
      ]);
      visit.go(900, 12);
      visit.push(16);
      visit.go(900, 12);
      visit.session.finish();
      return visit.last;
    };
    expect(alone({}).verdict).toBe('cannot-tell');
    expect(alone({ othersRun: false }).verdict).toBe('falls-short');
    expect(alone({ othersRun: true }).verdict).toBe('cannot-tell');
  });
});

describe('what is expected', () => {
  it('goes with the site’s height and the maker’s factor for the lines', () => {
    const at = (...lines: Line[]): number => {
      const visit = new Judged([published(5000, { lineFactor: 0.95 }), ...lines]);
      visit.go(60, 12);
      return visit.now.now?.expectedW ?? NaN;
    };
    expect(at()).toBeCloseTo(4750, 3);
    expect(at({ type: 'visit', version: 1, altitudeM: 1500 }) / 4750).toBeCloseTo(0.972, 3);
  });

  it('is said why not where it cannot be', () => {
    const visit = new Judged([]);
    visit.go(60, 12);
    expect(visit.now).toMatchObject({ now: null, why: 'nothing' });
    visit.tell(published(5000));
    visit.go(60, 12, 60);
    expect(visit.now).toMatchObject({ now: null, why: 'outside' });
  });

  it('told only after the capture, the capture is judged all the same', () => {
    const visit = new Judged([]);
    visit.go(900, 12);
    visit.session.finish();
    expect(visit.verdicts).toEqual([]);
    visit.tell(published(4000));
    expect(visit.last.verdict).toBe('meets');
  });

  it('outdoor air that a person tells will do, with less certainty', () => {
    const visit = new Judged([published(5000), { type: 'probe', id: 'o', place: null }]);
    visit.tell({ type: 'visit', version: 1, outdoorC: 34 });
    visit.go(60, 12);
    expect(visit.now.now).toMatchObject({ outdoorFrom: 'entered', conditions: { outdoorC: 34 } });
  });
});

describe('field efficiency', () => {
  it('is the heat over the power, by a probe or as a person reads it', () => {
    const visit = new Judged([{ type: 'probe', id: 'w', unit: 'u1', place: 'outdoor' }]);
    visit.go(60, 12);
    expect(visit.now.efficiency).toBeNull();
    visit.tell({ type: 'unit', id: 'u1', powerW: 1400, powerLimitPct: 5 });
    const totalW = visit.session.latest?.units['u1']?.capacity.totalW ?? NaN;
    expect(visit.now.efficiency).toMatchObject({ from: 'entered', powerW: 1400 });
    expect(visit.now.efficiency?.value).toBeCloseTo(totalW / 1400, 9);
    visit.tell({ type: 'reading', t: visit.t, probe: 'w', powerW: 1300 });
    visit.go(2, 12);
    expect(visit.now.efficiency).toMatchObject({ from: 'probe', powerW: 1300 });
    expect(visit.now.efficiency?.u95).toBeGreaterThan(0);
  });
});

describe('a baseline', () => {
  it('is a capture that a person marks; the mark can be taken off; another is refused', () => {
    const visit = new Judged([]);
    visit.go(900, 12);
    visit.session.finish();
    const { from, by = 'itself' } = visit.captures.at(-1) ?? {};
    const mark = { type: 'event', t: visit.t, kind: 'baseline', unit: 'u1' } as const;
    expect(visit.tell({ ...mark, from, by })).toBeNull();
    expect(visit.captures.at(-1)).toMatchObject({ baseline: true, from });
    expect(visit.tell({ ...mark, from, by, off: true })).toBeNull();
    expect(visit.captures.at(-1)?.baseline).toBeUndefined();
    expect(visit.tell({ ...mark, from: T0 - 1, by })).toMatch(/^from: no capture/);
    expect(visit.tell(mark)).toMatch(/^from: is missing/);
    expect(visit.tell({ ...mark, airflowT: T0 })).toMatch(/^airflowT: no airflow/);
  });

  it('a capture keeps how the unit was set, and what its interval is made of', () => {
    const visit = new Judged([]);
    visit.tell({ type: 'event', t: T0, kind: 'fan', unit: 'u1', speed: 'high' });
    visit.push(18);
    visit.go(900, 12);
    visit.session.finish();
    const { at, errors, totalU95W, scatterU95W } = visit.captures.at(-1) ?? {};
    expect(at).toMatchObject({ fan: 'high', setpointC: 18, returnProbes: ['r'], flowLimitPct: 5 });
    expect(at?.outdoorC).toBeCloseTo(35, 9);
    const u = Math.hypot(...(errors ?? []).map(({ totalW }) => totalW));
    expect(Math.hypot(1.96 * u, scatterU95W ?? 0) / (totalU95W ?? NaN)).toBeCloseTo(1, 1);
  });
});
