/**
 * Moist air: humidity ratio, enthalpy, specific volume, dew point, wet bulb and relative humidity,
 * each from the others, at any barometric pressure.
 *
 * The equations are those of the ASHRAE Handbook—Fundamentals, ch. 1 (numbers of the 2021 edition).
 * Two sets of constants share them:
 * - `REAL_AIR` (the default) agrees with the Handbook's real-gas Table 2 (0…40 °C: W, h and v within
 *   0.03 %): an enhancement factor on p_ws, the vapour enthalpy and the compressibility that
 *   Table 2 implies. Both were fitted here.
 * - `PERFECT_AIR` has the constants of the printed equations 20–33 (up to 0.5 % low in W).
 *
 * SI: °C, % relative humidity, Pa, kg/kg of dry air, J/kg of dry air, m³/kg of dry air. Enthalpy is
 * zero for dry air at 0 °C. Checked for −20…60 °C and 60…110 kPa; wider input is still computed up
 * to the limits of air-limits.ts, and impossible input is a `MoistAirError`.
 * Relative humidity below 0 °C is over ice, as in the Handbook.
 */
import { check, checkPressure, checkTemperature } from './air-limits.ts';
import { type AirModel, enthalpyJkg, MASS_RATIO, REAL_AIR, volumeM3kg } from './air-model.ts';
import { DRY_C, DRY_PA, solveDewPoint } from './dew-point.ts';
import { saturatedVapourPa } from './saturation.ts';
import { solveWetBulb, wetBulbHumidityRatio } from './wet-bulb.ts';

export { MoistAirError } from './air-limits.ts';
export {
  type AirModel,
  enthalpyJkg,
  moistHeat,
  PERFECT_AIR,
  REAL_AIR,
  volumeM3kg,
} from './air-model.ts';
export { saturationPressurePa } from './saturation.ts';
export {
  type HumidityRatioPartials,
  humidityRatioPartials,
  type StatePartials,
  statePartials,
} from './state-partials.ts';

/**
 * Barometric pressure at a height in the standard atmosphere, Pa; eq. 3.
 * @param altitudeM −500…11 000 m
 */
export function pressureAtAltitudePa(altitudeM: number): number {
  check(altitudeM, -500, 11_000, 'altitude', 'm');
  return 101325 * (1 - 2.25577e-5 * altitudeM) ** 5.2559;
}

/** W from the vapour pressure, kg/kg; eq. 20. */
export function humidityRatioFromVapourPressure(vapourPa: number, pPa: number): number {
  checkPressure(pPa);
  check(vapourPa, 0, pPa * 0.9, 'vapour pressure', 'Pa');
  return (MASS_RATIO * vapourPa) / (pPa - vapourPa);
}

/** Vapour pressure from W, Pa; eq. 20 solved. */
export function vapourPressurePa(humidityRatio: number, pPa: number): number {
  checkPressure(pPa);
  check(humidityRatio, 0, 1, 'humidity ratio', 'kg/kg');
  return (pPa * humidityRatio) / (MASS_RATIO + humidityRatio);
}

/** W from temperature and relative humidity (0…100 %), kg/kg. */
export function humidityRatio(tC: number, rhPct: number, pPa: number, model = REAL_AIR): number {
  checkTemperature(tC);
  check(rhPct, 0, 100, 'relative humidity', '%');
  const pw = rhPct * 0.01 * saturatedVapourPa(tC, pPa, model.enhanced);
  return humidityRatioFromVapourPressure(pw, pPa);
}

/** W of saturated air, kg/kg. */
export function saturationHumidityRatio(tC: number, pPa: number, model = REAL_AIR): number {
  return humidityRatio(tC, 100, pPa, model);
}

/** W from the dew point, kg/kg. */
export function humidityRatioFromDewPoint(
  dewPointC: number,
  pPa: number,
  model = REAL_AIR,
): number {
  checkTemperature(dewPointC, 'dew point');
  return humidityRatioFromVapourPressure(saturatedVapourPa(dewPointC, pPa, model.enhanced), pPa);
}

/** W from temperature and wet bulb, kg/kg; below 0 where no air has so low a wet bulb. */
export function humidityRatioFromWetBulb(
  tC: number,
  wetBulb: number,
  pPa: number,
  model = REAL_AIR,
): number {
  checkTemperature(tC);
  checkTemperature(wetBulb, 'wet bulb');
  checkPressure(pPa);
  return wetBulbHumidityRatio(tC, wetBulb, pPa, model);
}

/** Relative humidity from W, %. Over 100 where the air would be supersaturated. */
export function relativeHumidityPct(tC: number, W: number, pPa: number, model = REAL_AIR): number {
  checkTemperature(tC);
  return (100 * vapourPressurePa(W, pPa)) / saturatedVapourPa(tC, pPa, model.enhanced);
}

/**
 * Dew (or frost) point from the vapour pressure, °C, good to 5e-6 K. Air without vapour has none: null.
 */
export function dewPointC(vapourPa: number, pPa: number, model = REAL_AIR): number | null {
  checkPressure(pPa);
  check(vapourPa, 0, pPa * 0.9, 'vapour pressure', 'Pa');
  if (vapourPa < DRY_PA) return null;
  return solveDewPoint(vapourPa, pPa, model.enhanced);
}

/**
 * Thermodynamic wet bulb, °C; eqs. 33 and 35 in the form h + (W_s* − W) h_w* = h_s*.
 *
 * Near 0 °C both a wet and an iced wick can be in balance, up to 1 K apart (and at the switch the
 * wet bulb steps by up to 0.7 K: a property of the definition). The liquid wick is taken as long as
 * its solution is at or above 0 °C. Enthalpy, volume and capacity do not depend on it.
 */
export function wetBulbC(tC: number, W: number, pPa: number, model = REAL_AIR): number {
  checkTemperature(tC);
  const pw = vapourPressurePa(W, pPa);
  const dew = pw < DRY_PA ? DRY_C : solveDewPoint(pw, pPa, model.enhanced);
  return solveWetBulb(tC, W, Math.min(dew, tC), pPa, model);
}

/** A full state of moist air. */
export interface MoistAir {
  temperatureC: number;
  humidityPct: number;
  humidityRatio: number;
  vapourPressurePa: number;
  enthalpyJkg: number;
  volumeM3kg: number;
  /** Null for air without vapour. */
  dewPointC: number | null;
  wetBulbC: number;
}

/**
 * The full state from temperature and humidity ratio.
 * @throws MoistAirError for impossible input; supersaturated air is not refused
 */
export function stateFromHumidityRatio(
  tC: number,
  W: number,
  pPa: number,
  model = REAL_AIR,
): MoistAir {
  checkTemperature(tC);
  const pw = vapourPressurePa(W, pPa);
  return fullState(tC, (100 * pw) / saturatedVapourPa(tC, pPa, model.enhanced), pw, W, pPa, model);
}

/** The full state from temperature and relative humidity (0…100 %). */
export function stateFromRelativeHumidity(
  tC: number,
  rhPct: number,
  pPa: number,
  model = REAL_AIR,
): MoistAir {
  checkTemperature(tC);
  check(rhPct, 0, 100, 'relative humidity', '%');
  checkPressure(pPa);
  const pw = rhPct * 0.01 * saturatedVapourPa(tC, pPa, model.enhanced);
  return fullState(tC, rhPct, pw, humidityRatioFromVapourPressure(pw, pPa), pPa, model);
}

function fullState(
  tC: number,
  rhPct: number,
  pw: number,
  W: number,
  pPa: number,
  model: AirModel,
): MoistAir {
  const dew = pw < DRY_PA ? null : solveDewPoint(pw, pPa, model.enhanced);
  return {
    temperatureC: tC,
    humidityPct: rhPct,
    humidityRatio: W,
    vapourPressurePa: pw,
    enthalpyJkg: enthalpyJkg(tC, W, model),
    volumeM3kg: volumeM3kg(tC, W, pPa, model),
    dewPointC: dew,
    wetBulbC: solveWetBulb(tC, W, dew === null ? DRY_C : Math.min(dew, tC), pPa, model),
  };
}
