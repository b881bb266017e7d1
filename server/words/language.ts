/**
 * The language in which page and report speak. The source is English: a sentence is written as
 * t`${name} is late.`, and its key is that text with numbered holes, "{0} is late.". A catalog gives
 * another language for each key, whose holes may stand in another order. What has no text there stays
 * English. Only here is anything kept: `speak` is called once, before any other module with words loads.
 */

export const LANGUAGES = ['en', 'es'] as const;
export type Language = (typeof LANGUAGES)[number];

/** English keys, and what they are in another language; an empty one is not translated yet. */
export type Catalog = Readonly<Record<string, string>>;

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
  sentences = sent === undefined ? null : new Sentences(Object.keys(sent), catalog);
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

const HOLE = /\{(\d+)\}/g;

/** In one pass: what stands in a hole is no pattern, whatever it holds. */
const filled = (text: string, holes: readonly (string | number)[]): string =>
  text.replace(HOLE, (hole, n: string) => String(holes[Number(n)] ?? hole));

/** The sentence for one, or for any other number: both are whole. */
export const counted = (n: number, one: string, many: string): string => (n === 1 ? one : many);

/** Texts that were translated are kept: the same ones come every second. */
const MOST_KNOWN = 2000;

/**
 * An English sentence of the server in the language that is spoken. What stands in its holes is
 * translated in turn where it is a text of the server, else kept: names, figures (with their decimal sign).
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

interface Pattern {
  key: string;
  parts: string[];
  /** Letters that do not stand in holes: the more, the surer. */
  weight: number;
  holes: number[];
}

/** A hole in a hole in a hole: deeper than any sentence is built. */
const DEEPEST = 4;
const FIGURE = /^[+−-]?[\d\u202f]+\.\d+$/;
const FIGURES = /(?<![\w.])\d+\.\d+(?![\w.])/g;

/** The sentences of the server, found again by what stands between their holes. */
class Sentences {
  readonly #catalog: Catalog;
  readonly #sent: ReadonlySet<string>;
  /** Those that begin with a word, by it; and those that begin with a hole. */
  readonly #byFirst = new Map<string, Pattern[]>();
  readonly #open: Pattern[] = [];

  constructor(keys: readonly string[], catalog: Catalog) {
    this.#catalog = catalog;
    this.#sent = new Set(keys);
    for (const key of keys) {
      const pattern = patternOf(key);
      if (pattern === null) continue;
      const first = firstWord(pattern.parts[0] ?? '');
      if (first === null) this.#open.push(pattern);
      else this.#byFirst.set(first, [...(this.#byFirst.get(first) ?? []), pattern]);
    }
    for (const list of [...this.#byFirst.values(), this.#open]) {
      list.sort((a, b) => b.weight - a.weight);
    }
  }

  translate(sentence: string, depth = 0): string {
    // A hole that begins with a capital may be a name: it is translated only where the server says it so.
    const isOurs = this.#sent.has(sentence) || (depth > 0 && /^\p{Ll}/u.test(sentence));
    const whole = isOurs ? this.#catalog[sentence] : undefined;
    if (whole) return whole;
    if (FIGURE.test(sentence)) return sentence.replace('.', sign);
    if (depth > DEEPEST) return sentence;
    const first = firstWord(sentence);
    const candidates = first === null ? [] : (this.#byFirst.get(first) ?? []);
    for (const pattern of [...candidates, ...this.#open]) {
      const found = matched(sentence, pattern);
      const text = this.#catalog[pattern.key];
      if (found === null || !text) continue;
      const holes: string[] = [];
      for (const [i, n] of pattern.holes.entries()) {
        holes[n] = this.translate(found[i] ?? '', depth + 1);
      }
      return filled(text, holes);
    }
    return sign === '.' ? sentence : sentence.replace(FIGURES, (n) => n.replace('.', sign));
  }
}

/** The first word with what follows it; null where a text begins with no whole word. */
const firstWord = (text: string): string | null => /^[^\s{}]+(?=\s)/.exec(text)?.[0] ?? null;

/** Null for a text without a hole, or without a word outside of its holes. */
function patternOf(key: string): Pattern | null {
  const holes = [...key.matchAll(HOLE)].map(([, n]) => Number(n));
  const parts = key.split(/\{\d+\}/);
  const weight = parts.join('').replace(/[^\p{L}]/gu, '').length;
  return holes.length === 0 || weight === 0 ? null : { key, parts, weight, holes };
}

/** What stands in the holes; null where a sentence is not of that pattern. A hole may be empty. */
function matched(sentence: string, { parts }: Pattern): string[] | null {
  const first = parts[0] ?? '';
  const last = parts.at(-1) ?? '';
  if (!sentence.startsWith(first) || !sentence.endsWith(last)) return null;
  const end = sentence.length - last.length;
  let at = first.length;
  const found: string[] = [];
  for (const part of parts.slice(1, -1)) {
    // Two holes beside each other cannot be told apart: the first takes nothing.
    const next = sentence.indexOf(part, at);
    if (next < 0 || next + part.length > end) return null;
    found.push(sentence.slice(at, next));
    at = next + part.length;
  }
  if (at > end) return null;
  found.push(sentence.slice(at, end));
  return found;
}
