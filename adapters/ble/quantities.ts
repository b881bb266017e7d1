/** What a probe can tell, and between which figures it can be believed. */
import type { Reading } from '../contract.ts';

/** The quantities of a reading, without whose and when. What is not known is left out. */
export type Values = Pick<
  Reading,
  | 'temperatureC'
  | 'humidityPct'
  | 'dewPointC'
  | 'velocityMs'
  | 'pressurePa'
  | 'powerW'
  | 'batteryPct'
>;
export type Quantity = keyof Values;

/**
 * The lowest and the highest figure that a probe in or around a house can possibly mean; the server
 * takes no others either. What is beyond is a fault or a code, and no reading.
 */
export const RANGES = {
  temperatureC: [-60, 95],
  humidityPct: [0, 120],
  dewPointC: [-60, 95],
  velocityMs: [-60, 60],
  pressurePa: [50_000, 120_000],
  powerW: [-100_000, 100_000],
  batteryPct: [0, 100],
} as const satisfies Record<Quantity, readonly [number, number]>;

/**
 * Puts one figure into `values`, unless it is none that can be.
 * @param value in the quantity's own unit; NaN and infinities are never taken
 * @returns whether it was put there
 */
export function put(values: Values, quantity: Quantity, value: number): boolean {
  const [low, high] = RANGES[quantity];
  if (!(value >= low && value <= high)) return false;
  values[quantity] = value;
  return true;
}

/** Whether nothing is in it. */
export function isEmpty(values: Values): boolean {
  return Object.keys(values).length === 0;
}
