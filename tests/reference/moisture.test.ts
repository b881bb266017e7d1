/**
 * What is said of moisture, against Monte Carlo (JCGM 101:2008) and the Handbook's equations
 * (Fundamentals 2021, ch. 1, eqs. 20, 26, 30; W by PsychroLib). Errors are drawn from the ± that a
 * probe of such a data sheet has; what the program says is worked out from the readings alone.
 */
import psychrolib from 'psychrolib';
import { describe, expect, it } from 'vitest';
import type { Airflow, Limits, Mode } from '../../adapters/contract.ts';
import { capacity } from '../../server/measure/capacity.ts';
import { ErrorList } from '../../server/measure/error-list.ts';
import { humidityRatio } from '../../server/measure/moist-air.ts';
import type { CapacitySnapshot, Doubt } from '../../server/protocol.ts';
import { humidityWidening } from '../../server/session/correction.ts';
import { UnitEvenness } from '../../server/session/evenness.ts';
import { figuresOf, humid } from '../../server/session/figures.ts';
import { airOf, type PlaceAir } from '../../server/session/place.ts';
import { pressureAssumedAt, pressureOf } from '../../server/session/pressure.ts';
import { ProbeRecord } from '../../server/session/probe.ts';
import { type Random, randomStream } from '../../simulator/random.ts';
import { T0 } from '../session/visit.ts';
import { expectNear } from './near.ts';

psychrolib.SetUnitSystem(psychrolib.SI);

const PA = 101_325;
const LIMITS = { temperatureC: 0.5, humidityPct: 2.5 } satisfies Limits;
const FLOW: Airflow = {
  source: 'measured',
  flowM3s: 0.2,
  basis: 'actual',
  plane: 'supply',
  limitPct: 5,
};

interface Air {
  tC: number;
  rhPct: number;
}

/** The air is even, as a person has said. */
const EVEN = new UnitEvenness();
EVEN.enter({ return: 0, supply: 0 });

/** The air at a place as one probe tells it. */
function placeOf(id: string, { tC, rhPct }: Air, found: Doubt[]): PlaceAir {
  const probe = new ProbeRecord(id);
  probe.limits = LIMITS;
  probe.add({ type: 'reading', t: T0, probe: id, temperatureC: tC, humidityPct: rhPct });
  probe.sample(T0);
  return airOf([probe], T0, PA, found);
}

/** What is made of two readings. */
function made(mode: Mode, ret: Air, sup: Air, flow = FLOW) {
  const found: Doubt[] = [];
  const places = { ret: placeOf('r', ret, found), sup: placeOf('s', sup, found) };
  const points = humid(mode, ret.tC, places.ret, sup.tC, places.sup, found);
  if (points === null) throw new Error('no humidity');
  const c = capacity(mode, points.from, points.to, flow, PA);
  const pressure = pressureOf(PA, null, []);
  const { ret: at, sup: to } = places;
  const flows = { flow, follows: null, pressure };
  const { figures } = figuresOf(mode, c, points, at, to, EVEN, flows, new ErrorList(), found);
  return { figures, doubts: found, c, points, places };
}
const codesOf = (doubts: readonly Doubt[]): string[] => doubts.map(({ code }) => code);

/** A reading of this air by a probe with an error inside its limits; no probe reads over 100 %. */
function readingOf({ tC, rhPct }: Air, random: Random, humidityLimit: number): Air {
  return {
    tC: tC + random.between(-LIMITS.temperatureC, LIMITS.temperatureC),
    rhPct: Math.min(100, Math.max(0, rhPct + random.between(-humidityLimit, humidityLimit))),
  };
}

describe('heating: supply and return of honest probes agree in moisture', () => {
  const ret = { tC: 20, rhPct: 40 };
  const W = psychrolib.GetHumRatioFromRelHum(20, 0.4, PA);

  it.each([40, 45, 48, 50, 55])('a supply of %d °C: false alarms in 5 % at most', (tC) => {
    const random = randomStream(3, `heating ${tC}`);
    const sup = { tC, rhPct: 100 * psychrolib.GetRelHumFromHumRatio(tC, W, PA) };
    let alarms = 0;
    const draws = 2000;
    for (let i = 0; i < draws; i++) {
      const read = [ret, sup].map((air) => readingOf(air, random, LIMITS.humidityPct));
      const { doubts } = made('heating', read[0] ?? ret, read[1] ?? sup);
      expect(codesOf(doubts)).not.toContain('humidity-range');
      if (codesOf(doubts).includes('humidity-disagrees')) alarms++;
    }
    expect(alarms / draws).toBeLessThanOrEqual(0.05);
  });

  it.each([40, 48, 55])('and moisture that is far off is told: %d °C', (tC) => {
    // 4 g/kg more than the return holds, and than the ± of both explain (3.2 g/kg at 55 °C).
    const rhPct = 100 * psychrolib.GetRelHumFromHumRatio(tC, W + 0.004, PA);
    expect(codesOf(made('heating', ret, { tC, rhPct }).doubts)).toContain('humidity-disagrees');
  });
});

const holds = (figures: CapacitySnapshot, trueW: number): boolean =>
  Math.abs((figures.totalW ?? NaN) - trueW) <= (figures.totalU95W ?? NaN);

describe('the interval near saturation holds the truth in 93 to 98 %', () => {
  const COILS = [
    { name: 'a wet coil', ret: { tC: 26.7, rhPct: 51 }, supplyC: 12 },
    { name: 'a wet coil at part load', ret: { tC: 24, rhPct: 60 }, supplyC: 14.5 },
  ];
  const ROWS = COILS.flatMap((coil) =>
    [93, 95, 97, 98, 99].flatMap((rhPct) => [
      { ...coil, rhPct, limit: 'its sheet’s ±', widens: false },
      { ...coil, rhPct, limit: 'the wider ±', widens: true },
    ]),
  );
  it.each(ROWS)('$name, $rhPct %, off by $limit', ({ name, ret, supplyC, rhPct, widens }) => {
    const random = randomStream(5, `${name} ${rhPct} ${widens}`);
    const sup = { tC: supplyC, rhPct };
    const pointOf = ({ tC, rhPct: pct }: Air) => ({
      temperatureC: tC,
      humidityRatio: humidityRatio(tC, pct, PA),
    });
    const trueW = capacity('cooling', pointOf(ret), pointOf(sup), FLOW, PA).totalW;
    const limit = LIMITS.humidityPct * (widens ? humidityWidening(rhPct) : 1);
    const draws = 2000;
    let held = 0;
    for (let i = 0; i < draws; i++) {
      const flow = { ...FLOW, flowM3s: FLOW.flowM3s * (1 + random.between(-0.05, 0.05)) };
      const read = readingOf(ret, random, LIMITS.humidityPct);
      const { figures, doubts } = made('cooling', read, readingOf(sup, random, limit), flow);
      if (holds(figures, trueW)) held++;
      // It is a wet coil's normal supply: nothing needs doing.
      expect(codesOf(doubts)).not.toContain('humidity-range');
    }
    expect(held / draws).toBeGreaterThanOrEqual(0.93);
    expect(held / draws).toBeLessThanOrEqual(0.98);
  });
});

describe('the ± of a humidity at the ends of the scale', () => {
  it('grows evenly from the data sheet’s to 1.5 times that, alike at both ends', () => {
    const at = [0, 5, 10, 50, 90, 92, 95, 100].map(humidityWidening);
    [1.5, 1.25, 1, 1, 1, 1.1, 1.25, 1.5].forEach((by, i) => expect(at[i]).toBeCloseTo(by, 12));
    expect(humidityWidening(104)).toBe(1.5);
  });

  /** Half-width of 95 % of the total as a share of it, by draws of humidities of these ±. */
  function drawn(ret: Air, sup: Air, retLimit: number, supLimit: number): number {
    const random = randomStream(7, 'cost');
    const W = ({ tC, rhPct }: Air): number => psychrolib.GetHumRatioFromRelHum(tC, rhPct / 100, PA);
    const h = (t: number, w: number): number => 1006 * t + w * (2.501e6 + 1860 * t);
    const total = (one: Air, two: Air): number => {
      const v = (287.042 * (two.tC + 273.15) * (1 + 1.607858 * W(two))) / PA;
      return (h(one.tC, W(one)) - h(two.tC, W(two))) / v;
    };
    const right = total(ret, sup);
    const offs = Array.from({ length: 20_000 }, () => {
      const flow = 1 + random.between(-0.05, 0.05);
      const [one, two] = [readingOf(ret, random, retLimit), readingOf(sup, random, supLimit)];
      return Math.abs((flow * total(one, two)) / right - 1);
    }).sort((a, b) => a - b);
    return offs[0.95 * offs.length] ?? NaN;
  }
  const shareOf = ({ totalW, totalU95W }: CapacitySnapshot): number =>
    (totalU95W ?? NaN) / (totalW ?? NaN);

  it('costs a wet coil’s total little, as much as Monte Carlo says', () => {
    const [ret, sup] = [
      { tC: 26.7, rhPct: 51 },
      { tC: 12, rhPct: 96 },
    ];
    const { figures } = made('cooling', ret, sup);
    const wider = drawn(ret, sup, 2.5, 1.3 * 2.5);
    expectNear(shareOf(figures), wider, 0.002, 'the interval');
    const cost = wider - drawn(ret, sup, 2.5, 2.5);
    expect(cost).toBeGreaterThan(0);
    expect(cost).toBeLessThan(0.005);
  });

  it('is told where it costs much, with how much of the figure', () => {
    // The dry air of a desert.
    const [ret, sup] = [
      { tC: 32, rhPct: 4 },
      { tC: 20, rhPct: 9 },
    ];
    const { figures, doubts } = made('cooling', ret, sup);
    const wider = drawn(ret, sup, 1.3 * 2.5, 1.05 * 2.5);
    expectNear(shareOf(figures), wider, 0.01, 'the interval');
    const [range, ...more] = doubts.filter(({ code }) => code === 'humidity-range');
    expect(more).toEqual([]);
    expect(range).toMatchObject({ probe: 'r' });
    expect(range?.text).toContain('outside 10 to 90 %');
    const said = Number(/1\.3 times, .* by (\d+) % of the figure/.exec(range?.effect ?? '')?.[1]);
    expectNear(said, 100 * (wider - drawn(ret, sup, 2.5, 1.05 * 2.5)), 0.8, 'what it costs, %');
  });
});

describe('what an assumed pressure costs, a 100 m', () => {
  const W = (tC: number, rhPct: number, pPa: number): number =>
    psychrolib.GetHumRatioFromRelHum(tC, rhPct / 100, pPa);
  /** Total by eqs. 20, 26 and 30, per m³/s. */
  function totalAt(mode: Mode, ret: Air, sup: Air, mass: boolean, pPa: number): number {
    const W1 = W(ret.tC, ret.rhPct, pPa);
    const W2 = mode === 'heating' ? W1 : W(sup.tC, sup.rhPct, pPa);
    const v = (287.042 * (sup.tC + 273.15) * (1 + 1.607858 * W2)) / pPa;
    const h = (t: number, w: number): number => 1006 * t + w * (2.501e6 + 1860 * t);
    return (mass ? 1.204 : 1 / v) * Math.abs(h(ret.tC, W1) - h(sup.tC, W2));
  }
  const WET = [26.7, 51, 12, 94] as const;
  const HUMID = [24, 78, 15, 96] as const;
  const WARM = [20, 40, 45, 10] as const;
  /** Name, mode, air, whether the flow is one of mass, and the figure of an independent computation, %. */
  const ROWS = [
    ['a dry coil', 'cooling', [27, 20, 12, 53], false, 1.2],
    ['a wet coil', 'cooling', WET, false, 0.8],
    ['humid air', 'cooling', HUMID, false, 0.56],
    ['heating', 'heating', WARM, false, 1.2],
    ['a wet coil, a mass flow', 'cooling', WET, true, -0.4],
    ['humid air, a mass flow', 'cooling', HUMID, true, -0.65],
    ['heating, a mass flow', 'heating', WARM, true, 0],
  ] as const;
  it.each(ROWS)('%s', (_, mode, [t1, rh1, t2, rh2], mass, about) => {
    const flow: Airflow = { ...FLOW, basis: mass ? 'standard' : 'actual' };
    const [one, two] = [
      { tC: t1, rhPct: rh1 },
      { tC: t2, rhPct: rh2 },
    ];
    // Eq. 3 at 100 m.
    const pPa = 101_325 * (1 - 2.25577e-5 * 100) ** 5.2559;
    const off = totalAt(mode, one, two, mass, PA) / totalAt(mode, one, two, mass, pPa) - 1;
    const { c, points, places } = made(mode, one, two, flow);
    const cost = pressureAssumedAt(mode, c, points, places.ret, places.sup, flow);
    const [, word, size = NaN] =
      /too (high|low) by about ([\d.]+) % for each 100 m/.exec(cost?.effect ?? '') ?? [];
    // No doubt says that it costs nothing.
    const said = cost === null ? 0 : Number(size) * (word === 'high' ? 1 : -1);
    expectNear(said, 100 * off, 0.06, 'by the formula');
    expectNear(said, about, 0.1, 'about');
  });
});
