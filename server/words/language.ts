/**
 * The language in which page and report speak. The source is English: a sentence is written as
 * t`${name} is late.`, and its key is that text with numbered holes, "{0} is late.". A catalog gives
 * another language for each key, whose holes may stand in another order. What has no text there stays
 * English. Only here is anything kept: `speak` is called once, before any other module with words loads.
 */
import { type Catalog, filled, Sentences } from './sentences.ts';

export type { Catalog } from './sentences.ts';

export const LANGUAGES = ['en', 'es'] as const;
export type Language = (typeof LANGUAGES)[number];

export interface Speech {
  language: Language;
  /** How numbers, times and days are written, BCP 47: "es-MX". */
  locale: string;
  /** Every text; none for English. */
  catalog?: Catalog;
  /** Of those, the texts that come from the server as English sentences. */
  sent?: Catalog;
}

const ENGLISH: Speech = { language: 'en', locale: 'en-US' };
let speech = ENGLISH;
let sign = '.';
let templates = new WeakMap<TemplateStringsArray, string>();
let sentences: Sentences | null = null;
let known = new Map<string, string>();

/** Chooses the language. Constants of modules that are loaded already keep what they say. */
export function speak(chosen: Speech): void {
  speech = chosen;
  sign = decimalOf(chosen.locale);
  templates = new WeakMap();
  known = new Map();
  const { catalog = {}, sent } = chosen;
  sentences = sent === undefined ? null : new Sentences(Object.keys(sent), catalog, sign);
}

export const language = (): Language => speech.language;
export const locale = (): string => speech.locale;
/** The sign between whole and fraction: "." or ",". */
export const decimalSign = (): string => sign;

function decimalOf(tag: string): string {
  const parts = new Intl.NumberFormat(tag).formatToParts(1.5);
  return parts.find(({ type }) => type === 'decimal')?.value ?? '.';
}

/** The English text of a template with numbered holes. */
const keyOf = (strings: readonly string[]): string =>
  strings.reduce((key, text, i) => `${key}{${i - 1}}${text}`);

/** A text of the language that is spoken. */
export function t(strings: TemplateStringsArray, ...holes: (string | number)[]): string {
  let text = templates.get(strings);
  if (text === undefined) {
    const key = keyOf(strings);
    text = speech.catalog?.[key] || key;
    templates.set(strings, text);
  }
  return holes.length === 0 ? text : filled(text, holes);
}

/** The sentence for one, or for any other number: both are whole. */
export const counted = (n: number, one: string, many: string): string => (n === 1 ? one : many);

/** Texts that were translated are kept: the same ones come every second. */
const MOST_KNOWN = 2000;

/**
 * An English sentence of the server in the language that is spoken. What stands in its holes is
 * translated in turn where it is a text of the server, else kept: names, figures (with their decimal sign).
 * Of several sentences each is translated, also where the server has put them together.
 * @returns the sentence as it is where it is not known
 */
export function translated(sentence: string): string {
  if (sentences === null) return sentence;
  let text = known.get(sentence);
  if (text === undefined) {
    text = sentences.translate(sentence);
    if (known.size >= MOST_KNOWN) known.clear();
    known.set(sentence, text);
  }
  return text;
}
