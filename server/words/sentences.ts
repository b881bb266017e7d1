/**
 * English sentences of the server, found again by what stands between their holes and said in another
 * language: the server sends text, not keys. What is not known stays as it is. Pure.
 */

/** English keys, and what they are in another language; an empty one is not translated yet. */
export type Catalog = Readonly<Record<string, string>>;

interface Pattern {
  key: string;
  parts: string[];
  /** Letters that do not stand in holes: the more, the surer. */
  weight: number;
  holes: number[];
}

const HOLE = /\{(\d+)\}/g;
/** Where one sentence ends and another begins, and between the items of a list. */
const BREAK = /(?<=[.!?]) (?=\p{Lu})|(?<=;) /u;
/** A hole in a hole in a hole: deeper than any sentence is built. */
const DEEPEST = 4;
const FIGURE = /^[+−-]?[\d\u202f]+\.\d+$/;
const FIGURES = /(?<![\w.])\d+\.\d+(?![\w.])/g;

/** In one pass: what stands in a hole is no pattern, whatever it holds. */
export const filled = (text: string, holes: readonly (string | number)[]): string =>
  text.replace(HOLE, (hole, n: string) => String(holes[Number(n)] ?? hole));

export class Sentences {
  readonly #catalog: Catalog;
  /** The sign between whole and fraction. */
  readonly #sign: string;
  readonly #sent: ReadonlySet<string>;
  /** Those that begin with a word, by it; and those that begin with a hole. */
  readonly #byFirst = new Map<string, Pattern[]>();
  readonly #open: Pattern[] = [];

  /** @param keys what the server sends, @param catalog what it is in the other language */
  constructor(keys: readonly string[], catalog: Catalog, sign: string) {
    this.#catalog = catalog;
    this.#sign = sign;
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

  /** A sentence, or several; of those that are not known all together, each that is. */
  translate(sentence: string): string {
    const found = this.#found(sentence, 0) ?? this.#begunSmall(sentence);
    if (found !== null) return found;
    const pieces = sentence.split(BREAK);
    return pieces.length > 1
      ? pieces.map((piece) => this.translate(piece)).join(' ')
      : this.#figures(sentence);
  }

  /** Null where it is not known. */
  #found(sentence: string, depth: number): string | null {
    // A hole that begins with a capital may be a name: it is translated only where the server says it so.
    const isOurs = this.#sent.has(sentence) || (depth > 0 && /^\p{Ll}/u.test(sentence));
    const whole = isOurs ? this.#catalog[sentence] : undefined;
    if (whole) return whole;
    if (FIGURE.test(sentence)) return this.#figures(sentence);
    if (depth > DEEPEST) return null;
    // One sentence is surer than several in the hole of another.
    return (
      this.#matching(sentence, depth, (hole) => !BREAK.test(hole)) ??
      this.#inPieces(sentence, depth) ??
      this.#matching(sentence, depth, () => true)
    );
  }

  #matching(sentence: string, depth: number, fits: (hole: string) => boolean): string | null {
    const first = firstWord(sentence);
    const candidates = first === null ? [] : (this.#byFirst.get(first) ?? []);
    for (const pattern of [...candidates, ...this.#open]) {
      const found = matched(sentence, pattern);
      const text = this.#catalog[pattern.key];
      if (!text || !found?.every(fits)) continue;
      const holes: string[] = [];
      for (const [i, n] of pattern.holes.entries()) {
        const hole = found[i] ?? '';
        holes[n] = this.#found(hole, depth + 1) ?? this.#figures(hole);
      }
      return filled(text, holes);
    }
    return null;
  }

  /** Sentence by sentence, where all are known. */
  #inPieces(sentence: string, depth: number): string | null {
    const pieces = sentence.split(BREAK);
    if (pieces.length < 2) return null;
    const said = pieces.map((piece) => this.#found(piece, depth + 1));
    return said.every((piece) => piece !== null) ? said.join(' ') : null;
  }

  /** A part of a sentence that stands at the beginning of one, with a capital. */
  #begunSmall(sentence: string): string | null {
    const said = this.#found(
      sentence.replace(/^\p{Lu}/u, (c) => c.toLowerCase()),
      0,
    );
    return said?.replace(/^\p{Ll}/u, (c) => c.toUpperCase()) ?? null;
  }

  #figures(text: string): string {
    return this.#sign === '.' ? text : text.replace(FIGURES, (n) => n.replace('.', this.#sign));
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
    const next = sentence.indexOf(part, at);
    if (next < 0 || next + part.length > end) return null;
    found.push(sentence.slice(at, next));
    at = next + part.length;
  }
  if (at > end) return null;
  found.push(sentence.slice(at, end));
  return found;
}
