/**
 * Air through a cooling coil by contact factor: of the air that passes, a part leaves saturated at the
 * coil's own temperature, the rest as it came (ASHRAE Handbook—Fundamentals, and any textbook of air
 * conditioning). Forward: what a healthy unit of a capacity makes of the air. Backward: the contact factor
 * of what was measured.
 */
import type { Mode } from '../capacity.ts';
import { enthalpyJkg, moistHeat, saturationHumidityRatio } from '../moist-air.ts';

/** Air per kg of dry air. */
export interface AirState {
  temperatureC: number;
  humidityRatio: number;
}

/** What a unit makes of the air. */
export interface CoilAir {
  /** Return less supply in cooling, supply less return in heating, K. */
  differenceK: number;
  /** In cooling; in heating 1. */
  sensibleHeatRatio: number;
}

/** Of a clean coil behind a fan on high (common practice, no source: 0.8 to 0.95). */
export const USUAL_CONTACT = 0.87;

/**
 * What a unit that delivers so much makes of the air.
 * @param totalW delivered
 * @param dryAirKgs flow
 * @param contact contact factor, 0…1
 */
export function coilAir(
  mode: Mode,
  entering: AirState,
  pressurePa: number,
  { totalW, dryAirKgs, contact = USUAL_CONTACT }: CoilWork,
): CoilAir {
  const perKg = totalW / dryAirKgs;
  const { temperatureC, humidityRatio: W } = entering;
  const dryK = perKg / moistHeat(W);
  if (mode === 'heating') return { differenceK: dryK, sensibleHeatRatio: 1 };
  const coilC = saturatedAt(enthalpyJkg(temperatureC, W) - perKg / contact, pressurePa);
  const condensed = contact * (W - saturationHumidityRatio(coilC, pressurePa));
  if (condensed <= 0) return { differenceK: dryK, sensibleHeatRatio: 1 };
  const differenceK = contact * (temperatureC - coilC);
  // As capacity.ts has it: the change of c·t; the rest is latent.
  const leavingC = temperatureC - differenceK;
  const sensible = moistHeat(W) * temperatureC - moistHeat(W - condensed) * leavingC;
  return { differenceK, sensibleHeatRatio: sensible / perKg };
}

export interface CoilWork {
  totalW: number;
  dryAirKgs: number;
  contact?: number;
}

/**
 * The contact factor of a coil, from the air before and behind it.
 * @returns null where the coil is (nearly) dry, or the air is not on a line to saturation
 */
export function contactFactor(
  entering: AirState,
  leaving: AirState,
  pressurePa: number,
): number | null {
  const dropK = entering.temperatureC - leaving.temperatureC;
  const dropW = entering.humidityRatio - leaving.humidityRatio;
  if (dropK < LEAST_DROP_K || dropW < LEAST_DROP_W) return null;
  // Along the line: 1 is the leaving air, beyond it lies the coil's own.
  const above = (x: number): number =>
    saturationHumidityRatio(entering.temperatureC - x * dropK, pressurePa) -
    (entering.humidityRatio - x * dropW);
  let [low, high] = [0.9, MOST_X];
  // The saturation line is curved: the straight line may pass it by.
  if (above(low) <= 0) return 1 / low;
  let x = low;
  while (x < high && above(x) > 0) x += 0.02;
  if (x >= high) return null;
  [low, high] = [x - 0.02, x];
  for (let i = 0; i < 30; i++) {
    const middle = (low + high) / 2;
    if (above(middle) > 0) low = middle;
    else high = middle;
  }
  return 1 / high;
}

/** Less says nothing of the line's direction, K and kg/kg. */
const LEAST_DROP_K = 4;
const LEAST_DROP_W = 0.0005;
/** Half of the air past the coil: no coil is that open. */
const MOST_X = 2;

/** The temperature at which saturated air has this enthalpy, °C. */
function saturatedAt(enthalpy: number, pressurePa: number): number {
  let [low, high] = [-30, 50];
  for (let i = 0; i < 40; i++) {
    const middle = (low + high) / 2;
    const h = enthalpyJkg(middle, saturationHumidityRatio(middle, pressurePa));
    if (h < enthalpy) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
