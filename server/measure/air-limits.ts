/** What moist air may be asked for: beyond it, the answer is an error and not a number. */

/** Input that no air can have. The message says which quantity, what was given, what is possible. */
export class MoistAirError extends RangeError {
  override readonly name = 'MoistAirError';
}

/** Refuses a value outside its range (also NaN), naming it. */
export function check(value: number, low: number, high: number, what: string, unit: string): void {
  if (!(value >= low && value <= high)) {
    throw new MoistAirError(`${what} ${value} ${unit} is outside ${low} to ${high} ${unit}`);
  }
}
/** −60…95 °C: wider than any probe in a room, narrower than eqs. 5 and 6 go. */
export function checkTemperature(tC: number, what = 'temperature'): void {
  check(tC, -60, 95, what, '°C');
}
/** 50…120 kPa: from 5,500 m up to well below sea level. */
export function checkPressure(pPa: number): void {
  check(pPa, 50_000, 120_000, 'barometric pressure', 'Pa');
}
