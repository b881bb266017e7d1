/**
 * A velocity probe that stays in the outlet scales the flow that was told. Expected flows are the told one
 * times the ratio of the velocities; the expected error of that ratio is a Monte Carlo over what is assumed
 * of one spot: the flow goes with its velocity to a power of 1 ± 0.1.
 */
import { describe, expect, it, test } from 'vitest';
import type { Airflow } from '../../adapters/contract.ts';
import { SpotMean } from '../../server/session/spot-mean.ts';
import { randomStream } from '../../simulator/random.ts';
import { scenario } from '../../simulator/scenarios.ts';
import { play } from './situations/simulated.ts';
import { setUp, T0, TestVisit } from './visit.ts';

const TOLD: Airflow = {
  ...{ source: 'sweep', flowM3s: 0.2, basis: 'actual', plane: 'supply', limitPct: 5 },
};

/** A visit with a velocity probe `v` in the outlet. */
class OutletVisit extends TestVisit {
  s = 0;
  /** So many seconds of calm air with that velocity; NaN: nothing is heard of it. */
  go(seconds: number, velocityMs: number, supplyC = 12): void {
    for (const end = this.s + seconds; this.s < end; this.s++) {
      this.run(this.s, this.s + 1, () => supplyC);
      if (velocityMs >= 0) this.reading('v', this.s * 1000 + 500, { velocityMs });
    }
  }
  tell(airflow: Airflow): void {
    this.take({ type: 'airflow', t: T0 + this.s * 1000, unit: 'u1', airflow });
  }
  get flow(): number {
    return this.unit().airflow.flowM3s ?? NaN;
  }
}

function outletVisit(limits = {}): OutletVisit {
  const probe = { type: 'probe', id: 'v', unit: 'u1', place: 'outlet', limits } as const;
  return new OutletVisit([...setUp(), probe]);
}

describe('the flow', () => {
  it('is the told one while the velocity is that of the minute after it was told', () => {
    const visit = outletVisit();
    visit.go(50, 4);
    expect(visit.unit()).toMatchObject({ airflow: { source: 'entered' }, airflowFollows: null });
    visit.go(20, 4);
    expect(visit.unit().airflowFollows).toBe('v');
    expect(visit.flow).toBeCloseTo(0.2, 6);
  });

  it.each([0.6, 0.85, 1.4])(
    'follows the velocity to %s of it, and settling begins anew',
    (part) => {
      const visit = outletVisit();
      visit.go(400, 4);
      expect(visit.unit().settling.state).toBe('steady');
      visit.go(60, 4 * part);
      expect(visit.flow / (0.2 * part)).toBeCloseTo(1, 2);
      const since = ((visit.unit().settling.since ?? NaN) - T0) / 1000;
      expect(since).toBeGreaterThan(395);
      // What was steady before stays a capture of the flow before.
      expect(visit.captures.map(({ to }) => (to - T0) / 1000 < 415)).toContain(true);
      expect(visit.codes()).not.toContain('fan-auto');
    },
  );

  it('of a few per cent more is the fan’s own doing: steady goes on', () => {
    const visit = outletVisit();
    visit.go(400, 4);
    const { since } = visit.unit().settling;
    visit.go(300, 4 * 1.02);
    expect(visit.flow).toBeCloseTo(0.2 * 1.02, 4);
    expect(visit.unit().settling).toMatchObject({ state: 'steady', since });
  });

  it('little by little to another one is another one', () => {
    const visit = outletVisit();
    visit.go(300, 4);
    const { since } = visit.unit().settling;
    for (let v = 4; v > 3.5; v -= 0.01) visit.go(20, v);
    expect(visit.unit().settling.since).not.toBe(since);
  });

  it('told anew is that of the last minute', () => {
    const visit = outletVisit();
    visit.go(300, 4);
    visit.go(100, 3);
    visit.tell({ ...TOLD, flowM3s: 0.13 });
    visit.go(5, 3);
    expect(visit.flow).toBeCloseTo(0.13, 6);
    visit.go(60, 3.6);
    expect(visit.flow / (0.13 * (3.6 / 3))).toBeCloseTo(1, 2);
  });

  it('told with another fan speed waits until the fan has come to it', () => {
    const visit = outletVisit();
    visit.go(300, 4);
    const t = T0 + visit.s * 1000;
    visit.take({ type: 'event', t, kind: 'fan', unit: 'u1', speed: 'low' });
    visit.tell({ ...TOLD, flowM3s: 0.12 });
    visit.go(9, 3);
    visit.go(120, 2.4);
    expect(visit.flow).toBeCloseTo(0.12, 3);
  });

  it('as standard air goes with the density of the supply too', () => {
    const visit = outletVisit();
    visit.tell({ ...TOLD, basis: 'standard' });
    visit.go(300, 4, 12);
    visit.go(300, 4, 8);
    // Mass flow at one volume flow: ideal gas, as 1/T.
    const kgs = visit.unit().airflow.dryAirKgs ?? NaN;
    expect(kgs).toBeCloseTo((0.2 * 1.204 * (273.15 + 12)) / (273.15 + 8), 4);
  });
});

describe('where the probe is not heard any more', () => {
  it('it is the told one, and that is doubted, with what it was last', () => {
    const visit = outletVisit();
    visit.go(300, 4);
    visit.go(100, 2.8);
    visit.go(60, NaN);
    expect(visit.unit().airflowFollows).toBeNull();
    expect(visit.flow).toBeCloseTo(0.2, 6);
    const doubt = visit.unit().doubts.find(({ code }) => code === 'velocity-lost');
    expect(doubt?.effect).toContain('30 % less');
    visit.go(60, 2.8);
    expect(visit.flow / 0.14).toBeCloseTo(1, 2);
    expect(visit.codes()).not.toContain('velocity-lost');
  });

  it('hung elsewhere in the outlet it goes on from the flow that it was', () => {
    const visit = outletVisit();
    visit.go(300, 4);
    visit.go(100, 2.8);
    visit.take({ type: 'probe', id: 'v', unit: null, place: null });
    visit.go(2, 1.9);
    expect(visit.codes()).toContain('velocity-lost');
    visit.take({ type: 'probe', id: 'v', unit: 'u1', place: 'outlet' });
    visit.go(70, 1.9);
    expect(visit.flow / 0.14).toBeCloseTo(1, 2);
  });
});

describe('its uncertainty', () => {
  /** Half-width of 95 % over the total. */
  const relative = (visit: OutletVisit): number => {
    const { totalW, totalU95W } = visit.unit().capacity;
    return (totalU95W ?? NaN) / (totalW ?? NaN);
  };

  it('is that of the told flow at its velocity, and grows with the ratio', () => {
    const [still, slow, slower] = [1, 0.7, 0.5].map((part) => {
      const visit = outletVisit();
      visit.go(200, 4);
      visit.go(100, 4 * part);
      return relative(visit);
    });
    const told = new TestVisit();
    told.run(0, 300);
    const { totalW, totalU95W } = told.unit().capacity;
    expect(still).toBeCloseTo((totalU95W ?? NaN) / (totalW ?? NaN), 6);
    expect(slow).toBeGreaterThan(still ?? NaN);
    expect(slower).toBeGreaterThan(slow ?? NaN);
  });

  it('of two flows holds what a Monte Carlo of the exponent and the anemometer’s zero gives', () => {
    const visit = outletVisit({ velocityMs: 0.1 });
    visit.go(200, 4);
    visit.go(100, 2);
    const airflow = visit.session.units.get('u1')?.budget.filter(({ kind }) => kind === 'airflow');
    const spot = airflow?.find(({ of }) => of === 'v');
    const random = randomStream(1, 'exponent');
    let square = 0;
    const n = 20_000;
    for (let i = 0; i < n; i++) {
      const power = 1 + random.between(-0.1, 0.1);
      const zero = random.between(-0.1, 0.1);
      square += (((2 + zero) / (4 + zero)) ** power / 0.5 - 1) ** 2 / n;
    }
    const u = Math.abs(spot?.totalW ?? NaN) / (visit.unit().capacity.totalW ?? NaN);
    expect(u / Math.sqrt(square)).toBeGreaterThan(0.95);
    expect(u / Math.sqrt(square)).toBeLessThan(1.05);
    // And the told flow’s own: ± 5 %, rectangular.
    const told = airflow?.find(({ of }) => of === null);
    expect((told?.totalW ?? NaN) / (visit.unit().capacity.totalW ?? NaN)).toBeCloseTo(
      0.05 / Math.sqrt(3),
      5,
    );
  });
});

test('the mean of a turbulent spot scatters by what is said of it', () => {
  const random = randomStream(1, 'turbulence');
  const means: number[] = [];
  let said = 0;
  for (let i = 0; i < 400; i++) {
    const mean = new SpotMean();
    let deviation = 0;
    for (let s = 0; s < 120; s++) {
      // From second to second 0.3 of it is left: Σρ makes a mean's variance 1.3/0.7 times as large.
      deviation = 0.3 * deviation + Math.sqrt(1 - 0.3 ** 2) * random.normal();
      mean.add(1000 * s, 3 * (1 + 0.08 * deviation));
    }
    means.push(mean.value);
    said += mean.u / 400;
  }
  const centre = means.reduce((sum, v) => sum + v, 0) / means.length;
  const sd = Math.sqrt(means.reduce((sum, v) => sum + (v - centre) ** 2, 0) / means.length);
  expect(said / (sd / centre)).toBeGreaterThan(0.9);
  expect(said / (sd / centre)).toBeLessThan(1.25);
});

test('in the simulator: the fan on auto slows down, and the figure stays true', () => {
  let worst = 0;
  play(scenario('outlet-velocity'), 1, 1500, [], (s, unit, _id, system) => {
    if (s < 1100) return;
    const { flowM3s, totalW } = system.truth('u1');
    worst = Math.max(worst, Math.abs((unit.airflow.flowM3s ?? NaN) / flowM3s - 1));
    expect(Math.abs((unit.capacity.totalW ?? NaN) - totalW)).toBeLessThan(
      unit.capacity.totalU95W ?? NaN,
    );
    expect(unit.doubts.map(({ code }) => code)).not.toContain('fan-auto');
  });
  // ± 6 % of the table, and what one spot makes of a third less.
  expect(worst).toBeLessThan(0.07);
});
