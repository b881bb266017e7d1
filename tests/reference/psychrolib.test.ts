/**
 * `PERFECT_AIR` against the package `psychrolib` (MIT), which has the same printed equations, on random
 * states over the whole range of use.
 *
 * Three things of that package show here:
 * - it raises every W below 1e-7 to 1e-7, so such states are left out (RH under 0.02 % at −20 °C);
 * - its wet bulb is a bisection that ends at ±0.5e-3 K;
 * - around 0 °C the wick may be wet or iced. W as a function of the wet bulb jumps *down* there (an
 *   iced wick gives off more heat), so that air in a band of W has two wet bulbs, up to 1 K apart. A
 *   bisection ends at the one its midpoints happen to lead to; ours takes the liquid wick whenever its
 *   solution is at or above 0 °C. And up to 0.01 °C its liquid wick has the vapour pressure of ice.
 */
import psychrolib from 'psychrolib';
import { beforeAll, describe, expect, it } from 'vitest';
import {
  humidityRatio,
  PERFECT_AIR,
  pressureAtAltitudePa,
  relativeHumidityPct,
  saturationHumidityRatio,
  saturationPressurePa,
  stateFromHumidityRatio,
  stateFromRelativeHumidity,
} from '../../server/measure/moist-air.ts';
import { randomStream } from '../../simulator/random.ts';

const COUNT = 30_000;
const FLOOR = 1e-7;

interface Input {
  tC: number;
  rhPct: number;
  pPa: number;
}

/** The largest of the errors, and the state where it is. */
class Worst {
  error = 0;
  at = '';
  see(error: number, at: Input): void {
    if (error <= this.error) return; // NaN comes through
    this.error = error;
    this.at = JSON.stringify(at);
  }
  expectBelow(limit: number): void {
    expect(this.error, `worst at ${this.at}`).toBeLessThan(limit);
  }
}

function states(): Input[] {
  const random = randomStream(20260, 'states');
  const inputs: Input[] = [];
  while (inputs.length < COUNT) {
    const input = {
      tC: random.between(-20, 60),
      // A tenth of them dry: that is where the solvers have it hardest.
      rhPct: random.uniform() < 0.1 ? random.between(0, 2) : random.between(0, 100),
      pPa: random.between(60_000, 110_000),
    };
    if (humidityRatio(input.tC, input.rhPct, input.pPa, PERFECT_AIR) > FLOOR) inputs.push(input);
  }
  return inputs;
}

const inputs = states();
beforeAll(() => {
  psychrolib.SetUnitSystem(psychrolib.SI);
});

/** Walks over all states and fails where `error` (NaN included) reaches `limit`. */
function sweep(limit: number, error: (input: Input) => number | null): number {
  const worst = new Worst();
  let counted = 0;
  for (const input of inputs) {
    const off = error(input);
    if (off === null) continue;
    counted++;
    worst.see(off, input);
  }
  worst.expectBelow(limit);
  return counted;
}

const relative = (actual: number, expected: number): number =>
  Math.abs(actual - expected) / Math.abs(expected);

describe(`against psychrolib on ${COUNT} random states`, () => {
  it('saturation pressure, and W of saturated air', () => {
    sweep(1e-6, ({ tC }) => relative(saturationPressurePa(tC), psychrolib.GetSatVapPres(tC)));
    sweep(1e-6, ({ tC, pPa }) =>
      relative(saturationHumidityRatio(tC, pPa, PERFECT_AIR), psychrolib.GetSatHumRatio(tC, pPa)),
    );
  });

  it('humidity ratio', () => {
    sweep(1e-6, ({ tC, rhPct, pPa }) =>
      relative(
        humidityRatio(tC, rhPct, pPa, PERFECT_AIR),
        psychrolib.GetHumRatioFromRelHum(tC, rhPct / 100, pPa),
      ),
    );
  });

  it('enthalpy', () => {
    sweep(1e-6, ({ tC, rhPct, pPa }) => {
      const theirs = psychrolib.GetMoistAirEnthalpy(
        tC,
        psychrolib.GetHumRatioFromRelHum(tC, rhPct / 100, pPa),
      );
      const { enthalpyJkg } = stateFromRelativeHumidity(tC, rhPct, pPa, PERFECT_AIR);
      // Where h passes through 0 a relative error means nothing: 1 kJ/kg is the least it is related to.
      return Math.abs(enthalpyJkg - theirs) / Math.max(Math.abs(theirs), 1000);
    });
  });

  it('specific volume', () => {
    sweep(1e-6, ({ tC, rhPct, pPa }) => {
      const W = psychrolib.GetHumRatioFromRelHum(tC, rhPct / 100, pPa);
      const { volumeM3kg } = stateFromRelativeHumidity(tC, rhPct, pPa, PERFECT_AIR);
      return relative(volumeM3kg, psychrolib.GetMoistAirVolume(tC, W, pPa));
    });
  });

  it('dew point within 1e-4 K', () => {
    sweep(1e-4, ({ tC, rhPct, pPa }) => {
      const { dewPointC } = stateFromRelativeHumidity(tC, rhPct, pPa, PERFECT_AIR);
      if (dewPointC === null) return null; // below 0.3 Pa
      return Math.abs(dewPointC - psychrolib.GetTDewPointFromRelHum(tC, rhPct / 100));
    });
  });

  it('relative humidity, there and back by either', () => {
    sweep(1e-9, ({ tC, rhPct, pPa }) => {
      const W = psychrolib.GetHumRatioFromRelHum(tC, rhPct / 100, pPa);
      const theirs = 100 * psychrolib.GetRelHumFromHumRatio(tC, W, pPa);
      const ours = relativeHumidityPct(tC, W, pPa, PERFECT_AIR);
      return Math.max(relative(ours, theirs), relative(ours, rhPct));
    });
  });

  it('wet bulb within its bisection, where there is one', () => {
    const counted = sweep(0.6e-3, ({ tC, rhPct, pPa }) => {
      const air = stateFromRelativeHumidity(tC, rhPct, pPa, PERFECT_AIR);
      if (hasTwoWetBulbs(tC, air.humidityRatio, pPa, 2e-5)) return null;
      const theirs = psychrolib.GetTWetBulbFromHumRatio(tC, air.humidityRatio, pPa);
      return Math.abs(air.wetBulbC - theirs);
    });
    expect(counted).toBeGreaterThan(0.95 * COUNT);
  });

  it('our wet bulb, put into its equations 33 and 35, gives W back within 1e-6', () => {
    sweep(1e-6, ({ tC, rhPct, pPa }) => {
      const { wetBulbC, humidityRatio: W } = stateFromRelativeHumidity(tC, rhPct, pPa, PERFECT_AIR);
      if (wetBulbC >= 0 && wetBulbC <= 0.01) return null; // ice's vapour pressure on a liquid wick
      const back = psychrolib.GetHumRatioFromTWetBulb(tC, Math.min(wetBulbC, tC), pPa);
      // Under 1e-3 kg/kg (bone-dry air) W is so small that 1 µK of wet bulb is more than 1e-6 of it.
      return Math.abs(back - W) / Math.max(W, 1e-3);
    });
  });

  it('one of the two wet bulbs near 0 °C is the one it finds', () => {
    let found = 0;
    for (const { tC, rhPct, pPa } of inputs) {
      const air = stateFromRelativeHumidity(tC, rhPct, pPa, PERFECT_AIR);
      if (!hasTwoWetBulbs(tC, air.humidityRatio, pPa, 0)) continue;
      found++;
      expect(air.wetBulbC).toBeGreaterThanOrEqual(0); // ours: the liquid wick
      const theirs = psychrolib.GetTWetBulbFromHumRatio(tC, air.humidityRatio, pPa);
      const apart = Math.abs(theirs - air.wetBulbC);
      if (apart > 1e-3) expect(theirs).toBeLessThan(0.01); // the iced wick
      expect(apart).toBeLessThan(1);
    }
    expect(found).toBeGreaterThan(50);
  });
});

/** Whether W lies between what a liquid and what an iced wick at 0 °C stand for, give or take. */
function hasTwoWetBulbs(tC: number, W: number, pPa: number, margin: number): boolean {
  if (tC < 0.02) return false;
  const liquid = psychrolib.GetHumRatioFromTWetBulb(tC, 0.01 + 1e-9, pPa);
  const ice = psychrolib.GetHumRatioFromTWetBulb(tC, -1e-9, pPa);
  return W > liquid - margin && W < ice + margin;
}

describe('against psychrolib besides', () => {
  it('the full state from W is that from relative humidity', () => {
    for (const { tC, rhPct, pPa } of inputs.slice(0, 1000)) {
      const air = stateFromRelativeHumidity(tC, rhPct, pPa, PERFECT_AIR);
      const again = stateFromHumidityRatio(tC, air.humidityRatio, pPa, PERFECT_AIR);
      expect(relative(again.humidityPct, rhPct)).toBeLessThan(1e-9);
      expect(again.wetBulbC).toBeCloseTo(air.wetBulbC, 9);
      expect(again.enthalpyJkg).toBe(air.enthalpyJkg);
    }
  });

  it('standard atmosphere', () => {
    for (let altitudeM = -500; altitudeM <= 11_000; altitudeM += 250) {
      const theirs = psychrolib.GetStandardAtmPressure(altitudeM);
      expect(relative(pressureAtAltitudePa(altitudeM), theirs)).toBeLessThan(1e-12);
    }
  });
});
