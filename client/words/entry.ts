/** What a person types into a field of a form, between SI and the shown unit. */
import { written } from './figures.ts';
import type { Scale } from './scales.ts';
import { decimalSign } from '../../server/words/language.ts';
import { t } from '../../server/words/language.ts';

/** A number field of a form. */
export interface Field {
  /** What it is called in a sentence: "The airflow". */
  name: string;
  scale: Scale;
  /** The lowest and highest value that can be right, SI. */
  least: number;
  most: number;
}

/** What a field holds: a value in SI, nothing (null), or what cannot be taken, as a sentence. */
export type Entry = { si: number | null; refusal: null } | { si: null; refusal: string };

/** The text a field starts with: the value rounded as its scale is, empty where there is none. */
export function startText(valueSi: number | null | undefined, scale: Scale): string {
  if (valueSi === null || valueSi === undefined) return '';
  // Through digits and back: 29.08, and neither 29.080000000000002 nor 29.0800.
  const rounded = Math.round(scale.show(valueSi) / scale.finest) * scale.finest;
  return String(Number(rounded.toFixed(6))).replace('.', decimalSign());
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

/** Reads a field. What it cannot be is refused in the field's own unit. */
export function readEntry(text: string, { name, scale, least, most }: Field): Entry {
  const given = text.trim();
  if (given === '') return { si: null, refusal: null };
  const shown = readNumber(text);
  const sign = scale.sign;
  if (shown === null) {
    const refusal = t`${name}: “${given}” is not a number. Enter it in ${sign}.`;
    return { si: null, refusal };
  }
  const si = scale.read(shown);
  if (si >= least && si <= most) return { si, refusal: null };
  const from = written(scale.show(least), scale.finest);
  const to = written(scale.show(most), scale.finest);
  const refusal = t`${name} cannot be ${given}\u202f${sign}. Enter ${from} to ${to}\u202f${sign}, and check the unit.`;
  return { si: null, refusal };
}
