import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { stateFromRelativeHumidity } from '../server/measure/moist-air.ts';
import * as units from '../server/units.ts';

/** |a - b| relative to b. */
const relative = (a: number, b: number): number => Math.abs(a - b) / Math.abs(b);

describe('conversion factors', () => {
  // Printed in NIST SP 811 (2008), appendix B.8, to seven figures; typed from memory.
  it.each([
    ['1 cfm in m³/s', units.m3sFromCfm(1), 4.719474e-4],
    ['1 Btu(IT)/h in W', units.wattsFromBtuh(1), 2.930711e-1],
    ['1 conventional inHg in Pa', units.paFromInhg(1), 3.386389e3],
    ['1 foot in m', units.metresFromFeet(1), 3.048e-1],
    // The pint there is 4.731765e-4 m³; 998.2 kg/m³ makes it a mass.
    ['1 US pint/h of water in kg/h', units.kghFromPintsh(1), 4.731765e-4 * 998.2],
  ])('%s', (_name, ours, printed) => {
    expect(relative(ours, printed)).toBeLessThan(2e-7);
  });

  // ANSI/ASHRAE usage as collected in the project's references: 12 000 Btu/h = 3.51685 kW,
  // 1 cfm = 0.471947 L/s.
  it('agrees with the ton of refrigeration', () => {
    expect(units.kilowattsFromWatts(units.wattsFromBtuh(12_000))).toBeCloseTo(3.51685, 5);
    expect(units.m3sFromCfm(1) * 1000).toBeCloseTo(0.471947, 6);
  });

  it('knows the fixed points of the temperature scales', () => {
    expect(units.fahrenheitFromCelsius(0)).toBe(32);
    expect(units.fahrenheitFromCelsius(100)).toBe(212);
    expect(units.fahrenheitFromCelsius(-40)).toBe(-40);
    expect(units.fahrenheitDegreesFromKelvin(10)).toBe(18);
  });

  it('turns m³/s into m³/h', () => {
    expect(units.m3hFromM3s(0.15)).toBeCloseTo(540, 9);
  });
});

describe('enthalpy of moist air', () => {
  // ASHRAE Handbook—Fundamentals, chapter 1, Table 2 (I-P): h_s of saturated air at 1 atm, Btu/lb.
  it.each([
    [-4, -0.286],
    [23, 8.186],
    [41, 15.699],
    [77, 40.576],
    [122, 126.066],
  ])('saturated at %i °F: %f Btu/lb', (temperatureF, printed) => {
    const { enthalpyJkg } = stateFromRelativeHumidity(
      units.celsiusFromFahrenheit(temperatureF),
      100,
      101_325,
    );
    expect(Math.abs(units.btulbFromJkg(enthalpyJkg) - printed)).toBeLessThan(0.03);
  });

  it('dry air counts from 0 °F on, not from 0 °C', () => {
    // The same table: 18.498 Btu/lb and, in SI, 25.148 kJ/kg at 77 °F. h = 0.240 t (eq. 30).
    expect(units.btulbFromJkg(25_148)).toBeCloseTo(18.498, 3);
    expect(units.btulbFromJkg(0)).toBeCloseTo(0.24 * 32, 1);
  });
});

describe('every conversion', () => {
  it.each([
    ['°F', units.fahrenheitFromCelsius, units.celsiusFromFahrenheit],
    ['Δ°F', units.fahrenheitDegreesFromKelvin, units.kelvinFromFahrenheitDegrees],
    ['cfm', units.cfmFromM3s, units.m3sFromCfm],
    ['m³/h', units.m3hFromM3s, units.m3sFromM3h],
    ['kW', units.kilowattsFromWatts, units.wattsFromKilowatts],
    ['Btu/h', units.btuhFromWatts, units.wattsFromBtuh],
    ['pints/h', units.pintshFromKgh, units.kghFromPintsh],
    ['inHg', units.inhgFromPa, units.paFromInhg],
    ['Btu/lb', units.btulbFromJkg, units.jkgFromBtulb],
    ['ft', units.feetFromMetres, units.metresFromFeet],
  ])('to %s comes back as it went', (_name, there, back) => {
    fc.assert(
      fc.property(fc.double({ min: -1e5, max: 1e5, noNaN: true }), (value) => {
        expect(Math.abs(back(there(value)) - value)).toBeLessThan(1e-9 + 1e-12 * Math.abs(value));
      }),
    );
  });
});
