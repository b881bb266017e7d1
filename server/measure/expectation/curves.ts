/**
 * Open curves of how the capacity of a usual ductless unit goes with conditions: what stands in where a
 * maker publishes a rated figure alone. Estimates, each within stated limits.
 */
import type { Mode } from '../capacity.ts';

/** Capacity against that at rating; null outside where the curve of the mode holds. */
export const factorOf = (mode: Mode, outdoorC: number, indoorC: number): number | null =>
  mode === 'cooling' ? coolingFactor(outdoorC, indoorC) : heatingFactor(outdoorC, indoorC);

/**
 * Total cooling capacity of ductless units against that at 19.44 °C wet bulb and 35 °C outdoors (curve of
 * NREL/TP-5500-56354 as collected in the references of the tests).
 * @returns null outside its limits: wet bulb 13.88 to 23.88 °C, outdoors 18.33 to 51.66 °C
 */
export function coolingFactor(outdoorC: number, wetBulbC: number): number | null {
  if (wetBulbC < 13.88 || wetBulbC > 23.88 || outdoorC < 18.33 || outdoorC > 51.66) return null;
  return (
    1.008993521905866 +
    0.006512749025457 * wetBulbC +
    0.003917565735935 * outdoorC -
    0.000222646705889 * outdoorC ** 2
  );
}

/** What is left at −15 °C of the capacity at 8.33 °C outdoors: a usual ductless unit. */
const LEFT = 0.62;
const LEFT_AT_C = -15;

/**
 * Heating capacity against that at 8.33 °C outdoors and 21.11 °C indoors; without a term for frost.
 * @returns null outside −25 to 20 °C outdoors and 15 to 27 °C indoors
 */
export function heatingFactor(outdoorC: number, indoorC: number): number | null {
  if (outdoorC < -25 || outdoorC > 20 || indoorC < 15 || indoorC > 27) return null;
  return (
    1 - ((8.33 - outdoorC) * (1 - LEFT)) / (8.33 - LEFT_AT_C) + 0.219274275 - 0.010386676 * indoorC
  );
}

/**
 * Capacity with another mass flow of indoor air, against that with the rated one (single-speed curves of
 * NREL/TP-5500-56354). A fan moves the same volume of thinner air: so this is what altitude takes off on
 * the indoor side, too.
 * @param part mass flow over rated mass flow
 */
export function flowFactor(mode: Mode, part: number): number {
  return mode === 'cooling'
    ? 0.718664047 + 0.41797409 * part - 0.136638137 * part ** 2
    : 0.694045465 + 0.474207981 * part - 0.168253446 * part ** 2;
}
