/** The states of the air at the conditions at which such units are rated. */
import { describe, it } from 'vitest';
import { PERFECT_AIR, stateFromHumidityRatio } from '../../server/measure/moist-air.ts';
import { expectNear } from './near.ts';
import { humidityRatioFromWetBulb } from './psychrometer.ts';

const P = 101_325;

describe('states of the rating conditions', () => {
  const F = (f: number): number => (f - 32) / 1.8;
  // Conditions: AHRI 210/240 (°F) and ISO 5151 (°C), from memory of the standards; the states are
  // computed by eqs. 6–33 at 101.325 kPa.
  it.each([
    {
      at: '80/67 °F',
      t: F(80),
      wet: F(67),
      W: 0.011166,
      h: 55.306,
      v: 0.86459,
      rh: 51.09,
      dew: 15.73,
    },
    { at: '27/19 °C', t: 27, wet: 19, W: 0.01045, h: 53.823, v: 0.86458, rh: 46.94, dew: 14.72 },
    {
      at: '70/60 °F',
      t: F(70),
      wet: F(60),
      W: 0.008737,
      h: 43.433,
      v: 0.84532,
      rh: 56.04,
      dew: 12.01,
    },
    { at: '20/15 °C', t: 20, wet: 15, W: 0.008575, h: 41.886, v: 0.84191, rh: 58.92, dew: 11.73 },
    { at: '35/24 °C', t: 35, wet: 24, W: 0.014235, h: 71.737, v: 0.89293, rh: 40.28, dew: 19.5 },
    {
      at: '47/43 °F',
      t: F(47),
      wet: F(43),
      W: 0.004932,
      h: 20.795,
      v: 0.80373,
      rh: 72.64,
      dew: 3.71,
    },
    { at: '7/6 °C', t: 7, wet: 6, W: 0.005386, h: 20.582, v: 0.8005, rh: 86.82, dew: 4.96 },
  ])('$at', ({ t, wet, W, h, v, rh, dew }) => {
    const ours = humidityRatioFromWetBulb(t, wet, P, PERFECT_AIR);
    const state = stateFromHumidityRatio(t, ours, P, PERFECT_AIR);
    expectNear(ours, W, 6e-7, 'W');
    expectNear(state.enthalpyJkg / 1000, h, 6e-4, 'h');
    expectNear(state.volumeM3kg, v, 6e-6, 'v');
    expectNear(state.humidityPct, rh, 6e-3, 'relative humidity');
    expectNear(state.dewPointC ?? Number.NaN, dew, 6e-3, 'dew point');
    expectNear(state.wetBulbC, wet, 1e-6, 'wet bulb');
  });
});
