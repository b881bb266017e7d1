/**
 * The constants of moist air, in two sets, and the two relations that are nothing but constants:
 * enthalpy and volume. Equation numbers: ASHRAE Handbook—Fundamentals 2021, ch. 1.
 */
import { ZERO_CELSIUS_K } from './saturation.ts';

/** Ratio of the molar masses of water and dry air; eq. 20. */
export const MASS_RATIO = 0.621945;
/** Gas constant of dry air, J/(kg·K); eq. 1. */
export const DRY_AIR_GAS_CONSTANT = 287.042;
/** 1/MASS_RATIO as printed in eq. 26. */
export const VOLUME_RATIO = 1.607858;
/** Specific heat of dry air, J/(kg·K); eq. 30. */
export const DRY_AIR_HEAT = 1006;
/** 1/Pa: 101 325 Pa is where the real air's compressibility is stated. */
export const PER_STANDARD = 1 / 101325;

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
  const z = 1 - (model.compression - model.compressionPerK * tC) * pPa * PER_STANDARD;
  return (z * DRY_AIR_GAS_CONSTANT * (tC + ZERO_CELSIUS_K) * (1 + VOLUME_RATIO * W)) / pPa;
}
