/** Uneven air in a visit: what is assumed, what a person says, what a walk along the outlet finds. */
import { describe, expect, test } from 'vitest';
import type { Line, WalkEvent } from '../../adapters/contract.ts';
import { capacity } from '../../server/measure/capacity.ts';
import { humidityRatio } from '../../server/measure/moist-air.ts';
import { budgetOf } from '../../server/session/advice.ts';
import { setUp, T0, TestVisit } from './visit.ts';

const P = 101_325;
const ROOM = { temperatureC: 26.7, humidityPct: 51 };
/** The outlet's mean, and the spot at which the supply probe hangs. */
const OUTLET = { temperatureC: 12, humidityPct: 92 };
const SPOT_K = 1;
const LIMITS = { temperatureC: 0.5, humidityPct: 2.5 };

const FLOW = { flowM3s: 0.2, basis: 'actual', plane: 'supply' } as const;
const point = (air: typeof ROOM): { temperatureC: number; humidityRatio: number } => ({
  temperatureC: air.temperatureC,
  humidityRatio: humidityRatio(air.temperatureC, air.humidityPct, P),
});
const TRUE_W = capacity('cooling', point(ROOM), point(OUTLET), FLOW, P).totalW;
const warmer = (air: typeof ROOM, k: number): typeof ROOM => ({
  ...air,
  temperatureC: air.temperatureC + k,
});

/** Nobody has said anything of the air. */
function silent(): Line[] {
  return setUp().map((line) => (line.type === 'unit' ? { ...line, unevenPct: undefined } : line));
}

class Walked extends TestVisit {
  s = 0;

  /** So many seconds with the probe `w` in the air of the outlet at a position of −1 to 1. */
  go(seconds: number, w: (s: number) => typeof ROOM = () => ROOM): this {
    for (let i = 0; i < seconds; i++, this.s++) {
      const t = this.s * 1000;
      this.reading('r', t, ROOM);
      this.reading('s', t, warmer(OUTLET, SPOT_K));
      this.reading('w', t, w(i));
    }
    return this;
  }

  tell(phase: WalkEvent['phase'], more: Partial<WalkEvent> = {}): string | null {
    const t = T0 + this.s * 1000 - 500;
    const event = { kind: 'walk', phase, unit: 'u1', place: 'supply', probe: 'w' } as const;
    return this.take({ type: 'event', t, ...event, ...more });
  }
}

/** Along a straight profile there and back: off by −1.5 to 1.5 K, by 0 on the mean. */
const along = (s: number): typeof ROOM => warmer(OUTLET, 1.5 - Math.abs(s - 60) / 20);

describe('one probe in the outlet', () => {
  test('is doubted with its size, and the interval has room for it', () => {
    const visit = new Walked(silent()).go(20);
    const { capacity: c, doubts } = visit.unit();
    const single = doubts.find(({ code }) => code === 'supply-single');
    expect(single?.text).toBe('One probe stands for the whole outlet.');
    // 5 % of 13.7 K at constant relative humidity, about 11 % of the total a kelvin, Student's t of 6.
    const said = Number(/about ± (\d+) %/.exec(single?.effect ?? '')?.[1]);
    expect(said).toBeGreaterThan(16);
    expect(said).toBeLessThan(22);
    expect(c.totalU95W).toBeGreaterThan((said / 100) * (c.totalW ?? NaN));
    expect(single?.remedy).toMatch(/^Walk the outlet/);
    expect(visit.session.budgets()[0]?.advice).toMatch(/from spot to spot: walk the outlet/);
  });

  test('a person says how even it is: narrower, no doubt; null takes that back', () => {
    const visit = new Walked(silent()).go(5);
    const assumed = visit.unit().capacity.totalU95W ?? NaN;
    visit.take({ type: 'unit', id: 'u1', unevenPct: { supply: 1 } });
    visit.go(5);
    expect(visit.codes()).not.toContain('supply-single');
    expect(visit.unit().capacity.totalU95W).toBeLessThan(assumed);
    expect(visit.session.setup().units['u1']?.evenness.supply).toEqual({
      spotsPct: 1,
      from: 'entered',
      walkedT: null,
    });
    visit.take({ type: 'unit', id: 'u1', unevenPct: { supply: null } });
    visit.go(5);
    expect(visit.unit().capacity.totalU95W).toBeCloseTo(assumed, 6);
  });

  test('a second probe makes the interval narrower', () => {
    const visit = new Walked(silent()).go(5);
    const one = visit.unit().capacity.totalU95W ?? NaN;
    visit.take({ type: 'probe', id: 'w', unit: 'u1', place: 'supply', limits: LIMITS });
    visit.go(10, () => warmer(OUTLET, SPOT_K - 0.6));
    expect(visit.codes()).not.toContain('supply-single');
    expect(visit.unit().capacity.totalU95W).toBeLessThan(one);
  });

  test('shares of the flow weigh the mean', () => {
    const visit = new Walked(silent());
    visit.take({ type: 'probe', id: 's', flowShare: 3 });
    visit.take({
      type: 'probe',
      id: 'w',
      unit: 'u1',
      place: 'supply',
      limits: LIMITS,
      flowShare: 1,
    });
    visit.go(10, () => warmer(OUTLET, SPOT_K + 2));
    expect(visit.unit().supply.temperatureC).toBeCloseTo(12 + SPOT_K + 2 / 4, 6);
  });
});

test('uneven air of the intake is advised on as such', () => {
  const errors = { sensibleW: 0, latentW: 0, shape: 0 };
  const adviceOf = (walked: boolean): string | null =>
    budgetOf(
      'u1',
      T0,
      400,
      [
        { kind: 'spread', of: 'return', totalW: 200, ...errors },
        { kind: 'spread', of: 'supply', totalW: 100, ...errors },
      ],
      (id) => id,
      { checked: true, measured: true, walked: { return: walked, supply: false } },
    ).advice;
  expect(adviceOf(false)).toMatch(/: walk the intake, or hang more probes along it\.$/);
  expect(adviceOf(true)).toMatch(/: hang more probes along the intake\.$/);
});

describe('a walk along the outlet', () => {
  function walked(lines = silent()): Walked {
    const visit = new Walked(lines);
    visit.take({ type: 'probe', id: 'w', limits: LIMITS });
    visit.go(20);
    expect(visit.tell('start')).toBeNull();
    visit.go(40, () => along(0));
    expect(visit.tell('go')).toBeNull();
    visit.go(120, along);
    return visit;
  }

  test('finds what the probe that stays is off by, and says what that does to the figure', () => {
    const visit = walked();
    const before = visit.unit().capacity;
    const running = visit.walks.at(-1);
    expect(running).toMatchObject({ phase: 'running', verdict: 'found', probe: 'w', progress: 1 });
    expect(running?.biasK).toBeCloseTo(SPOT_K, 1);
    const offPct = 100 * ((before.totalW ?? NaN) / TRUE_W - 1);
    expect(running?.totalPct).toBeCloseTo(offPct, -0.5);
    expect(visit.tell('end')).toBeNull();
    visit.go(10);
    const after = visit.unit().capacity;
    expect((after.totalW ?? NaN) / TRUE_W).toBeGreaterThan(0.985);
    expect((after.totalW ?? NaN) / TRUE_W).toBeLessThan(1.015);
    expect(after.totalU95W).toBeLessThan(0.75 * (before.totalU95W ?? NaN));
    expect(visit.codes()).not.toContain('supply-single');
    expect(visit.walks.at(-1)).toMatchObject({ phase: 'ended' });
  });

  test('once walked, the advice is more probes; before, the walk', () => {
    // All else is sure: what is left of uneven air is the largest part of the interval.
    const sure = silent().map((line): Line => {
      if (line.type === 'unit' && line.airflow !== undefined) {
        return { ...line, airflow: { ...line.airflow, limitPct: 0.1 } };
      }
      return line.type === 'probe'
        ? { ...line, limits: { temperatureC: 0.02, humidityPct: 0.1 } }
        : line;
    });
    const visit = walked(sure);
    visit.tell('end');
    visit.go(5);
    const advice = (): string | null | undefined => visit.session.budgets()[0]?.advice;
    expect(advice()).toMatch(/from spot to spot: hang more probes along the outlet\.$/);
    visit.take({ type: 'probe', id: 's', unit: 'u1', place: null });
    visit.take({ type: 'probe', id: 's', unit: 'u1', place: 'supply' });
    visit.go(5);
    expect(advice()).toMatch(/from spot to spot: walk the outlet, or hang more probes along it\.$/);
  });

  test('is of the past when the probe hangs elsewhere', () => {
    const visit = walked();
    visit.tell('end');
    visit.go(5);
    visit.take({ type: 'probe', id: 's', unit: 'u1', place: null });
    visit.take({ type: 'probe', id: 's', unit: 'u1', place: 'supply' });
    visit.go(5);
    expect(visit.codes()).toContain('supply-single');
    expect(visit.unit().supply.temperatureC).toBeCloseTo(12 + SPOT_K, 6);
  });

  test('comes to nothing when a probe that stays is moved, or checked, meanwhile', () => {
    const moved = walked();
    moved.take({ type: 'probe', id: 's', unit: 'u1', place: null });
    expect(moved.walks.at(-1)).toMatchObject({ phase: 'ended', verdict: 'waiting', spotK: null });
    expect(moved.walks.at(-1)?.text).toMatch(/^A probe that should have stayed put was moved/);
    expect(moved.tell('end')).toMatch(/^phase: no walk is running/);
    const checked = walked();
    const t = T0 + checked.s * 1000 - 400;
    checked.take({ type: 'event', t, kind: 'check', phase: 'start', probes: ['r', 's'] });
    expect(checked.walks.at(-1)).toMatchObject({ phase: 'ended', spotK: null });
    expect(checked.session.setup().units['u1']?.evenness.supply.from).toBe('assumed');
  });

  test('with the return probe: no figure meanwhile, and a sentence that says so', () => {
    const visit = new Walked(silent()).go(20);
    expect(visit.tell('start', { probe: 'r' })).toBeNull();
    visit.go(5);
    expect(visit.unit().capacity.totalW).toBeNull();
    expect(visit.codes()).toContain('walk-running');
    expect(visit.codes()).not.toContain('return-missing');
    expect(visit.tell('end', { probe: 'r' })).toBeNull();
    expect(visit.walks.at(-1)?.text).toMatch(/Nothing was corrected\.$/);
    visit.go(5);
    expect(visit.unit().capacity.totalW).not.toBeNull();
  });

  test('what cannot be is refused with a sentence', () => {
    const visit = new Walked(silent()).go(5);
    expect(visit.tell('end')).toMatch(/^phase: no walk is running/);
    expect(visit.tell('go')).toMatch(/^phase: no walk is running/);
    expect(visit.tell('start', { probe: 'x' })).toMatch(/^probe: there is no probe "x"/);
    expect(visit.tell('start', { probe: 's' })).toMatch(/^place: no other live probe hangs/);
    expect(visit.tell('start')).toBeNull();
    expect(visit.take({ type: 'probe', id: 'w', forgotten: true })).toMatch(/^probe: "w" is being/);
  });
});
