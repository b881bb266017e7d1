/**
 * The worked examples of the ASHRAE Handbook—Fundamentals 2021 (SI), ch. 1: states, mixing, steam,
 * a room's supply air, a chart at altitude. (Read in a machine conversion of the printed pages. The
 * coil examples 2 and 3 are in capacity.test.ts.) The printed answers are chart readings and carry
 * their rounding, and `REAL_AIR` must meet them; "computed" figures are the same by the printed
 * equations, unrounded, worked out apart from this project, for `PERFECT_AIR`.
 */
import { describe, it } from 'vitest';
import {
  type AirModel,
  humidityRatioFromDewPoint,
  type MoistAir,
  PERFECT_AIR,
  REAL_AIR,
  stateFromHumidityRatio,
  stateFromRelativeHumidity,
  wetBulbC,
} from '../../server/measure/moist-air.ts';
import { expectNear, expectWithin } from './near.ts';
import { humidityRatioFromWetBulb } from './psychrometer.ts';

const P = 101_325;
/** Five digits of the computed figures. */
const DIGITS = 2e-5;

function stateFromWetBulb(tC: number, wetC: number, pPa: number, model: AirModel): MoistAir {
  const W = humidityRatioFromWetBulb(tC, wetC, pPa, model);
  return stateFromHumidityRatio(tC, W, pPa, model);
}

/** Temperature of air from enthalpy and humidity ratio: eq. 30 solved. */
function temperatureC(hJkg: number, W: number, model: AirModel): number {
  return (hJkg - model.vapourEnthalpy * W) / (1006 + model.vapourHeat * W);
}

describe('example 1: 40 °C with a wet bulb of 20 °C', () => {
  it('as printed', () => {
    const air = stateFromWetBulb(40, 20, P, REAL_AIR);
    expectNear(air.humidityRatio * 1000, 6.5, 0.1, 'W, g/kg');
    expectNear(air.enthalpyJkg / 1000, 56.7, 0.2, 'h');
    expectNear(air.dewPointC ?? Number.NaN, 7, 0.6, 'dew point');
    expectNear(air.humidityPct, 14, 0.5, 'relative humidity');
    expectNear(air.volumeM3kg, 0.896, 0.0005, 'v');
    expectNear(air.wetBulbC, 20, 1e-5, 'wet bulb');
  });

  it('computed', () => {
    const air = stateFromWetBulb(40, 20, P, PERFECT_AIR);
    expectWithin(air.humidityRatio, 0.0064008, DIGITS, 'W');
    expectWithin(air.enthalpyJkg, 56_724.6, DIGITS, 'h');
    expectWithin(air.humidityPct, 13.9795, DIGITS, 'relative humidity');
    expectNear(air.dewPointC ?? Number.NaN, 7.4336, 1e-4, 'dew point');
    expectWithin(air.volumeM3kg, 0.896248, DIGITS, 'v');
  });
});

describe('example 3: the air before and after the coil', () => {
  it('as printed', () => {
    const before = stateFromRelativeHumidity(30, 50, P);
    expectNear(before.enthalpyJkg / 1000, 64.3, 0.06, 'h1');
    expectNear(before.humidityRatio * 1000, 13.3, 0.08, 'W1, g/kg');
    expectNear(before.volumeM3kg, 0.877, 0.0005, 'v1');
    const after = stateFromRelativeHumidity(10, 100, P);
    expectNear(after.enthalpyJkg / 1000, 29.5, 0.2, 'h2 (Table 2: 29.354)');
    expectNear(after.humidityRatio * 1000, 7.66, 0.005, 'W2, g/kg');
  });

  it('by a real-gas package: its published web table for this example', () => {
    const before = stateFromRelativeHumidity(30, 50, P);
    expectNear(before.humidityRatio, 0.0134, 5e-5, 'W1');
    expectNear(before.volumeM3kg, 0.877, 1e-4, 'v1');
    expectNear(before.wetBulbC, 22.0, 0.005, 'wet bulb');
    expectNear(before.enthalpyJkg / 1000, 64.35, 0.015, 'h1');
    expectNear(stateFromRelativeHumidity(10, 100, P).enthalpyJkg / 1000, 29.35, 0.005, 'h2');
  });

  it('computed', () => {
    const before = stateFromRelativeHumidity(30, 50, P, PERFECT_AIR);
    expectWithin(before.humidityRatio, 0.0133102, DIGITS, 'W1');
    expectWithin(before.enthalpyJkg, 64_211.5, DIGITS, 'h1');
    expectWithin(before.volumeM3kg, 0.877168, DIGITS, 'v1');
    expectNear(before.wetBulbC, 22.005, 1e-4, 'wet bulb');
    expectNear(before.dewPointC ?? Number.NaN, 18.447, 5e-4, 'dew point');
    const after = stateFromRelativeHumidity(10, 100, P, PERFECT_AIR);
    expectWithin(after.humidityRatio, 0.00763005, DIGITS, 'W2');
    expectWithin(after.enthalpyJkg, 29_284.7, DIGITS, 'h2');
  });
});

/** Example 4: 2 m³/s at 4 °C, wet bulb 2 °C, mixed with 6.25 m³/s at 25 °C, 50 %. */
function mixed(model: AirModel): { m1: number; m2: number; W: number; h: number } {
  const cold = stateFromWetBulb(4, 2, P, model);
  const warm = stateFromRelativeHumidity(25, 50, P, model);
  const m1 = 2 / cold.volumeM3kg;
  const m2 = 6.25 / warm.volumeM3kg;
  const mix = (a: number, b: number): number => (m1 * a + m2 * b) / (m1 + m2);
  return {
    m1,
    m2,
    W: mix(cold.humidityRatio, warm.humidityRatio),
    h: mix(cold.enthalpyJkg, warm.enthalpyJkg),
  };
}

describe('example 4: mixing', () => {
  it('as printed', () => {
    const { m1, m2, W, h } = mixed(REAL_AIR);
    expectNear(m1, 2.535, 0.003, 'flow of cold air');
    expectNear(m2, 7.284, 0.004, 'flow of warm air');
    expectNear(m2 / (m1 + m2), 0.742, 0.0005, 'ratio');
    const tC = temperatureC(h, W, REAL_AIR);
    expectNear(tC, 19.5, 0.15, 't');
    expectNear(wetBulbC(tC, W, P), 14.6, 0.05, 'wet bulb');
  });

  it('computed', () => {
    const { m1, m2, W, h } = mixed(PERFECT_AIR);
    expectWithin(m1, 2.53287, DIGITS, 'flow of cold air');
    expectWithin(m2, 7.28401, DIGITS, 'flow of warm air');
    expectWithin(W, 0.00824817, DIGITS, 'W');
    expectWithin(h, 40_675.7, DIGITS, 'h');
    const tC = temperatureC(h, W, PERFECT_AIR);
    expectNear(tC, 19.628, 6e-4, 't');
    expectNear(wetBulbC(tC, W, P, PERFECT_AIR), 14.562, 6e-4, 'wet bulb');
  });
});

it('example 5: steam of 110 °C into air of 20 °C, wet bulb 8 °C, up to a dew point of 13 °C', () => {
  const before = stateFromWetBulb(20, 8, P, REAL_AIR);
  const W = humidityRatioFromDewPoint(13, P);
  const perKg = W - before.humidityRatio;
  expectNear(2 * perKg, 0.015, 0.0005, 'steam for 2 kg/s of dry air, kg/s');
  const h = before.enthalpyJkg + perKg * 2_691_070; // Table 3: vapour of 110 °C, 2691.07 kJ/kg
  expectNear(temperatureC(h, W, REAL_AIR), 21, 0.5, 't');
});

it('example 6: supply air of 15 °C for a room of 25 °C, wet bulb 19 °C', () => {
  // 9 kW sensible, 0.0015 kg/s of vapour of 30 °C (Table 3: 2555.58 kJ/kg).
  const room = stateFromWetBulb(25, 19, P, REAL_AIR);
  const vapourW = 0.0015 * 2_555_580;
  const slope = (9000 + vapourW) / 0.0015;
  expectNear(slope / 1000, 8555, 1, 'Δh/ΔW, kJ/kg');
  expectNear(9000 / (9000 + vapourW), 0.701, 0.0006, 'sensible heat ratio');
  // The supply lies on the line of that slope through the room: h(15, W) is linear in W.
  const vapour = REAL_AIR.vapourEnthalpy + REAL_AIR.vapourHeat * 15;
  const W = (room.enthalpyJkg - slope * room.humidityRatio - 1006 * 15) / (vapour - slope);
  const supply = stateFromHumidityRatio(15, W, P);
  expectNear(room.enthalpyJkg / 1000, 53.9, 0.15, 'h2');
  // The chart reading of h1 is 0.25 kJ/kg low, and so the printed flow 0.9 %: 9 kW by
  // c_pa × 10 K alone is 0.880 kg/s.
  expectNear(supply.enthalpyJkg / 1000, 39.2, 0.26, 'h1');
  const flowKgs = (9000 + vapourW) / (room.enthalpyJkg - supply.enthalpyJkg);
  expectNear(flowKgs, 0.873, 0.009, 'flow of dry air, kg/s');
  expectNear(supply.volumeM3kg, 0.829, 0.0006, 'v1');
  expectNear(flowKgs * supply.volumeM3kg, 0.724, 0.008, 'flow, m³/s');
  expectNear(supply.wetBulbC, 14.0, 0.15, 'wet bulb of the supply');
});

describe('charts 1 and 6 (1500 m, 84.54 kPa): 40 °C with a wet bulb of 30 °C', () => {
  it.each([
    { pPa: P, h: 99.5, W: 23.0, rhPct: 49, v: 0.92 },
    { pPa: 84_540, h: 114.1, W: 28.6, rhPct: 50, v: 1.111 },
  ])('as read off the chart at $pPa Pa', ({ pPa, h, W, rhPct, v }) => {
    const air = stateFromWetBulb(40, 30, pPa, REAL_AIR);
    expectNear(air.enthalpyJkg / 1000, h, 0.1, 'h');
    expectNear(air.humidityRatio * 1000, W, 0.1, 'W, g/kg');
    expectNear(air.humidityPct, rhPct, 0.5, 'relative humidity');
    expectNear(air.volumeM3kg, v, 0.0015, 'v');
  });

  it.each([
    { pPa: P, W: 0.0228896, h: 99_190, rhPct: 48.71, v: 0.919767 },
    { pPa: 84_540, W: 0.028533, h: 113_724, rhPct: 50.22, v: 1.112029 },
  ])('computed at $pPa Pa', ({ pPa, W, h, rhPct, v }) => {
    const air = stateFromWetBulb(40, 30, pPa, PERFECT_AIR);
    expectWithin(air.humidityRatio, W, DIGITS, 'W');
    expectWithin(air.enthalpyJkg, h, DIGITS, 'h');
    expectWithin(air.humidityPct, rhPct, 1.1e-4, 'relative humidity');
    expectWithin(air.volumeM3kg, v, DIGITS, 'v');
  });
});
