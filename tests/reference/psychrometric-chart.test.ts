/**
 * The lines of the psychrometric chart against the ASHRAE Handbook—Fundamentals 2021 (SI), ch. 1, and
 * against the package `psychrolib` (MIT), which has the same printed equations.
 */
import psychrolib from 'psychrolib';
import { beforeAll, describe, expect, it } from 'vitest';
import { airRegion, regionOutline } from '../../server/measure/air-region.ts';
import type { BudgetInputs } from '../../server/measure/budget-inputs.ts';
import { NORMAL } from '../../server/measure/gum.ts';
import {
  humidityRatio,
  humidityRatioFromWetBulb,
  PERFECT_AIR,
  wetBulbC,
} from '../../server/measure/moist-air.ts';
import {
  type ChartLine,
  type ChartPoint,
  frameAround,
  IP_GRID as IP,
  type PsychrometricChart,
  psychrometricChart,
  SI_GRID as SI,
} from '../../server/measure/psychrometric-chart.ts';
import { randomStream } from '../../simulator/random.ts';
import { placeProbe } from '../measure/place-probe.ts';
import { SATURATION } from './handbook-tables.ts';
import { expectNear, expectWithin } from './near.ts';

const P = 101_325;
const wide = psychrometricChart({ pPa: P, lowC: 0, highC: 40, topW: 0.03 }, SI);

function line(chart: PsychrometricChart, kind: ChartLine['kind'], value: number): ChartPoint[] {
  const found = chart.lines.find(
    (each) => each.kind === kind && Math.abs(each.value - value) < 1e-9,
  );
  if (found === undefined) throw new Error(`there is no ${kind} line of ${value}`);
  return found.points;
}

/** W of a line at a temperature, straight between its points: as a person reads it off. */
function readOff(points: readonly ChartPoint[], tC: number): number {
  const after = points.findIndex(({ temperatureC }) => temperatureC >= tC);
  const [a, b] = [points[after - 1] ?? points[after], points[after]];
  if (a === undefined || b === undefined) throw new Error(`the line does not reach ${tC} °C`);
  const part = b === a ? 0 : (tC - a.temperatureC) / (b.temperatureC - a.temperatureC);
  return a.humidityRatio + part * (b.humidityRatio - a.humidityRatio);
}

beforeAll(() => psychrolib.SetUnitSystem(psychrolib.SI));

describe('lines of the chart', () => {
  it.each(SATURATION.filter(({ tC, W }) => tC >= 0 && W < 0.03))(
    'saturation at $tC °C is that of table 2',
    ({ tC, W }) => expectWithin(readOff(line(wide, 'saturation', 100), tC), W, 1e-3),
  );

  it('at 24 °C and half of saturation: by the printed table and eqs. 20 and 22', () => {
    // Table 3: p_ws(24 °C) 2.9856 kPa; f = x_ws p/p_ws by tables 2 and 3. φ = 0.5 of that, eq. 20.
    const saturated = (0.018965 * P) / (0.621945 + 0.018965);
    const half = (0.621945 * 0.5 * saturated) / (P - 0.5 * saturated);
    const [a, b] = [line(wide, 'humidity', 40), line(wide, 'humidity', 60)];
    expectWithin((readOff(a, 24) + readOff(b, 24)) / 2, half, 2e-3);
    expectWithin(humidityRatio(24, 50, P), half, 5e-4);
  });

  it.each([20, 40, 60, 80])('of %d %% relative humidity are those of psychrolib', (rhPct) => {
    for (const { temperatureC, humidityRatio } of line(wide, 'humidity', rhPct)) {
      // Real air holds up to 0.6 % more than perfect gases do.
      const perfect = psychrolib.GetHumRatioFromRelHum(temperatureC, rhPct / 100, P);
      expect(humidityRatio / perfect).toBeGreaterThan(1.002);
      expect(humidityRatio / perfect).toBeLessThan(1.006);
    }
  });

  it('of a wet bulb have that wet bulb everywhere', () => {
    for (const value of [5, 10, 15, 20, 25]) {
      const points = line(wide, 'wet-bulb', value);
      for (const { temperatureC, humidityRatio } of points) {
        expectNear(wetBulbC(temperatureC, humidityRatio, P), value, 1e-4);
      }
      // Straight between its points: as good as a pen.
      const [first, last] = [points[0], points.at(-1)];
      if (first === undefined || last === undefined) throw new Error('it has no points');
      const middle = (first.temperatureC + last.temperatureC) / 2;
      expectNear(wetBulbC(middle, readOff(points, middle), P), value, 0.01);
    }
  });

  it('of 20 °C wet bulb passes 40 °C where example 1 of ch. 1 reads 6.5 g/kg off the chart', () => {
    expectNear(readOff(line(wide, 'wet-bulb', 20), 40), 0.0065, 0.0001);
  });

  it('at 1500 m pass where chart 6 has 40 °C, 30 °C wet bulb: 28.6 g/kg', () => {
    const high = psychrometricChart({ pPa: 84_540, lowC: 0, highC: 45, topW: 0.035 }, SI);
    expectNear(readOff(line(high, 'wet-bulb', 30), 40), 0.0286, 0.0001);
  });

  it('W from a wet bulb agrees with psychrolib, over ice too', () => {
    const random = randomStream(3, 'wet bulbs');
    for (let i = 0; i < 2000; i++) {
      const wetBulb = -10 + 40 * random.uniform();
      const tC = wetBulb + 10 * random.uniform();
      if (Math.abs(wetBulb) < 0.02) continue; // where its liquid wick has the pressure of ice
      const theirs = psychrolib.GetHumRatioFromTWetBulb(tC, wetBulb, 95_461);
      if (theirs < 1e-6) continue; // raised to 1e-7
      expectNear(humidityRatioFromWetBulb(tC, wetBulb, 95_461, PERFECT_AIR), theirs, 2e-5);
    }
    // PsychroLib's own test suite: 30 °C, 25 °C wet bulb at 95 461 Pa.
    expectWithin(humidityRatioFromWetBulb(30, 25, 95_461, PERFECT_AIR), 0.0192281274241096, 3e-4);
  });

  it('stay within the frame', () => {
    const frame = { pPa: 84_540, lowC: -5, highC: 32, topW: 0.012 };
    for (const grid of [SI, IP]) {
      for (const { points } of psychrometricChart(frame, grid).lines) {
        for (const { temperatureC, humidityRatio } of points) {
          expect(temperatureC).toBeGreaterThanOrEqual(frame.lowC - 1e-9);
          expect(temperatureC).toBeLessThanOrEqual(frame.highC + 1e-9);
          expect(humidityRatio).toBeGreaterThanOrEqual(0);
          expect(humidityRatio).toBeLessThanOrEqual(frame.topW * (1 + 1e-6));
        }
      }
    }
  });

  it('saturation ends at the top, where the frame is lower than it', () => {
    const low = psychrometricChart({ pPa: P, lowC: 0, highC: 40, topW: 0.014761 }, SI);
    // Table 2: saturated air of 20 °C has 14.761 g/kg.
    expectNear(line(low, 'saturation', 100).at(-1)?.temperatureC ?? NaN, 20, 0.02);
  });
});

describe('the frame', () => {
  const air = [
    { temperatureC: 26.6, humidityRatio: 0.0108 },
    { temperatureC: 14.5, humidityRatio: 0.0094 },
  ];
  it.each([
    ['SI', SI],
    ['IP', IP],
  ])('lies on round numbers, and about all air, in %s', (_, grid) => {
    const frame = frameAround(air, P, grid);
    for (const edge of [frame.lowC, frame.highC]) {
      const steps = (edge - grid.fromC) / grid.stepC;
      expectNear(steps, Math.round(steps), 1e-9);
    }
    expect(frame.lowC).toBeLessThan(14.5);
    expect(frame.highC).toBeGreaterThan(26.6);
    expect(frame.topW).toBeGreaterThan(0.0108);
    const { dryBulbsC, humidityRatios } = psychrometricChart(frame, grid);
    expect(dryBulbsC[0]).toBeCloseTo(frame.lowC, 9);
    expect(dryBulbsC.at(-1)).toBeCloseTo(frame.highC, 9);
    expect(humidityRatios.at(-1)).toBeCloseTo(frame.topW, 9);
  });
});

describe('the region of 95 %', () => {
  const probe = { tC: 14, rhPct: 88, pPa: P, uT: 0.25, uRh: 1.3, shape: NORMAL };
  const inputs: BudgetInputs = {
    mode: 'cooling',
    ret: { temperatureC: 26, humidityRatio: 0.01 },
    supply: { temperatureC: 14, humidityRatio: 0.009 },
    flow: { flowM3s: 0.15, basis: 'actual', plane: 'supply' },
    pPa: P,
    retProbes: [],
    supplyProbes: [placeProbe(probe)],
    flowRelative: { u: 0.03, shape: NORMAL },
    pressurePa: { u: 100, shape: NORMAL },
    shared: [],
  };

  it('holds 95 % of the air that readings with these errors stand for (Monte Carlo, JCGM 101)', () => {
    const region = airRegion('supply', inputs);
    if (region === null) throw new Error('there is no region');
    // A probe that reads too warm puts W too high as well.
    expect(region.correlation).toBeGreaterThan(0.3);
    const outline = regionOutline(region, 360);
    const random = randomStream(7, 'region');
    let inside = 0;
    const draws = 40_000;
    for (let i = 0; i < draws; i++) {
      const tC = probe.tC + probe.uT * random.normal();
      const rhPct = Math.min(100, probe.rhPct + probe.uRh * random.normal());
      const pPa = P + 100 * random.normal();
      if (holds(outline, tC, humidityRatio(tC, rhPct, pPa))) inside++;
    }
    // 40 000 draws: one standard deviation is 0.0011. W is not quite straight over the region.
    expectNear(inside / draws, 0.95, 0.005);
  });

  it('is smaller in both directions where two probes share the place', () => {
    const one = airRegion('supply', inputs);
    const two = airRegion('supply', {
      ...inputs,
      supplyProbes: [placeProbe({ ...probe, id: 'a' }), placeProbe({ ...probe, id: 'b' })],
    });
    expectWithin((two?.uTemperatureK ?? 0) * Math.SQRT2, one?.uTemperatureK ?? NaN, 0.02);
  });

  it('is as large as the error that probes of one check share', () => {
    const checked = { ...probe, uT: 0, uRh: 0, shared: 0 };
    const region = airRegion('supply', {
      ...inputs,
      pressurePa: { u: 0, shape: NORMAL },
      supplyProbes: [placeProbe({ ...checked, id: 'a' }), placeProbe({ ...checked, id: 'b' })],
      shared: [
        { of: 'c', temperature: { u: 0.3, shape: NORMAL }, humidity: { u: 0, shape: NORMAL } },
      ],
    });
    expectWithin(region?.uTemperatureK ?? NaN, 0.3, 1e-9);
    expectNear(region?.correlation ?? NaN, 1, 1e-9);
  });

  it('is none where no probe tells humidity', () => {
    expect(airRegion('return', inputs)).toBeNull();
  });
});

/** Whether a polygon holds a point: how often a ray to the right meets it. */
function holds(polygon: readonly ChartPoint[], tC: number, W: number): boolean {
  let inside = false;
  polygon.forEach((a, i) => {
    const b = polygon[(i + 1) % polygon.length] ?? a;
    if (a.humidityRatio > W === b.humidityRatio > W) return;
    const part = (W - a.humidityRatio) / (b.humidityRatio - a.humidityRatio);
    if (tC < a.temperatureC + part * (b.temperatureC - a.temperatureC)) inside = !inside;
  });
  return inside;
}
