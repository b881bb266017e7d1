/** The air as the simulation carries it about, per kg of dry air; a few things that it does. */
import { DRY_AIR_HEAT, enthalpyJkg, moistHeat, REAL_AIR } from '../server/measure/air-model.ts';
import { saturationHumidityRatio } from '../server/measure/moist-air.ts';
import { saturationSlope } from '../server/measure/saturation.ts';

/** A state of moist air at the scenario's pressure. */
export interface Air {
  readonly temperatureC: number;
  readonly humidityRatio: number;
}

/** Enthalpy of liquid water, J/(kg·K) above 0 °C. */
export const WATER_HEAT = 4186;

/** Enthalpy, J/kg of dry air. */
export function enthalpyOf(air: Air): number {
  return enthalpyJkg(air.temperatureC, air.humidityRatio);
}

/** Enthalpy of water vapour, J/kg. */
export function vapourEnthalpyJkg(temperatureC: number): number {
  return REAL_AIR.vapourEnthalpy + REAL_AIR.vapourHeat * temperatureC;
}

/** The air of an enthalpy (J/kg of dry air) and a humidity ratio: `enthalpyJkg` turned round. */
export function airOfEnthalpy(enthalpy: number, humidityRatio: number): Air {
  return {
    temperatureC:
      (enthalpy - humidityRatio * REAL_AIR.vapourEnthalpy) /
      (DRY_AIR_HEAT + humidityRatio * REAL_AIR.vapourHeat),
    humidityRatio,
  };
}

/** Humidity ratio of air of a dry and a (not frozen) wet bulb, °C: eq. 33 of the Handbook, turned round. */
export function ratioOfWetBulb(temperatureC: number, wetBulbC: number, pressurePa: number): number {
  const saturated = saturationHumidityRatio(wetBulbC, pressurePa);
  const water = WATER_HEAT * wetBulbC;
  const missing = enthalpyJkg(wetBulbC, saturated) - enthalpyJkg(temperatureC, 0);
  return (missing - saturated * water) / (vapourEnthalpyJkg(temperatureC) - water);
}

/** Adiabatic mixture of two streams; `share` of the dry air is from `b`. */
export function mix(a: Air, b: Air, share: number): Air {
  if (share === 0) return a;
  return airOfEnthalpy(
    enthalpyOf(a) + share * (enthalpyOf(b) - enthalpyOf(a)),
    a.humidityRatio + share * (b.humidityRatio - a.humidityRatio),
  );
}

/** Adds heat to air at constant humidity, J/kg of dry air. */
export function warm(air: Air, heatJkg: number): Air {
  return airOfEnthalpy(enthalpyOf(air) + heatJkg, air.humidityRatio);
}

/**
 * Lets fog fall: air above saturation becomes saturated air of the same enthalpy (the little heat
 * that the drops carry is left in the air). Other air is returned as it is.
 */
export function withoutFog(air: Air, pressurePa: number): Air {
  if (air.humidityRatio <= saturationHumidityRatio(air.temperatureC, pressurePa)) return air;
  const enthalpy = enthalpyOf(air);
  let t = air.temperatureC;
  let saturated = 0;
  for (let i = 0; i < 20; i++) {
    // Newton on h(t, W_s(t)): it comes from below, where the curve is flatter, and settles quickly.
    saturated = saturationHumidityRatio(t, pressurePa);
    const perK =
      moistHeat(saturated) + vapourEnthalpyJkg(t) * saturated * saturationSlope(t) * 1.02;
    const stepK = (enthalpy - enthalpyJkg(t, saturated)) / perK;
    t += stepK;
    if (Math.abs(stepK) < 1e-9) break;
  }
  return airOfEnthalpy(enthalpy, saturated);
}
