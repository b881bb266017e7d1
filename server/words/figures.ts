/**
 * How numbers are written: rounded to their interval, with one decimal sign, one minus sign and one
 * way to say that there is none. The rules are those of the GUM (JCGM 100:2008, 7.2.6): an interval
 * to two significant digits at most, the value to the same decimal place.
 */
import type { Scale } from './scales.ts';
import { decimalSign } from './language.ts';

/** What stands where a figure cannot be given. */
export const NO_FIGURE = '—';

/** A value and its interval, ready to print; a missing one is null. */
export interface Figure {
  value: string | null;
  interval: string | null;
}

/**
 * The decimal place (1000, 10, 0.01, …) that the last shown digit of an interval has.
 * @param interval half-width, shown units, more than 0
 * @param finest the finest place ever shown
 */
export function lastPlace(interval: number, finest: number): number {
  const twoDigits = 10 ** (Math.floor(Math.log10(interval)) - 1);
  // 0.0996 rounds to 0.10 and 99.6 to 100: then two digits end one place higher.
  const carried = Math.round(interval / twoDigits) >= 100 ? twoDigits * 10 : twoDigits;
  return Math.max(carried, finest);
}

/** Writes a number to a decimal place, with a true minus sign and thin spaces in long numbers. */
export function written(value: number, place: number): string {
  const decimals = Math.max(0, -Math.floor(Math.log10(place) + 1e-9));
  const rounded = Math.round(value / place) * place;
  const digits = Math.abs(rounded).toFixed(decimals);
  const [whole = '0', fraction] = digits.split('.');
  const grouped = whole.length > 4 ? whole.replace(/\B(?=(\d{3})+$)/g, '\u202f') : whole;
  const sign = rounded < 0 && Number(digits) !== 0 ? '−' : '';
  return sign + grouped + (fraction === undefined ? '' : `${decimalSign()}${fraction}`);
}

/**
 * A value with its interval on a scale.
 * @param valueSi the value in SI, null where there is none
 * @param intervalSi half-width of its 95 % interval in SI, null where it is not known
 */
export function figure(valueSi: number | null, intervalSi: number | null, scale: Scale): Figure {
  if (valueSi === null || !Number.isFinite(valueSi)) return { value: null, interval: null };
  const value = scale.show(valueSi);
  if (intervalSi === null || !Number.isFinite(intervalSi)) {
    return { value: written(value, scale.finest), interval: null };
  }
  // A half-width is a difference: the scale's offset, if it has one, must not enter.
  const shown = Math.abs(scale.show(intervalSi) - scale.show(0));
  // An interval is never shown as nought: it is rounded up to the finest place.
  const interval = Math.max(shown, scale.finest);
  const place = lastPlace(interval, scale.finest);
  return { value: written(value, place), interval: written(interval, place) };
}

/** A value without an interval, with its unit; a dash where there is none. */
export function withSign(valueSi: number | null | undefined, scale: Scale): string {
  if (valueSi === null || valueSi === undefined || !Number.isFinite(valueSi)) return NO_FIGURE;
  return `${written(scale.show(valueSi), scale.finest)}\u202f${scale.sign}`;
}

/** "2.64 ± 0.11 kW", "2.64 kW" where the interval is not known, or a dash. */
export function withInterval(
  valueSi: number | null,
  intervalSi: number | null,
  scale: Scale,
): string {
  const { value, interval } = figure(valueSi, intervalSi, scale);
  if (value === null) return NO_FIGURE;
  return `${value}${interval === null ? '' : `\u00a0±\u00a0${interval}`}\u202f${scale.sign}`;
}

/** A share or a humidity in per cent, whole numbers; a dash where there is none. */
export function percent(value: number | null): string {
  return value === null || !Number.isFinite(value) ? NO_FIGURE : `${written(value, 1)}\u202f%`;
}

const RATIO: Scale = { sign: '', show: (r) => r, read: (r) => r, finest: 0.01 };

/** A ratio to two decimals at most, "0.75 ± 0.03"; a dash where there is none. */
export function ratio(value: number | null, interval: number | null = null): string {
  const shown = figure(value, interval, RATIO);
  if (shown.value === null) return NO_FIGURE;
  return shown.interval === null ? shown.value : `${shown.value}\u00a0±\u00a0${shown.interval}`;
}

/** A difference with its direction, "+0.12 ± 0.04 K"; one that is written as nought has none. A dash where there is none. */
export function signed(valueSi: number | null, intervalSi: number | null, scale: Scale): string {
  const text = withInterval(valueSi, intervalSi, scale);
  const { value } = figure(valueSi, intervalSi, scale);
  const isMore = valueSi !== null && valueSi > 0 && value !== null && /[1-9]/.test(value);
  return isMore ? `+${text}` : text;
}
