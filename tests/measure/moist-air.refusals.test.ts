/** Input that no air can have: an error that names the quantity, the value and the range. */
import { describe, expect, it } from 'vitest';
import {
  dewPointC,
  humidityRatio,
  humidityRatioFromDewPoint,
  MoistAirError,
  pressureAtAltitudePa,
  relativeHumidityPct,
  stateFromHumidityRatio,
  stateFromRelativeHumidity,
  statePartials,
  wetBulbC,
} from '../../server/measure/moist-air.ts';

describe('what no air can have is refused, naming the quantity', () => {
  const P = 101_325;
  it.each<[string, RegExp, () => unknown]>([
    ['a temperature that is no number', /temperature NaN °C/, () => humidityRatio(NaN, 50, P)],
    ['−300 °C', /temperature -300 °C is outside -60 to 95 °C/, () => humidityRatio(-300, 50, P)],
    ['1000 °C', /temperature/, () => statePartials(1000, 50, P)],
    ['humidity −1 %', /relative humidity -1 %/, () => stateFromRelativeHumidity(20, -1, P)],
    ['humidity 101 %', /relative humidity 101 %/, () => stateFromRelativeHumidity(20, 101, P)],
    ['humidity of a partial', /relative humidity/, () => statePartials(20, 101, P)],
    ['humidity that is no number', /relative humidity NaN/, () => humidityRatio(20, NaN, P)],
    ['pressure 0', /barometric pressure 0 Pa/, () => stateFromRelativeHumidity(20, 50, 0)],
    ['pressure in hPa', /barometric pressure 1013 Pa/, () => humidityRatio(20, 50, 1013)],
    ['pressure of a partial', /barometric pressure/, () => statePartials(20, 50, Infinity)],
    ['pressure that is no number', /barometric pressure/, () => wetBulbC(20, 0.01, NaN)],
    ['negative W', /humidity ratio -0.001 kg\/kg/, () => stateFromHumidityRatio(20, -0.001, P)],
    ['W in g/kg', /humidity ratio 8 kg\/kg/, () => relativeHumidityPct(20, 8, P)],
    ['vapour pressure above the total', /vapour pressure/, () => dewPointC(102_000, P)],
    ['steam', /vapour pressure/, () => humidityRatio(95, 100, 60_000)],
    ['negative vapour pressure', /vapour pressure -1 Pa/, () => dewPointC(-1, P)],
    ['a dew point of 200 °C', /dew point 200 °C/, () => humidityRatioFromDewPoint(200, P)],
    ['an altitude in feet', /altitude 29029 m/, () => pressureAtAltitudePa(29_029)],
  ])('%s', (_, sentence, ask) => {
    expect(ask).toThrow(MoistAirError);
    expect(ask).toThrow(sentence);
  });
});
