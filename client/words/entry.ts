/** What a person types into a number field, between SI and the shown unit. */
import type { Scale } from './scales.ts';

/** The text a field starts with: the value on its scale, empty where there is none. */
export function startText(valueSi: number | null | undefined, scale: Scale): string {
  if (valueSi === null || valueSi === undefined) return '';
  return String(Number(scale.show(valueSi).toPrecision(6)));
}

/** Reads a number that may be written with a comma; null where it is not one. */
export function readNumber(text: string): number | null {
  const trimmed = text
    .trim()
    .replace(/[\s\u202f]/g, '')
    .replace(',', '.')
    .replace('−', '-');
  if (trimmed === '') return null;
  const value = Number(trimmed);
  return Number.isFinite(value) ? value : null;
}

/** Reads a field in SI; null where it is empty or not a number. */
export function readSi(text: string, scale: Scale): number | null {
  const shown = readNumber(text);
  return shown === null ? null : scale.read(shown);
}
