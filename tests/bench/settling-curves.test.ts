/** Visits played from curves are what they say they are. */
import { describe, expect, it, test } from 'vitest';
import { basePlan, heatingPlan, type Plan, step } from './settling/curve-plan.ts';
import { CURVE_KINDS } from './settling/curve-kinds.ts';
import { knownPlateau } from './settling/curve-segments.ts';
import { play } from './settling/curve-visit.ts';
import { enthalpyJkg, relativeHumidityPct, volumeM3kg } from '../../server/measure/moist-air.ts';
import { plateauAir, type Point, supplyAir } from './settling/curve-air.ts';
import { Course } from './settling/course.ts';
import { csvOf } from './settling/dump.ts';
import {
  firstOrder,
  overshoot,
  ramp,
  secondOrder,
  timeConstantS,
  twoStage,
} from './settling/shapes.ts';
import { at } from './settling/visit.ts';
import { watch } from './settling/watch.ts';
import { randomStream } from '../../simulator/random.ts';

/** Still air, and probes that say at once what is so; airflow and barometer are right. */
function exact(plan: Plan): Plan {
  plan.errors = 0;
  plan.noise.share = 0;
  plan.returnNoiseK = 0;
  plan.returnDriftK = 0;
  plan.driftPct = 0;
  Object.assign(plan.probe, { lagC: 0.01, lagPct: 0.01, noiseC: 0, noisePct: 0 });
  Object.assign(plan.probe, { resolutionC: 1e-6, resolutionPct: 1e-6 });
  return plan;
}

describe('shapes', () => {
  const shapes = {
    'first order': firstOrder(80),
    'second order': secondOrder(80, 30),
    ramp: ramp(200, 10),
    overshoot: overshoot(0.4, 300),
    'two stages': twoStage(40, 200, 0.1),
  };

  it.each(Object.entries(shapes))('%s begins at nothing and ends at all', (_, { done }) => {
    expect(done(-5)).toBe(0);
    expect(done(0)).toBeCloseTo(0, 12);
    expect(done(5000)).toBeCloseTo(1, 6);
  });

  it('have the time constant that they are made with', () => {
    expect(timeConstantS(firstOrder(80))).toBeCloseTo(80, 3);
    // Without rounding: 63.2 % of the ramp's length.
    expect(timeConstantS(ramp(200, 0.001))).toBeCloseTo(200 * (1 - Math.exp(-1)), 2);
    expect(timeConstantS(secondOrder(80, 30))).toBeGreaterThan(100);
  });

  it('swing over by what the damping says', () => {
    const highest = Math.max(...Array.from({ length: 600 }, (_, s) => overshoot(0.4, 300).done(s)));
    expect(highest - 1).toBeCloseTo(Math.exp((-0.4 * Math.PI) / Math.sqrt(1 - 0.16)), 3);
  });
});

test('a course stays where it was for its dead time, and goes on from where it is', () => {
  const shape = firstOrder(50);
  const course = new Course(1000, [
    { atS: 100, deadS: 20, plateau: 2000, shape },
    { atS: 170, deadS: 0, plateau: 500, shape },
  ]);
  expect(course.at(119)).toBe(1000);
  const turned = 2000 - 1000 * Math.exp(-1);
  expect(course.at(170)).toBeCloseTo(turned, 9);
  expect(course.at(220)).toBeCloseTo(500 + (turned - 500) * Math.exp(-1), 9);
});

test('a course that moves goes on through a dead time', () => {
  const shape = firstOrder(50);
  const first = { atS: 0, deadS: 0, plateau: 2000, shape };
  const course = new Course(1000, [first, { atS: 50, deadS: 50, plateau: 0, shape }]);
  const turned = 2000 - 1000 * Math.exp(-2);
  expect(course.at(100)).toBeCloseTo(turned, 9);
  expect(course.at(150)).toBeCloseTo(turned * Math.exp(-1), 9);
});

describe('supply air', () => {
  const pPa = 100_000;
  const flowM3s = 0.15;
  const ret = { tC: 26, W: 0.0105 };
  const deliveredW = (supply: Point): number =>
    (flowM3s / volumeM3kg(supply.tC, supply.W, pPa)) *
    (enthalpyJkg(ret.tC, ret.W) - enthalpyJkg(supply.tC, supply.W));

  it('on a plateau is as wet as is asked, and delivers what is asked', () => {
    const { supply, latentW } = plateauAir(3000, ret, flowM3s, 90, pPa);
    expect(relativeHumidityPct(supply.tC, supply.W, pPa)).toBeCloseTo(90, 1);
    expect(deliveredW(supply)).toBeCloseTo(3000, 0);
    expect(latentW).toBeGreaterThan(300);
  });

  it('keeps its moisture where the coil stays dry', () => {
    const { supply, latentW } = plateauAir(800, ret, flowM3s, 90, pPa);
    expect(supply.W).toBe(ret.W);
    expect(latentW).toBe(0);
    expect(deliveredW(supply)).toBeCloseTo(800, 0);
  });

  it('never holds more than it can, and delivers the total all the same', () => {
    const { supply, latentW } = supplyAir(2500, -500, ret, flowM3s, ret, pPa);
    expect(relativeHumidityPct(supply.tC, supply.W, pPa)).toBeCloseTo(98, 1);
    expect(latentW).toBeGreaterThan(-500);
    expect(deliveredW(supply)).toBeCloseTo(2500, 0);
  });
});

test('a heating visit is measured as it is by probes that are right', () => {
  const random = randomStream(2, 'exact');
  const plan = exact(heatingPlan(random));
  step(plan, random, firstOrder(60), { plateau: 0.8, deadS: 0 });
  const visit = play('exact', plan, 2, false);
  const seen = watch(visit);
  for (const i of [100, visit.trueW.length - 5]) {
    expect(at(seen.totalW, i) / at(visit.trueW, i)).toBeCloseTo(1, 3);
  }
});

describe('the plateau that counts', () => {
  const random = randomStream(4, 'counts');
  const planOf = (told: 'setpoint' | null): Plan => {
    const plan = { ...basePlan(random), from: 0.5 };
    step(plan, random, firstOrder(60), { plateau: 1, deadS: 30, told });
    for (const change of plan.changes) Object.assign(change, { atS: 200, toldAfterS: 2 });
    return plan;
  };

  it('is the new one from its telling on; from the act to the telling none is', () => {
    const counts = [199, 200, 201.9, 202].map((s) => knownPlateau(planOf('setpoint'), s));
    expect(counts).toEqual([0.5, NaN, NaN, 1]);
  });

  it('is the old one until it moves, where nothing is told', () => {
    const counts = [199, 202, 229, 230].map((s) => knownPlateau(planOf(null), s));
    expect(counts).toEqual([0.5, 0.5, 0.5, 1]);
  });
});

describe('a played visit', () => {
  const random = randomStream(1, 'exact');
  const plan = exact(basePlan(random));
  step(plan, random, firstOrder(60), { plateau: 1, deadS: 30 });
  const visit = play('exact', { ...plan, from: 0.5 }, 1, false);
  const [, segment] = visit.segments;

  it('has exactly the prescribed truth', () => {
    const from = segment?.from ?? NaN;
    const P = plan.nominalW;
    for (const s of [0, 29, 40, 90, 150, 600]) {
      const since = s + 0.5 - 30;
      const wanted = since < 0 ? 0.5 * P : P * (1 - 0.5 * Math.exp(-since / 60));
      expect(at(visit.trueW, from + s) / wanted).toBeCloseTo(1, 9);
    }
    expect(at(visit.plateauW, from + 100)).toBeCloseTo(P, 6);
    // Half of the way is left; 2 % when that has become a twenty-fifth.
    expect((segment?.settledAt ?? NaN) - from).toBeCloseTo(30 + 60 * Math.log(25), -0.5);
    expect(segment?.approach).toMatchObject({ deadS: 30, largerS: null });
    expect(segment?.approach?.tauS).toBeCloseTo(60, 3);
  });

  it('is measured as it is by probes that are right', () => {
    const seen = watch(visit);
    const from = segment?.from ?? NaN;
    expect(at(visit.trueLatentW, from + 1000) / plan.nominalW).toBeGreaterThan(0.1);
    for (const s of [-20, 20, 150, 400, 1000]) {
      expect(at(seen.totalW, from + s) / at(visit.trueW, from + s)).toBeCloseTo(1, 2);
      const falseW = at(seen.latentW, from + s) - at(visit.trueLatentW, from + s);
      expect(Math.abs(falseW) / plan.nominalW).toBeLessThan(0.005);
    }
  });

  it('draws the errors of all that is measured within their limits', () => {
    const seen = watch(play('exact', { ...plan, from: 0.5, errors: 1 }, 1, false));
    const end = visit.trueW.length - 1;
    const off = at(seen.totalW, end) / at(visit.trueW, end) - 1;
    expect(Math.abs(off)).toBeGreaterThan(0.005);
    expect(Math.abs(off)).toBeLessThan(0.4);
  });

  it('is the same again from the same seed, and another from another', () => {
    const again = play('exact', { ...plan, from: 0.5 }, 1, false);
    expect(again.lines).toEqual(visit.lines);
    expect(play('exact', { ...plan, from: 0.5 }, 2, false).lines).not.toEqual(visit.lines);
  });

  it('tells its lines in order of their time', () => {
    const times = visit.lines.flatMap((line) => ('t' in line ? (line.t ?? []) : []));
    expect(times).toEqual(times.toSorted((a, b) => a - b));
    expect(times.length).toBeGreaterThan(2 * visit.trueW.length - 100);
  });

  it('can be looked at as CSV', () => {
    const rows = csvOf(visit, watch(visit)).split('\n');
    expect(rows).toHaveLength(visit.trueW.length + 1);
    expect(rows[0]).toMatch(/^t,segment,trueW/);
    expect(new Set(rows.map((row) => row.split(',').length)).size).toBe(1);
  });
});

describe('kinds', () => {
  it.each(CURVE_KINDS)('$name: has segments side by side, with something to judge', ({ make }) => {
    const visit = make(0);
    expect(visit.segments.length).toBeGreaterThan(1);
    expect(
      visit.segments.some(({ stretch }) => stretch === 'settles' || stretch === 'cycles'),
    ).toBe(true);
    visit.segments.forEach(({ from, to }, k) => {
      expect(to).toBeGreaterThan(from);
      expect(visit.segments[k + 1]?.from ?? visit.trueW.length).toBe(to + 1);
    });
    expect(visit.trueW.every((w) => Number.isFinite(w))).toBe(true);
  });

  it('have names of their own', () => {
    expect(new Set(CURVE_KINDS.map(({ name }) => name)).size).toBe(CURVE_KINDS.length);
  });
});
