/**
 * Moist air against published tables and values. `REAL_AIR`, which the product uses, is held against
 * real-gas figures; `PERFECT_AIR` against what the Handbook's printed equations give.
 */
import { describe, expect, it } from 'vitest';
import {
  dewPointC,
  enthalpyJkg,
  humidityRatio,
  humidityRatioFromVapourPressure,
  PERFECT_AIR,
  pressureAtAltitudePa,
  REAL_AIR,
  saturationHumidityRatio,
  saturationPressurePa,
  stateFromRelativeHumidity,
  vapourPressurePa,
  volumeM3kg,
  wetBulbC,
} from '../../server/measure/moist-air.ts';
import { enhancement } from '../../server/measure/saturation.ts';
import { SATURATION, STANDARD_ATMOSPHERE } from './handbook-tables.ts';
import { expectNear, expectWithin } from './near.ts';
import { humidityRatioFromWetBulb } from './psychrometer.ts';

const P = 101_325;

describe("the Handbook's tables", () => {
  it.each(STANDARD_ATMOSPHERE)('standard atmosphere at %d m', (altitudeM, kPa) => {
    expectNear(pressureAtAltitudePa(altitudeM), kPa * 1000, 0.51); // half of the last digit printed
  });

  it.each(SATURATION)('saturation pressure at $tC °C within 300 ppm', ({ tC, psKPa }) => {
    expectWithin(saturationPressurePa(tC), psKPa * 1000, 3e-4);
  });

  it.each(SATURATION.filter(({ tC }) => tC >= 0 && tC <= 40))(
    'real saturated air at $tC °C within 0.05 %',
    (row) => {
      const W = saturationHumidityRatio(row.tC, P);
      expectWithin(W, row.W, 5e-4, 'W');
      expectWithin(volumeM3kg(row.tC, W, P), row.v, 5e-4, 'v');
      expectWithin(volumeM3kg(row.tC, 0, P), row.vDry, 5e-4, 'v of dry air');
      expectWithin(enthalpyJkg(row.tC, W) / 1000, row.h, 5e-4, 'h');
      expectNear(enthalpyJkg(row.tC, 0) / 1000, row.hDry, 0.01, 'h of dry air');
    },
  );

  it.each(SATURATION.filter(({ tC }) => tC < 0 || tC > 40))(
    'real saturated air at $tC °C, beyond that range',
    (row) => {
      const W = saturationHumidityRatio(row.tC, P);
      expectWithin(W, row.W, 5e-4, 'W'); // at −20 °C the table's last digit alone is 1.6e-4
      expectWithin(volumeM3kg(row.tC, W, P), row.v, 1e-3, 'v');
      expectWithin(volumeM3kg(row.tC, 0, P), row.vDry, 5e-4, 'v of dry air');
      // Below 0 °C the parts of h nearly cancel, so the margin is in kJ/kg. Most of it is the constant
      // specific heat of dry air: 1.006 t is 0.019 kJ/kg off the table at 50 °C.
      expectNear(enthalpyJkg(row.tC, W) / 1000, row.h, 0.01, 'h');
      expectNear(enthalpyJkg(row.tC, 0) / 1000, row.hDry, 0.02, 'h of dry air');
    },
  );

  it('tells real from perfect air: the printed equations are low by 0.42 to 0.53 % in W', () => {
    // Computed from Table 2 (above) and eqs. 6 and 20: the reason for the enhancement factor.
    for (const { tC, W } of SATURATION.filter((row) => row.tC >= 5 && row.tC <= 40)) {
      const low = 100 * (1 - saturationHumidityRatio(tC, P, PERFECT_AIR) / W);
      expectNear(low, 0.475, 0.06, `W at ${tC} °C`);
    }
  });
});

describe('values of a real-gas package', () => {
  // CoolProp (MIT), HAPropsSI at 101,325 Pa, as printed in the documentation and tests of its wrappers;
  // it follows ASHRAE RP-1485 (Herrmann et al. 2009).
  it('25 °C and 50 %', () => {
    const air = stateFromRelativeHumidity(25, 50, P);
    expectWithin(air.enthalpyJkg, 50_423.4504, 5e-4, 'h');
    expectWithin(air.humidityRatio, 0.00992573917, 5e-4, 'W');
    expectWithin(air.volumeM3kg, 0.857788243, 5e-4, 'v');
    expectWithin(air.vapourPressurePa, 1591.66339, 5e-4, 'p_w');
    expectNear(air.wetBulbC, 291.033487 - 273.15, 0.005, 'wet bulb');
    expectNear(air.dewPointC ?? Number.NaN, 287.016886 - 273.15, 0.005, 'dew point');
  });

  it('saturated air of the same enthalpy', () => {
    const tC = 290.96209 - 273.15;
    expectWithin(enthalpyJkg(tC, saturationHumidityRatio(tC, P)), 50_423.4504, 5e-4);
  });

  it.each([
    [-60, 1.00708],
    [80, 1.00573],
  ])('enhancement factor far outside the fitted range, at %d °C', (tC, factor) => {
    // Its own tests allow 1e-3; the fit ends at −20 and 50 °C and must only stay sensible beyond.
    expectNear(enhancement(tC, P, saturationPressurePa(tC)), factor, 2.5e-3);
  });
});

describe("the values of psychrolib's own tests", () => {
  // psychrometrics/psychrolib (MIT) 2.5.0, SI tests, with the tolerances given there.
  it.each([
    [-20, 103.24],
    [-5, 401.74],
    [5, 872.6],
    [25, 3169.7],
    [50, 12_351.3],
  ])('saturation pressure at %d °C', (tC, pa) => {
    expectWithin(saturationPressurePa(tC), pa, 3e-4);
  });

  it('saturation pressure at −60 °C', () => {
    expectNear(saturationPressurePa(-60), 1.08, 0.01);
  });

  it.each([
    [-50, 2.43e-5, 0.01],
    [-20, 6.373e-4, 0.01],
    [-5, 0.0024863, 0.005],
    [5, 0.005425, 0.005],
    [25, 0.020173, 0.005],
    [50, 0.086863, 0.01],
    [85, 0.838105, 0.02],
  ])('saturated W at %d °C', (tC, W, fraction) => {
    expectWithin(saturationHumidityRatio(tC, P, PERFECT_AIR), W, fraction);
  });

  it.each([
    [-20, -18_542],
    [5, 18_639],
    [25, 76_504],
    [50, 275_353],
  ])('saturated h at %d °C', (tC, h) => {
    const W = saturationHumidityRatio(tC, P, PERFECT_AIR);
    expectWithin(enthalpyJkg(tC, W, PERFECT_AIR), h, 0.01);
  });

  it('W from vapour pressure, and back', () => {
    const W = humidityRatioFromVapourPressure(3169.7, 95_461);
    expectWithin(W, 0.0213603998047487, 1e-6);
    expectWithin(vapourPressurePa(W, 95_461), 3169.7, 1e-12);
  });

  it.each([
    [30, 25, 0.0192281274241096],
    [-1, -5, 0.00120399819933844],
  ])('W of %d °C with a wet bulb of %d °C, and back', (tC, wetC, W) => {
    const ours = humidityRatioFromWetBulb(tC, wetC, 95_461, PERFECT_AIR);
    expectWithin(ours, W, 3e-4);
    expectNear(wetBulbC(tC, ours, 95_461, PERFECT_AIR), wetC, 5e-6); // there: 1e-3
  });

  it('enthalpy and volume', () => {
    expectWithin(enthalpyJkg(25, 0, PERFECT_AIR), 25_148, 3e-4);
    expectWithin(enthalpyJkg(30, 0.02, PERFECT_AIR), 81_316, 3e-4);
    expectWithin(volumeM3kg(25, 0, P, PERFECT_AIR), 0.8443, 1e-3);
    const v = volumeM3kg(30, 0.02, 95_461, PERFECT_AIR);
    expectWithin(v, 0.940855374352943, 3e-4);
    expectWithin(1.02 / v, 1.08411986348219, 3e-4, 'density, eq. 11');
  });

  it('dew point of 25 °C and 80 % (its documentation)', () => {
    const { dewPointC: dew } = stateFromRelativeHumidity(25, 80, P, PERFECT_AIR);
    expectNear(dew ?? Number.NaN, 21.309397163661785, 2e-6); // its solver stops at 1e-3 K
  });

  it('wet bulb where its solver once failed: 7 °C, 61 %, 100 kPa', () => {
    const W = humidityRatio(7, 61, 100_000, PERFECT_AIR);
    expectWithin(wetBulbC(7, W, 100_000, PERFECT_AIR), 3.92667433781955, 1e-3);
  });
});

describe('the ends of the range', () => {
  // After psychrolib's convergence sweep, over the temperatures that the module takes.
  it.each([REAL_AIR, PERFECT_AIR])('a finite state everywhere (enhanced: $enhanced)', (model) => {
    for (let tC = -60; tC <= 95; tC++) {
      for (let rhPct = 0; rhPct <= 100; rhPct += 10) {
        for (let kPa = 60; kPa <= 110; kPa += 10) {
          if (saturationPressurePa(tC) * 1.01 > 0.9 * kPa * 1000) continue; // steam, refused
          const air = stateFromRelativeHumidity(tC, rhPct, kPa * 1000, model);
          const { dewPointC: dew, ...rest } = air;
          expect(Object.values(rest).every(Number.isFinite), JSON.stringify(air)).toBe(true);
          if (dew !== null) expect(Number.isFinite(dew)).toBe(true);
        }
      }
    }
  });

  it('dry air has no dew point', () => {
    expect(stateFromRelativeHumidity(20, 0, P).dewPointC).toBeNull();
    expect(dewPointC(0, P)).toBeNull();
  });
});
