import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  enthalpyJkg,
  relativeHumidityPct,
  saturationHumidityRatio,
  wetBulbC,
} from '../../server/measure/moist-air.ts';
import { airOfEnthalpy, enthalpyOf, mix, withoutFog } from '../../simulator/air.ts';

const P = 101_325;

/** The humidity ratio at which the wet bulb is as given. */
function humidityRatioAtWetBulb(tC: number, wetC: number): number {
  let low = 0;
  let high = saturationHumidityRatio(tC, P);
  for (let i = 0; i < 50; i++) {
    const middle = (low + high) / 2;
    if (wetBulbC(tC, middle, P) < wetC) low = middle;
    else high = middle;
  }
  return low;
}

describe('the simulated air', () => {
  it('turns enthalpy round', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -15, max: 50, noNaN: true }),
        fc.double({ min: 0, max: 0.03, noNaN: true }),
        (temperatureC, humidityRatio) => {
          const back = airOfEnthalpy(enthalpyJkg(temperatureC, humidityRatio), humidityRatio);
          expect(back.temperatureC).toBeCloseTo(temperatureC, 9);
        },
      ),
    );
  });

  it("mixes as in the Handbook's example", () => {
    // ASHRAE Handbook—Fundamentals, ch. 1, example 4 (SI): 2 m³/s at 4 °C with a wet bulb of 2 °C and
    // 6.25 m³/s at 25 °C and 50 %; printed (chart readings) t 19.5 °C, t* 14.6 °C, 2.535 and
    // 7.284 kg/s of dry air.
    const cold = { temperatureC: 4, humidityRatio: humidityRatioAtWetBulb(4, 2) };
    const warm = { temperatureC: 25, humidityRatio: 0.5 * saturationHumidityRatio(25, P) };
    // 50 % of the vapour pressure, not of the humidity ratio: a hundredth more of the latter.
    expect(relativeHumidityPct(25, warm.humidityRatio, P)).toBeCloseTo(50, -1);
    const mixed = mix(cold, warm, 7.284 / (2.535 + 7.284));
    expect(Math.abs(mixed.temperatureC - 19.5)).toBeLessThan(0.2);
    const wet = wetBulbC(mixed.temperatureC, mixed.humidityRatio, P);
    expect(Math.abs(wet - 14.6)).toBeLessThan(0.15);
  });

  it('lets fog fall at constant enthalpy, down to saturation and no further', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -10, max: 40, noNaN: true }),
        fc.double({ min: 0.5, max: 1.6, noNaN: true }),
        (temperatureC, ratio) => {
          const humidityRatio = ratio * saturationHumidityRatio(temperatureC, P);
          const air = { temperatureC, humidityRatio };
          const clear = withoutFog(air, P);
          const saturated = saturationHumidityRatio(clear.temperatureC, P);
          expect(enthalpyOf(clear)).toBeCloseTo(enthalpyOf(air), 6);
          if (ratio <= 1) expect(clear).toEqual(air);
          else expect(Math.abs(clear.humidityRatio - saturated)).toBeLessThan(2e-7);
        },
      ),
    );
  });
});
