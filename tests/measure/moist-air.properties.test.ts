/** What must hold of moist air whatever the values are: round trips, order, no jump at freezing. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type AirModel,
  dewPointC,
  enthalpyJkg,
  humidityRatio,
  humidityRatioFromDewPoint,
  PERFECT_AIR,
  REAL_AIR,
  relativeHumidityPct,
  saturationPressurePa,
  stateFromHumidityRatio,
  stateFromRelativeHumidity,
  vapourPressurePa,
  volumeM3kg,
  wetBulbC,
} from '../../server/measure/moist-air.ts';
import { humidityRatioFromWetBulb } from '../reference/psychrometer.ts';
import { expectNear, expectWithin } from '../reference/near.ts';

const real = (min: number, max: number): fc.Arbitrary<number> =>
  fc.double({ min, max, noNaN: true });
const temperature = real(-20, 60);
const humidity = real(0, 100);
/** Air with vapour enough for a dew point above −60 °C. */
const moist = real(2, 100);
const pressure = real(60_000, 110_000);
const model = fc.constantFrom(REAL_AIR, PERFECT_AIR);
/** Solvers stop at 1e-6 K; the dew point over 45 °C at 5e-6 K. */
const SOLVER_K = 1e-6;
const DEW_SOLVER_K = 5e-6;

describe('round trips', () => {
  it('relative humidity to W and back', () => {
    fc.assert(
      fc.property(temperature, humidity, pressure, model, (tC, rhPct, pPa, air) => {
        const W = humidityRatio(tC, rhPct, pPa, air);
        expectNear(relativeHumidityPct(tC, W, pPa, air), rhPct, 1e-10);
      }),
    );
  });

  it('W to dew point and back', () => {
    fc.assert(
      fc.property(temperature, moist, pressure, model, (tC, rhPct, pPa, air) => {
        const W = humidityRatio(tC, rhPct, pPa, air);
        const dew = dewPointC(vapourPressurePa(W, pPa), pPa, air) ?? Number.NaN;
        // W rises by 4.5 to 11 % a kelvin of dew point.
        const margin = 0.11 * (dew > 45 ? DEW_SOLVER_K : SOLVER_K);
        expectWithin(humidityRatioFromDewPoint(dew, pPa, air), W, margin);
      }),
    );
  });

  it("W to wet bulb and back by the wet bulb's equation", () => {
    fc.assert(
      fc.property(temperature, humidity, pressure, model, (tC, rhPct, pPa, air) => {
        const W = humidityRatio(tC, rhPct, pPa, air);
        const wet = wetBulbC(tC, W, pPa, air);
        // The sign tells the wick but for a hair: air saturated over ice balances an iced one to 1.3 mK.
        fc.pre(wet < -SOLVER_K || wet > 2e-3);
        // 1 g/kg is added: of bone-dry air, 1 µK of wet bulb is more than 1e-6 of W.
        expectWithin(humidityRatioFromWetBulb(tC, wet, pPa, air) + 1e-3, W + 1e-3, 1e-6);
      }),
    );
  });

  it('a state from W is the state from relative humidity', () => {
    fc.assert(
      fc.property(temperature, moist, pressure, model, (tC, rhPct, pPa, air) => {
        const a = stateFromRelativeHumidity(tC, rhPct, pPa, air);
        const b = stateFromHumidityRatio(tC, a.humidityRatio, pPa, air);
        for (const key of Object.keys(a) as (keyof typeof a)[]) {
          expectNear(
            b[key] ?? Number.NaN,
            a[key] ?? Number.NaN,
            1e-9 * (1 + Math.abs(a[key] ?? 0)),
          );
        }
      }),
    );
  });
});

describe('order', () => {
  it('p_ws, W, h and v rise with temperature', () => {
    fc.assert(
      fc.property(
        real(-20, 59.9),
        real(1e-6, 0.1),
        humidity,
        pressure,
        model,
        (tC, dt, rhPct, pPa, air) => {
          const low = stateFromRelativeHumidity(tC, rhPct, pPa, air);
          const high = stateFromRelativeHumidity(tC + dt, rhPct, pPa, air);
          expect(saturationPressurePa(tC + dt)).toBeGreaterThan(saturationPressurePa(tC));
          if (rhPct > 0.01) expect(high.humidityRatio).toBeGreaterThan(low.humidityRatio);
          expect(high.enthalpyJkg).toBeGreaterThan(low.enthalpyJkg);
          expect(high.volumeM3kg).toBeGreaterThan(low.volumeM3kg);
        },
      ),
    );
  });

  it('dew point ≤ wet bulb ≤ dry bulb', () => {
    fc.assert(
      fc.property(temperature, humidity, pressure, model, (tC, rhPct, pPa, air) => {
        const { dewPointC: dew, wetBulbC: wet } = stateFromRelativeHumidity(tC, rhPct, pPa, air);
        expect(wet).toBeLessThanOrEqual(tC + SOLVER_K);
        // From 0 to 0.01 °C the dew point is over ice and the wick is liquid: up to 1.5 mK between.
        const slack = Math.abs(wet) < 0.02 ? 1.5e-3 : DEW_SOLVER_K;
        if (dew !== null) expect(dew).toBeLessThanOrEqual(wet + slack);
      }),
    );
  });

  it('the wet bulb rises with W, over the change of wick too', () => {
    fc.assert(
      fc.property(
        temperature,
        real(0, 99.9),
        real(1e-3, 0.1),
        pressure,
        model,
        (tC, rhPct, more, pPa, air) => {
          const low = wetBulbC(tC, humidityRatio(tC, rhPct, pPa, air), pPa, air);
          const high = wetBulbC(tC, humidityRatio(tC, rhPct + more, pPa, air), pPa, air);
          expect(high).toBeGreaterThan(low - SOLVER_K);
        },
      ),
    );
  });

  it('saturated air has one temperature', () => {
    fc.assert(
      fc.property(temperature, pressure, model, (tC, pPa, air) => {
        const { dewPointC: dew, wetBulbC: wet } = stateFromRelativeHumidity(tC, 100, pPa, air);
        expectNear(dew ?? Number.NaN, tC, DEW_SOLVER_K);
        expectNear(wet, tC, tC >= 0 && tC < 0.01 ? 1.5e-3 : SOLVER_K);
      }),
    );
  });
});

describe('no jump at the triple point', () => {
  const STEP_K = 1e-6;
  const TRIPLE_C = 0.01;

  /** The change over the step across 0.01 °C against the slopes on either side of it. */
  function expectSmooth(f: (tC: number) => number, what: string): void {
    const across = f(TRIPLE_C + STEP_K / 2) - f(TRIPLE_C - STEP_K / 2);
    const below = Math.abs(f(TRIPLE_C - 1e-3) - f(TRIPLE_C - 2e-3)) / 1e-3;
    const above = Math.abs(f(TRIPLE_C + 2e-3) - f(TRIPLE_C + 1e-3)) / 1e-3;
    const explained = Math.max(below, above) * STEP_K;
    // Eqs. 5 and 6 meet to 6e-9 of p_ws, which is 0.08 of what the step explains.
    expect(Math.abs(across), `${what}: ${explained} explained`).toBeLessThan(
      1.2 * explained + 1e-15,
    );
  }

  it.each([REAL_AIR, PERFECT_AIR])('enhanced: $enhanced', (air: AirModel) => {
    for (const pPa of [60_000, 101_325, 110_000]) {
      expectSmooth(saturationPressurePa, 'p_ws');
      for (const rhPct of [5, 50, 100]) {
        const W = (tC: number): number => humidityRatio(tC, rhPct, pPa, air);
        expectSmooth(W, 'W');
        expectSmooth((tC) => enthalpyJkg(tC, W(tC), air), 'h');
        expectSmooth((tC) => volumeM3kg(tC, W(tC), pPa, air), 'v');
      }
      expectSmooth((tC) => relativeHumidityPct(tC, 0.002, pPa, air), 'relative humidity');
    }
  });

  it.each([REAL_AIR, PERFECT_AIR])('dew point (enhanced: $enhanced)', (air: AirModel) => {
    for (const pPa of [60_000, 101_325, 110_000]) {
      // The vapour pressure of saturated air on either side of the triple point.
      const at = (tC: number): number => {
        const W = humidityRatioFromDewPoint(tC, pPa, air);
        return dewPointC(vapourPressurePa(W, pPa), pPa, air) ?? Number.NaN;
      };
      const across = at(TRIPLE_C + STEP_K / 2) - at(TRIPLE_C - STEP_K / 2);
      expectNear(across, STEP_K, 0.5 * STEP_K);
      expectNear(at(TRIPLE_C), TRIPLE_C, SOLVER_K);
    }
  });
});
