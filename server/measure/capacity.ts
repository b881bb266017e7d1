/**
 * Delivered capacity by the air-enthalpy method, with the definitions of ANSI/ASHRAE 37-2009, 7.3.3
 * (from memory; equations in the reference collection of the tests).
 *
 * With ṁ the flow of dry air, c_pa = c_a + c_v W the specific heat per kg of dry air and h_v0 the
 * enthalpy of vapour at 0 °C:
 * - cooling: total ṁ (h1 − h2), sensible ṁ (c_pa1 t1 − c_pa2 t2), latent ṁ h_v0 (W1 − W2).
 *   Because h = c_pa t + h_v0 W, sensible and latent add up to the total exactly.
 * - heating: the coil is dry, so W2 = W1 whatever the supply probe says: total = sensible
 *   ṁ c_pa1 (t2 − t1), latent 0. A humidity probe that is off cannot invent heat.
 *
 * The enthalpy that leaves with the condensate is not subtracted, as in Standard 37; the Handbook's
 * coil balance (ch. 1, eq. 43) does so: `condensateEnthalpyW` is the difference (about 0.7 %).
 * Air that dries a wet coil after the compressor stops has a negative latent part: that is real.
 *
 * Positive means what the mode asks for: heat taken out in cooling, put in in heating. SI throughout.
 */

import { type AirModel, enthalpyJkg, moistHeat, REAL_AIR, volumeM3kg } from './moist-air.ts';

/** Standard air: kg of dry air per m³, at 20 °C (the basis of every standard flow here). */
export const STANDARD_DENSITY = 1.204;

/** The `source` of a flow that was read off a fan table. */
export const FAN_TABLE = 'fan-table';
/** A flow by a hood or a traverse in the duct: independent of the outlet and of its anemometer. */
export const REFERENCE = 'reference';

/** Temperature and humidity ratio of the air at one place. */
export interface AirPoint {
  temperatureC: number;
  humidityRatio: number;
}

export type Mode = 'cooling' | 'heating';

/** A volume flow, whether it is actual or standard, and at which plane an actual one holds. */
export interface Flow {
  flowM3s: number;
  basis: 'actual' | 'standard';
  plane: 'supply' | 'return';
}

export interface DryAirFlow {
  /** kg of dry air a second. */
  dryAirKgs: number;
  /** Actual flow at the plane it is stated for. */
  flowM3s: number;
  standardM3s: number;
  /** Volume per kg of dry air at that plane, m³/kg. */
  volumeM3kg: number;
}

export interface Capacity extends DryAirFlow {
  totalW: number;
  sensibleW: number;
  latentW: number;
  /** Sensible ÷ total; null where the total is too near zero (or of the other sign) to say. */
  sensibleHeatRatio: number | null;
  /** Water taken out of the air, kg/h; negative while a wet coil dries. */
  condensateKgh: number;
}

/** The supply air with which capacity is worked out: in heating, its humidity is the return's. */
export function effectiveSupply(mode: Mode, ret: AirPoint, sup: AirPoint): AirPoint {
  return mode === 'cooling'
    ? sup
    : { temperatureC: sup.temperatureC, humidityRatio: ret.humidityRatio };
}

/**
 * The flow that holds at the unit. What a fan table says is a *volume*, at whatever density it is stated:
 * a fan at one speed moves the same one in thin, warm or cold air (fan laws, in which flow goes with
 * speed and size only: ASHRAE Handbook—HVAC Systems and Equipment, "Fans", from memory). So its standard
 * figure carries over as that actual flow at the fan's plane. Any other standard flow is a mass flow:
 * somebody has measured, or worked out, how much air there is.
 */
export function flowAtUnit<F extends Flow & { source: string }>(flow: F): F {
  return flow.source === FAN_TABLE && flow.basis === 'standard'
    ? { ...flow, basis: 'actual' }
    : flow;
}

/**
 * Flow of dry air from a volume flow and the state of the air at the plane where it holds.
 * A standard flow is taken as dry air of `STANDARD_DENSITY`.
 */
export function dryAirFlow(
  flow: Flow,
  ret: AirPoint,
  sup: AirPoint,
  pPa: number,
  model: AirModel = REAL_AIR,
): DryAirFlow {
  const at = flow.plane === 'return' ? ret : sup;
  const v = volumeM3kg(at.temperatureC, at.humidityRatio, pPa, model);
  const dryAirKgs = flow.basis === 'standard' ? flow.flowM3s * STANDARD_DENSITY : flow.flowM3s / v;
  return {
    dryAirKgs,
    flowM3s: dryAirKgs * v,
    standardM3s: dryAirKgs / STANDARD_DENSITY,
    volumeM3kg: v,
  };
}

/** Capacity from the two states, the flow and the barometric pressure. */
export function capacity(
  mode: Mode,
  ret: AirPoint,
  supply: AirPoint,
  flow: Flow,
  pPa: number,
  model: AirModel = REAL_AIR,
): Capacity {
  const sup = effectiveSupply(mode, ret, supply);
  const air = dryAirFlow(flow, ret, sup, pPa, model);
  const m = mode === 'cooling' ? air.dryAirKgs : -air.dryAirKgs;
  const dW = ret.humidityRatio - sup.humidityRatio;
  const totalW =
    m *
    (enthalpyJkg(ret.temperatureC, ret.humidityRatio, model) -
      enthalpyJkg(sup.temperatureC, sup.humidityRatio, model));
  const sensibleW =
    m *
    (moistHeat(ret.humidityRatio, model) * ret.temperatureC -
      moistHeat(sup.humidityRatio, model) * sup.temperatureC);
  const ratio = sensibleW / totalW;
  return {
    // Not spread from `air`: a spread costs more than the rest of the function.
    dryAirKgs: air.dryAirKgs,
    flowM3s: air.flowM3s,
    standardM3s: air.standardM3s,
    volumeM3kg: air.volumeM3kg,
    totalW,
    sensibleW,
    latentW: mode === 'cooling' ? m * model.vapourEnthalpy * dW : 0,
    // Under 20 W the quotient of two differences says nothing.
    sensibleHeatRatio: totalW > 20 ? ratio : null,
    condensateKgh: mode === 'cooling' ? m * dW * 3600 : 0,
  };
}

/**
 * Enthalpy flow of the condensate, W, when it leaves at `tC` (liquid water, 4.186 kJ/(kg·K); eq. 32):
 * subtract it from the total for the Handbook's coil balance.
 */
export function condensateEnthalpyW(condensateKgh: number, tC: number): number {
  return (condensateKgh / 3600) * 4186 * tC;
}
