/** The derivatives of W, h and v in closed form against differences of W, h and v. */
import fc from 'fast-check';
import { describe, it } from 'vitest';
import {
  PERFECT_AIR,
  REAL_AIR,
  stateFromRelativeHumidity,
  type StatePartials,
  statePartials,
} from '../../server/measure/moist-air.ts';
import { expectNear, expectWithin } from '../reference/near.ts';

const real = (min: number, max: number): fc.Arbitrary<number> =>
  fc.double({ min, max, noNaN: true });
const temperature = real(-20, 60);
const pressure = real(60_000, 110_000);
const model = fc.constantFrom(REAL_AIR, PERFECT_AIR);

describe('statePartials', () => {
  type Values = 'humidityRatio' | 'enthalpyJkg' | 'volumeM3kg';
  const DERIVATIVES: readonly [Values, keyof StatePartials, 't' | 'rh' | 'p'][] = [
    ['humidityRatio', 'wPerK', 't'],
    ['humidityRatio', 'wPerPct', 'rh'],
    ['humidityRatio', 'wPerPa', 'p'],
    ['enthalpyJkg', 'hPerK', 't'],
    ['enthalpyJkg', 'hPerPct', 'rh'],
    ['enthalpyJkg', 'hPerPa', 'p'],
    ['volumeM3kg', 'vPerK', 't'],
    ['volumeM3kg', 'vPerPct', 'rh'],
    ['volumeM3kg', 'vPerPa', 'p'],
  ];
  /** Central differences with these have errors of 1e-8 and less of the derivative. */
  const STEP = { t: 2e-3, rh: 0.05, p: 10 };

  it('are those of central differences', () => {
    fc.assert(
      fc.property(temperature, real(0.1, 99.9), pressure, model, (tC, rhPct, pPa, air) => {
        fc.pre(Math.abs(tC - 0.01) > STEP.t); // the slope of p_ws has a step there
        const partials = statePartials(tC, rhPct, pPa, air);
        const at = (by: 't' | 'rh' | 'p', sign: number): StatePartials => {
          const d = sign * STEP[by];
          return statePartials(
            by === 't' ? tC + d : tC,
            by === 'rh' ? rhPct + d : rhPct,
            by === 'p' ? pPa + d : pPa,
            air,
          );
        };
        for (const [value, derivative, by] of DERIVATIVES) {
          const slope = (at(by, 1)[value] - at(by, -1)[value]) / (2 * STEP[by]);
          expectWithin(partials[derivative], slope, 2e-6, derivative);
        }
      }),
    );
  });

  it('have the values of the plain functions', () => {
    fc.assert(
      fc.property(temperature, real(0, 100), pressure, model, (tC, rhPct, pPa, air) => {
        const partials = statePartials(tC, rhPct, pPa, air);
        const state = stateFromRelativeHumidity(tC, rhPct, pPa, air);
        expectNear(partials.humidityRatio, state.humidityRatio, 1e-15);
        expectNear(partials.enthalpyJkg, state.enthalpyJkg, 1e-8);
        expectNear(partials.volumeM3kg, state.volumeM3kg, 1e-14);
      }),
    );
  });
});
