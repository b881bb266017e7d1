import { kelvin } from '../measure/air.ts';
import type { keep } from '../store/visits.ts';
import { fahrenheit } from '../units.ts';

export type Keep = typeof keep;
export const line = (temperatureC: number): string =>
  `${kelvin(temperatureC)} ${fahrenheit(temperatureC)}`;
