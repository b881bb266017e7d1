/** Field efficiency: the heat that heads deliver over the power that they take. */

/** A figure with its standard uncertainty, both in one unit. */
export interface Figure {
  value: number;
  u: number;
}

/** Where nobody says how far a power may be off: ±, as a part of it. */
export const UNSAID_POWER = 0.03;

/**
 * Coefficient of performance (W/W); as EER in Btu/h per W it is 3.412 times that.
 * @param heat of all heads on the outdoor unit together, W
 * @param power of the outdoor unit and its heads, W
 * @returns null where there is no power to speak of
 */
export function efficiency(heat: Figure, power: Figure): Figure | null {
  if (!(power.value > 0) || !(heat.value > 0)) return null;
  const value = heat.value / power.value;
  return { value, u: value * Math.hypot(heat.u / heat.value, power.u / power.value) };
}
