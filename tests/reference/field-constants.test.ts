/**
 * The constants that the trade multiplies with, as cross-checks of the equations they come from:
 * ASHRAE Handbook—Fundamentals 2021 (SI), ch. 18, eqs. 7 to 10 (read in a machine conversion of the
 * printed pages), and those of IP (from memory).
 */
import { describe, it } from 'vitest';
import {
  type Capacity,
  capacity,
  dryAirFlow,
  type Flow,
  STANDARD_DENSITY,
} from '../../server/measure/capacity.ts';
import { humidityRatio, moistHeat, pressureAtAltitudePa } from '../../server/measure/moist-air.ts';
import { expectNear, expectWithin } from './near.ts';

const P = 101_325;

describe("the trade's field constants, which are these equations at one state", () => {
  const flow: Flow = { flowM3s: 1, basis: 'standard', plane: 'supply' };

  it('1.20, 1.23 and 3010 of the Handbook, ch. 18, eqs. 7 to 10: per m³/s of standard air', () => {
    const cool = (W1: number, W2: number): Capacity =>
      capacity(
        'cooling',
        { temperatureC: 25, humidityRatio: W1 },
        { temperatureC: 15, humidityRatio: W2 },
        flow,
        P,
      );
    const warm = { temperatureC: 25, humidityRatio: 0.01 };
    const cold = { temperatureC: 15, humidityRatio: 0.009 };
    // 1.20 kg/m³ there, 1.204 here.
    expectWithin(dryAirFlow(flow, warm, cold, P).dryAirKgs, 1.2, 0.005);
    const perK = (W: number): number => cool(W, W).sensibleW / 10_000;
    expectWithin(perK(0), 1.21, 0.005, 'W 0');
    expectWithin(perK(0.01), 1.23, 0.005, 'W 0.01');
    expectWithin(perK(0.02), 1.25, 0.005, 'W 0.02');
    // 2500 kJ/kg there is vapour of 24 °C less condensate of 10 °C; 2499.9 here, vapour of 0 °C.
    expectWithin(cool(0.01, 0.009).latentW / 1000, 3010 * 0.001, 0.005, '3010 ΔW, kW');
  });

  it.each([
    { altitudeM: 1194, total: 1.04, sensible: 1.07, latent: 2608 },
    { altitudeM: 1619, total: 0.99, sensible: 1.01, latent: 2475 },
  ])('the same at $altitudeM m, as printed there', ({ altitudeM, total, sensible, latent }) => {
    // Per m³/s of actual flow of 20 °C, which is what "standard" becomes there.
    const pPa = pressureAtAltitudePa(altitudeM);
    const dry = { temperatureC: 20, humidityRatio: 0 };
    const { dryAirKgs } = dryAirFlow({ ...flow, basis: 'actual' }, dry, dry, pPa);
    expectNear(dryAirKgs, total, 0.006);
    expectNear(dryAirKgs * (moistHeat(0.01) / 1000), sensible, 0.006);
    expectWithin(dryAirKgs * 2500, latent, 5e-3);
  });

  it('4.5 and 1.08 of IP: 0.075 lb/ft³ of dry air at 0.24 Btu/(lb·°F)', () => {
    // From memory of the trade's usage; 4.5 = 60 × 0.075, 1.08 = 4.5 × 0.24.
    const cfm = 0.000471947;
    const ret = { temperatureC: 25, humidityRatio: 0 };
    const sup = { temperatureC: 25 - 1 / 1.8, humidityRatio: 0 };
    const got = capacity('cooling', ret, sup, { ...flow, flowM3s: cfm }, P);
    expectWithin(got.dryAirKgs * 3600 * 2.20462, 4.5, 0.005, 'lb/h per cfm');
    expectWithin(got.sensibleW / 0.293071, 1.08, 0.005, 'Btu/h per cfm and °F');
  });

  it('standard flow ÷ actual flow: 1.018 at a 12 °C supply, 0.914 at 45 °C', () => {
    // Computed with 1/1.2 m³/kg and the volumes 0.818 and 0.911 m³/kg given with them.
    const ratio = (tC: number, W: number): number => {
      const point = { temperatureC: tC, humidityRatio: W };
      const got = dryAirFlow({ ...flow, basis: 'actual' }, point, point, P);
      return got.standardM3s * (STANDARD_DENSITY / 1.2);
    };
    expectNear(ratio(12, humidityRatio(12, 94, P)), 1.018, 0.0015);
    expectNear(ratio(45, humidityRatio(20, 46, P)), 0.914, 0.0015);
  });
});
