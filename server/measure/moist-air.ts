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
 * to the limits of `checkTemperature` and `checkPressure`, and impossible input is a `MoistAirError`.
 * Relative humidity below 0 °C is over ice, as in the Handbook.
 */
import {
  enhancement,
  lnEnhancement,
  lnEnhancementPerK,
  lnEnhancementPerPa,
  lnPressureOverIce,
  lnPressureOverWater,
  saturationPressurePa,
  saturationSlope,
  slopeOverIce,
  slopeOverWater,
  TRIPLE_POINT_C,
  ZERO_CELSIUS_K,
} from './saturation.ts';

export { saturationPressurePa } from './saturation.ts';

/** Ratio of the molar masses of water and dry air; eq. 20. */
export const MASS_RATIO = 0.621945;
/** Gas constant of dry air, J/(kg·K); eq. 1. */
const DRY_AIR_GAS_CONSTANT = 287.042;
/** 1/MASS_RATIO as printed in eq. 26. */
const VOLUME_RATIO = 1.607858;
/** Specific heat of dry air, J/(kg·K); eq. 30. */
export const DRY_AIR_HEAT = 1006;
const STANDARD_PRESSURE_PA = 101325;

/** The constants by which real air and the perfect-gas equations differ. */
export interface AirModel {
  /** Whether p_ws is raised by the enhancement factor. */
  readonly enhanced: boolean;
  /** Enthalpy of water vapour at 0 °C, J/kg. */
  readonly vapourEnthalpy: number;
  /** Specific heat of water vapour, J/(kg·K). */
  readonly vapourHeat: number;
  /** 1 − Z of air at 0 °C and 101.325 kPa, and its fall with temperature, 1/K. */
  readonly compression: number;
  readonly compressionPerK: number;
}

export const REAL_AIR: AirModel = {
  enhanced: true,
  vapourEnthalpy: 2.4999e6,
  vapourHeat: 1820,
  compression: 6.6e-4,
  compressionPerK: 1e-5,
};

export const PERFECT_AIR: AirModel = {
  enhanced: false,
  vapourEnthalpy: 2.501e6,
  vapourHeat: 1860,
  compression: 0,
  compressionPerK: 0,
};

/** Input that no air can have. The message says which quantity, what was given, what is possible. */
export class MoistAirError extends RangeError {
  override readonly name = 'MoistAirError';
}

function check(value: number, low: number, high: number, what: string, unit: string): void {
  if (!(value >= low && value <= high)) {
    throw new MoistAirError(`${what} ${value} ${unit} is outside ${low} to ${high} ${unit}`);
  }
}
function checkTemperature(tC: number, what = 'temperature'): void {
  check(tC, -60, 95, what, '°C');
}
function checkPressure(pPa: number): void {
  check(pPa, 50_000, 120_000, 'barometric pressure', 'Pa');
}

/** Vapour pressure of saturated air, Pa. */
function saturatedVapourPa(tC: number, pPa: number, model: AirModel): number {
  const ps = saturationPressurePa(tC);
  return model.enhanced ? ps * enhancement(tC, pPa, ps) : ps;
}

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
  const pw = rhPct * 0.01 * saturatedVapourPa(tC, pPa, model);
  return humidityRatioFromVapourPressure(pw, pPa);
}

/** W of saturated air, kg/kg. */
export function saturationHumidityRatio(tC: number, pPa: number, model = REAL_AIR): number {
  return humidityRatio(tC, 100, pPa, model);
}

/** W from the dew point, kg/kg. */
export function humidityRatioFromDewPoint(dewPointC: number, pPa: number, model = REAL_AIR): number {
  checkTemperature(dewPointC, 'dew point');
  return humidityRatioFromVapourPressure(saturatedVapourPa(dewPointC, pPa, model), pPa);
}

/** Relative humidity from W, %. Over 100 where the air would be supersaturated. */
export function relativeHumidityPct(tC: number, W: number, pPa: number, model = REAL_AIR): number {
  checkTemperature(tC);
  return (100 * vapourPressurePa(W, pPa)) / saturatedVapourPa(tC, pPa, model);
}

/** Enthalpy, J/kg of dry air; eq. 30. */
export function enthalpyJkg(tC: number, W: number, model = REAL_AIR): number {
  return DRY_AIR_HEAT * tC + W * (model.vapourEnthalpy + model.vapourHeat * tC);
}

/** Specific heat of the mixture, J/K per kg of dry air: c_pa of ANSI/ASHRAE 37. */
export function moistHeat(W: number, model = REAL_AIR): number {
  return DRY_AIR_HEAT + model.vapourHeat * W;
}

/** Volume of the mixture, m³ per kg of *dry* air; eq. 26. */
export function volumeM3kg(tC: number, W: number, pPa: number, model = REAL_AIR): number {
  const z =
    1 - ((model.compression - model.compressionPerK * tC) * pPa) / STANDARD_PRESSURE_PA;
  return (z * DRY_AIR_GAS_CONSTANT * (tC + ZERO_CELSIUS_K) * (1 + VOLUME_RATIO * W)) / pPa;
}

/**
 * Dew (or frost) point from the vapour pressure, °C: Newton on ln p from a Magnus-type start, good
 * to 1e-9 K. Air without any vapour has none: null.
 */
export function dewPointC(vapourPa: number, pPa: number, model = REAL_AIR): number | null {
  checkPressure(pPa);
  check(vapourPa, 0, pPa * 0.9, 'vapour pressure', 'Pa');
  if (vapourPa < 0.5) return null; // −70 °C and drier: below what eq. 5 is used for here
  return dewPointUnchecked(vapourPa, pPa, model.enhanced);
}

function dewPointUnchecked(vapourPa: number, pPa: number, enhanced: boolean): number {
  // f hardly depends on t; p_ws at the dew point is the vapour pressure itself but for f, so no
  // exponential is needed in the iteration.
  const ln = Math.log(vapourPa);
  const x = ln - 6.4150; // ln 610.94 Pa
  const frost = x < 0.0052; // f is at most 1.005 where the branches meet
  let t = frost ? (272.186 * x) / (22.5 - x) : (243.04 * x) / (17.625 - x);
  for (let i = 0; i < 2; i++) {
    const target = enhanced ? ln - lnEnhancement(t, pPa, vapourPa) : ln;
    const over = t >= TRIPLE_POINT_C;
    t -= over
      ? (lnPressureOverWater(t) - target) / slopeOverWater(t)
      : (lnPressureOverIce(t) - target) / slopeOverIce(t);
  }
  return t;
}

/** Enthalpy of the water on a wet bulb's wick, J/kg: liquid (eq. 33) and ice (eq. 35). */
const LIQUID = { at0: 0, perK: 4186 };
const ICE = { at0: -329_000, perK: 2100 };

/** The thermodynamic wet bulb's balance solved for one kind of wick: Halley's method. */
function wetBulbOf(
  wick: { at0: number; perK: number },
  start: number,
  W: number,
  h: number,
  pPa: number,
  model: AirModel,
): number {
  const ice = wick === ICE;
  let t = start;
  for (let i = 0; i < 8; i++) {
    const ps = Math.exp(ice ? lnPressureOverIce(t) : lnPressureOverWater(t));
    const slope = ice ? slopeOverIce(t) : slopeOverWater(t);
    const pw = model.enhanced ? ps * enhancement(t, pPa, ps) : ps;
    const dry = pPa - pw;
    const Ws = (MASS_RATIO * pw) / dry;
    const growth = (slope * pPa) / dry;
    const Ws1 = Ws * growth;
    const wickEnthalpy = wick.at0 + wick.perK * t;
    const heat = model.vapourEnthalpy + model.vapourHeat * t - wickEnthalpy;
    const F = heat * Ws + DRY_AIR_HEAT * t + wickEnthalpy * W - h;
    const F1 =
      (model.vapourHeat - wick.perK) * Ws + heat * Ws1 + DRY_AIR_HEAT + wick.perK * W;
    const F2 = heat * Ws1 * growth; // but for small terms: it only steers the step
    const step = F / (F1 - (0.5 * F * F2) / F1);
    t -= step;
    if (step < 0.03 && step > -0.03) break; // cubic: the error left is below 1e-7 K
  }
  return t;
}

/**
 * Thermodynamic wet bulb, °C; eqs. 33 and 35 in the form h + (W_s* − W) h_w* = h_s*.
 *
 * Near 0 °C both a wet and an iced wick can be in balance, up to 0.7 K apart (and at the switch the
 * wet bulb steps by that much: a property of the definition). The liquid wick is taken as long as
 * its solution is at or above 0 °C. Enthalpy, volume and capacity do not depend on it.
 */
export function wetBulbC(tC: number, W: number, pPa: number, model = REAL_AIR): number {
  checkTemperature(tC);
  const pw = vapourPressurePa(W, pPa);
  const dew = pw < 0.5 ? -70 : dewPointUnchecked(pw, pPa, model.enhanced);
  return wetBulbUnchecked(tC, W, pw, Math.min(dew, tC), pPa, model);
}

function wetBulbUnchecked(
  tC: number,
  W: number,
  pw: number,
  dew: number,
  pPa: number,
  model: AirModel,
): number {
  const h = enthalpyJkg(tC, W, model);
  // Start where the chord of p_ws from the dew point crosses the psychrometer's line.
  const gamma = 6.6e-4 * pPa;
  const guess = (gamma * tC + 1.35 * pw * 0.065 * dew) / (gamma + 1.35 * pw * 0.065);
  const water = wetBulbOf(LIQUID, Math.max(guess, -5), W, h, pPa, model);
  if (water >= 0) return water;
  return wetBulbOf(ICE, Math.min(water, guess), W, h, pPa, model);
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
  const dew = pw < 0.5 ? null : dewPointUnchecked(pw, pPa, model.enhanced);
  return {
    temperatureC: tC,
    humidityPct: (100 * pw) / saturatedVapourPa(tC, pPa, model),
    humidityRatio: W,
    vapourPressurePa: pw,
    enthalpyJkg: enthalpyJkg(tC, W, model),
    volumeM3kg: volumeM3kg(tC, W, pPa, model),
    dewPointC: dew,
    wetBulbC: wetBulbUnchecked(tC, W, pw, dew === null ? -70 : Math.min(dew, tC), pPa, model),
  };
}

/** The full state from temperature and relative humidity (0…100 %). */
export function stateFromRelativeHumidity(
  tC: number,
  rhPct: number,
  pPa: number,
  model = REAL_AIR,
): MoistAir {
  return stateFromHumidityRatio(tC, humidityRatio(tC, rhPct, pPa, model), pPa, model);
}

/** W, h and v with their partial derivatives: what uncertainty is propagated with. */
export interface StatePartials {
  humidityRatio: number;
  enthalpyJkg: number;
  volumeM3kg: number;
  /** ∂/∂t (1/K), ∂/∂RH (1/%), ∂/∂p (1/Pa), each at constant others. */
  wPerK: number;
  wPerPct: number;
  wPerPa: number;
  hPerK: number;
  hPerPct: number;
  hPerPa: number;
  vPerK: number;
  vPerPct: number;
  vPerPa: number;
}

/**
 * W, h and v from temperature and relative humidity, with all nine partial derivatives in closed
 * form (docs: eqs. 20, 26, 30 and `lnEnhancement` differentiated).
 */
export function statePartials(
  tC: number,
  rhPct: number,
  pPa: number,
  model = REAL_AIR,
): StatePartials {
  checkTemperature(tC);
  checkPressure(pPa);
  check(rhPct, 0, 100, 'relative humidity', '%');
  const ps = saturationPressurePa(tC);
  const slope = saturationSlope(tC);
  let sat = ps;
  let lnPerK = slope;
  let lnPerPa = 0;
  if (model.enhanced) {
    sat = ps * enhancement(tC, pPa, ps);
    lnPerK += lnEnhancementPerK(tC, pPa, ps, slope);
    lnPerPa = lnEnhancementPerPa(tC, pPa, ps);
  }
  const pw = rhPct * 0.01 * sat;
  const dry = pPa - pw;
  const W = (MASS_RATIO * pw) / dry;
  // dW = W p/(p − p_w) d ln p_w − W/(p − p_w) dp
  const gain = pPa / dry;
  const wPerK = W * gain * lnPerK;
  const wPerPct = (MASS_RATIO * 0.01 * sat * gain) / dry;
  const wPerPa = W * gain * lnPerPa - W / dry;
  const vapour = model.vapourEnthalpy + model.vapourHeat * tC;
  const perStandard = pPa / STANDARD_PRESSURE_PA;
  const z = 1 - (model.compression - model.compressionPerK * tC) * perStandard;
  const T = tC + ZERO_CELSIUS_K;
  const mix = 1 + VOLUME_RATIO * W;
  const v = (z * DRY_AIR_GAS_CONSTANT * T * mix) / pPa;
  const vPerW = (v * VOLUME_RATIO) / mix;
  return {
    humidityRatio: W,
    enthalpyJkg: DRY_AIR_HEAT * tC + W * vapour,
    volumeM3kg: v,
    wPerK,
    wPerPct,
    wPerPa,
    hPerK: DRY_AIR_HEAT + W * model.vapourHeat + vapour * wPerK,
    hPerPct: vapour * wPerPct,
    hPerPa: vapour * wPerPa,
    vPerK: v / T + (v / z) * model.compressionPerK * perStandard + vPerW * wPerK,
    vPerPct: vPerW * wPerPct,
    vPerPa: -v / (z * pPa) + vPerW * wPerPa,
  };
}
