import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  humidityRatio,
  relativeHumidityPct,
  saturationHumidityRatio,
  volumeM3kg,
} from '../../server/measure/moist-air.ts';
import { type Air, enthalpyOf } from '../../simulator/air.ts';
import { Coil, contactFactorAt, passCoil } from '../../simulator/coil.ts';
import { LARGE_HEAD } from '../../simulator/parts.ts';

const P = 101_325;
const SPREAD_K = 1.5;

const number = (min: number, max: number): fc.Arbitrary<number> =>
  fc.double({ min, max, noNaN: true });
const air = (temperatureC: number, humidityPct: number): Air => ({
  temperatureC,
  humidityRatio: humidityRatio(temperatureC, humidityPct, P),
});
const rhOf = (a: Air): number => relativeHumidityPct(a.temperatureC, a.humidityRatio, P);
const pass = (entering: Air, contact: number, temperatureC: number, wetShare = 0) =>
  passCoil(entering, contact, { temperatureC, spreadK: SPREAD_K }, wetShare, P);

describe('air through a coil', () => {
  it('leaves a wet coil on the line from the entering air to the apparatus dew point', () => {
    // The definition of contact (bypass) factor and apparatus dew point in any textbook of air
    // conditioning: both temperature and humidity ratio have gone the same part of the way.
    fc.assert(
      fc.property(
        number(20, 32),
        number(40, 60),
        number(0.6, 0.95),
        number(4, 7),
        (t, rh, cf, s) => {
          const entering = air(t, rh);
          const { leaving, condensingShare } = pass(entering, cf, s);
          // Where the line crosses the saturation curve there is fog, which is another test's.
          fc.pre(condensingShare === 1 && rhOf(leaving) < 99.99);
          const way = (from: number, now: number, to: number): number => (now - from) / (to - from);
          expect(way(t, leaving.temperatureC, s)).toBeCloseTo(cf, 9);
          const adp = saturationHumidityRatio(s, P);
          const W = way(entering.humidityRatio, leaving.humidityRatio, adp);
          expect(W).toBeCloseTo(cf, 9);
        },
      ),
    );
  });

  it("takes the heat of the Handbook's cooling example when all air is in contact", () => {
    // ASHRAE Handbook—Fundamentals, ch. 1, example 3 (SI): 5 m³/s at 30 °C and 50 % leave saturated
    // at 10 °C; printed W1 13.3, W2 7.66 g/kg; 5.70 kg/s; 197 kW with the condensate's 42.02 kJ/kg.
    const entering = air(30, 50);
    const { leaving, condensed, evaporated } = pass(entering, 1 - 1e-12, 10);
    const kgS = 5 / volumeM3kg(30, entering.humidityRatio, P);
    const kW = (kgS * (enthalpyOf(entering) - enthalpyOf(leaving) - condensed * 42_020)) / 1000;
    expect(kgS).toBeCloseTo(5.7, 2);
    expect(leaving.temperatureC).toBeCloseTo(10, 9);
    expect(leaving.humidityRatio * 1000).toBeCloseTo(7.66, 2);
    expect(Math.abs(kW - 197)).toBeLessThan(2); // the example's readings are to three digits
    expect(evaporated).toBe(0);
  });

  it('stays at its humidity above the dew point', () => {
    const entering = air(26, 40); // dew point 11.5 °C
    const { leaving, condensingShare } = pass(entering, 0.85, 14);
    expect(condensingShare).toBe(0);
    expect(leaving.humidityRatio).toBe(entering.humidityRatio);
    expect(leaving.temperatureC).toBeCloseTo(26 - 0.85 * 12, 9);
  });

  it('is never foggy, and never gives water that it does not hold', () => {
    fc.assert(
      fc.property(
        number(5, 40),
        number(2, 100),
        number(0.3, 0.99),
        number(-5, 60),
        number(0, 1),
        (t, rh, cf, surfaceC, wet) => {
          const entering = air(t, rh);
          const { leaving, condensed, evaporated } = pass(entering, cf, surfaceC, wet);
          // Up to rounding: a wholly saturated entering air is refused by nobody.
          expect(rhOf(leaving)).toBeLessThan(100.001);
          expect(leaving.humidityRatio).toBeCloseTo(
            entering.humidityRatio - condensed + evaporated,
            12,
          );
          expect(condensed).toBeGreaterThanOrEqual(-1e-12);
          expect(evaporated).toBeGreaterThanOrEqual(0);
          if (wet === 0) expect(evaporated).toBe(0);
        },
      ),
    );
  });

  it('takes more water the colder it is', () => {
    fc.assert(
      fc.property(
        number(20, 32),
        number(30, 75),
        number(2, 25),
        number(0.01, 5),
        (t, rh, s, less) => {
          const warmer = pass(air(t, rh), 0.85, s).leaving.humidityRatio;
          const colder = pass(air(t, rh), 0.85, s - less).leaving.humidityRatio;
          expect(colder).toBeLessThanOrEqual(warmer + 1e-12);
        },
      ),
    );
  });

  it('is in closer contact with slower air', () => {
    const { coil } = LARGE_HEAD;
    expect(contactFactorAt(coil, coil.referenceKgS)).toBeCloseTo(coil.contactFactor, 12);
    expect(contactFactorAt(coil, 0.1)).toBeGreaterThan(contactFactorAt(coil, 0.2));
  });

  it('gives its water back when the refrigerant stops, and runs dry', () => {
    const coil = new Coil({ ...LARGE_HEAD.coil, holdUpKg: 0.1 }, 25, P);
    const entering = air(25, 55);
    const kgS = 0.16;
    for (let i = 0; i < 1800; i++) coil.step(1, entering, kgS, 2600);
    expect(coil.holdUpKg).toBeCloseTo(0.1, 3);
    expect(coil.drainedKg).toBeGreaterThan(0.1);
    const drained = coil.drainedKg + coil.panKg;

    let evaporatedKg = 0;
    for (let i = 0; i < 1200; i++) {
      const leaving = coil.step(1, entering, kgS, 0);
      evaporatedKg += kgS * (leaving.humidityRatio - entering.humidityRatio);
    }
    // It goes to the air but for what the last cold seconds still add; nothing more drains.
    expect(evaporatedKg).toBeCloseTo(0.1, 2);
    expect(coil.holdUpKg).toBeLessThan(0.005);
    expect(coil.drainedKg + coil.panKg - drained).toBeLessThan(0.01);
  });
});
