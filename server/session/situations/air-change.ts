/**
 * What the unit does to moisture and temperature between return and supply, and how sure that is. A coil
 * that heats cannot take water out of the air, and one that cools cannot put any in.
 */
import type { PlaceAir } from '../place.ts';

/** Standard uncertainties that stand in where no limit is known: ±0.5 K and ±3 %, rectangular. */
const UNKNOWN_K = 0.29;
const UNKNOWN_HUMIDITY = 1.7;
/**
 * Water is taken out when the difference is more than three standard uncertainties and this, kg/kg: what
 * a humidity sensor that follows late makes of a start (common practice, no source).
 */
const SURE = 3;
const LATE_W = 0.0005;
/** Air that is hotter than this comes from a coil that heats, K above the return (no source). */
const HOT_K = 15;

/** Variance of a place's temperature by its probes' limits, K². */
export function temperatureVariance({ probes, limitsKnown }: PlaceAir): number {
  let sum = 0;
  for (const { temperature } of probes) sum += (limitsKnown ? temperature.u : UNKNOWN_K) ** 2;
  return probes.length === 0 ? 0 : sum / probes.length ** 2;
}

/** Variance of a place's humidity ratio by its probes' limits, (kg/kg)². */
export function moistureVariance({ probes, limitsKnown }: PlaceAir): number {
  let sum = 0;
  let n = 0;
  for (const { humidityRatio, wPerK, wPerHumidity, temperature, humidity } of probes) {
    if (humidityRatio === null) continue;
    n++;
    sum += (wPerK * (limitsKnown ? temperature.u : UNKNOWN_K)) ** 2;
    sum += (wPerHumidity * (limitsKnown ? humidity.u : UNKNOWN_HUMIDITY)) ** 2;
  }
  return n === 0 ? 0 : sum / n ** 2;
}

/** Standard uncertainty of the moisture difference, kg/kg. */
export const moistureU = (ret: PlaceAir, sup: PlaceAir): number =>
  Math.sqrt(moistureVariance(ret) + moistureVariance(sup));

/** Moisture that leaves the air, return less supply, kg/kg; NaN where one of them is not known. */
export const waterOut = (ret: PlaceAir, sup: PlaceAir): number =>
  (ret.humidityRatio ?? NaN) - (sup.humidityRatio ?? NaN);

/** Supply less return, K; NaN where one of them is not known. */
export const riseOf = (ret: PlaceAir, sup: PlaceAir): number =>
  (sup.temperatureC ?? NaN) - (ret.temperatureC ?? NaN);

/** Whether the unit takes so much water out of the air that it cannot be heating. */
export function takesWater(ret: PlaceAir, sup: PlaceAir): boolean {
  const out = waterOut(ret, sup);
  return out > LATE_W && riseOf(ret, sup) < HOT_K && out > LATE_W + SURE * moistureU(ret, sup);
}
