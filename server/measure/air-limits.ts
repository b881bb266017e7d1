/** What moist air may be asked for: beyond it, the answer is an error and not a number. */
import { sent } from '../words/sent.ts';

/** Input that no air can have. The message says which quantity, what was given, what is possible. */
export class MoistAirError extends RangeError {
  override readonly name = 'MoistAirError';
}

/** What can be outside of its range, in words with its value. */
const SAID = {
  temperature: (value: string) => sent`temperature ${value}`,
  'dew point': (value: string) => sent`dew point ${value}`,
  'wet bulb': (value: string) => sent`wet bulb ${value}`,
  'relative humidity': (value: string) => sent`relative humidity ${value}`,
  'humidity ratio': (value: string) => sent`humidity ratio ${value}`,
  'vapour pressure': (value: string) => sent`vapour pressure ${value}`,
  'barometric pressure': (value: string) => sent`barometric pressure ${value}`,
  altitude: (value: string) => sent`altitude ${value}`,
};
type Quantity = keyof typeof SAID;

/** Refuses a value outside its range (also NaN), naming it. */
export function check(
  value: number,
  low: number,
  high: number,
  what: Quantity,
  unit: string,
): void {
  if (!(value >= low && value <= high)) {
    const given = SAID[what](`${value} ${unit}`);
    throw new MoistAirError(sent`${given} is outside ${low} to ${`${high} ${unit}`}`);
  }
}
/** −60…95 °C: wider than any probe in a room, narrower than eqs. 5 and 6 go. */
export function checkTemperature(tC: number, what: Quantity = 'temperature'): void {
  check(tC, -60, 95, what, '°C');
}
/** 50…120 kPa: from 5,500 m up to well below sea level. */
export function checkPressure(pPa: number): void {
  check(pPa, 50_000, 120_000, 'barometric pressure', 'Pa');
}
