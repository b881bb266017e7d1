/** Text and colors on paper: the fonts of the page, what a text measures, and how it is broken into lines. */
import { createRequire as requireFrom } from 'node:module';
import { readFileSync } from 'node:fs';
import { create, type Font } from 'fontkit';
import type PDFDocument from 'pdfkit';

export type Doc = InstanceType<typeof PDFDocument>;
export type Weight = 'regular' | 'strong';
export interface Style {
  size: number;
  weight?: Weight;
  color?: string;
}

/** The colors of the page in light (client/look/tokens.css), on white paper. */
export const INK = '#10201d';
export const QUIET = '#4a5a56';
export const LINE = '#cdd5cf';
export const LINE_STRONG = '#7d8b86';
export const STEADY = '#007a52';
export const PAPER = '#ffffff';

/** From baseline to baseline, in sizes. */
const LEADING = 1.32;
/** All figures are equally wide, so that columns stand under each other. */
const TABULAR: PDFKit.Mixins.TextOptions = { lineBreak: false, features: ['tnum'] };
const SPACE = ' ';
const PLAIN: PDFKit.Mixins.TextOptions = { lineBreak: false };
const optionsFor = (text: string): PDFKit.Mixins.TextOptions => (/\d/.test(text) ? TABULAR : PLAIN);
/** What no font here has, and what is written for it. */
const STAND_INS: Record<string, string> = { '\u202f': '\u00a0', '\u2009': '\u00a0', '→': '–' };

const FACE = '@fontsource/atkinson-hyperlegible-next/files/atkinson-hyperlegible-next';
/** Two fonts a weight: the second one has the letters of further Latin alphabets. */
const FILES: Record<Weight, string[]> = {
  regular: [`${FACE}-latin-400-normal.woff`, `${FACE}-latin-ext-400-normal.woff`],
  strong: [`${FACE}-latin-600-normal.woff`, `${FACE}-latin-ext-600-normal.woff`],
};

/** A stretch of a text in one font. */
interface Run {
  font: string;
  text: string;
}

export class Pen {
  readonly doc: Doc;
  /** Of a space, at size 1. */
  readonly #space: Record<Weight, number> = { regular: 0, strong: 0 };
  readonly #widths = new Map<string, number>();
  readonly #fonts: Record<Weight, { name: string; font: Font }[]>;

  constructor(doc: Doc) {
    this.doc = doc;
    const { resolve } = requireFrom(import.meta.url);
    const load = (weight: Weight): { name: string; font: Font }[] =>
      FILES[weight].map((file) => {
        const bytes = readFileSync(resolve(file));
        doc.registerFont(file, bytes);
        const font = create(bytes);
        if (!('hasGlyphForCodePoint' in font)) throw new Error(`${file} is no font`);
        return { name: file, font };
      });
    this.#fonts = { regular: load('regular'), strong: load('strong') };
    for (const weight of ['regular', 'strong'] as const) {
      this.#space[weight] = this.#wordWidth(SPACE, weight);
    }
  }

  lineHeight({ size }: Style): number {
    return size * LEADING;
  }

  width(text: string, { size, weight = 'regular' }: Style): number {
    let width = 0;
    const words = text.split(' ');
    for (const word of words) width += this.#wordWidth(word, weight);
    return (width + (words.length - 1) * this.#space[weight]) * size;
  }

  /** At size 1. Words come again and again, and to lay one out costs more than all else. */
  #wordWidth(word: string, weight: Weight): number {
    const key = `${weight} ${word}`;
    let width = this.#widths.get(key);
    if (width === undefined) {
      width = 0;
      for (const run of this.#runs(word, weight)) {
        this.doc.font(run.font).fontSize(1000);
        width += this.doc.widthOfString(run.text, optionsFor(run.text)) / 1000;
      }
      this.#widths.set(key, width);
    }
    return width;
  }

  /** Writes one line; `x` is its left end, its middle or its right end. @param y the top of the line */
  text(
    text: string,
    x: number,
    y: number,
    style: Style,
    align: 'left' | 'middle' | 'right' = 'left',
  ): void {
    const width = align === 'left' ? 0 : this.width(text, style);
    let at = align === 'left' ? x : align === 'middle' ? x - width / 2 : x - width;
    const down = (this.lineHeight(style) - 1.2 * style.size) / 2;
    for (const run of this.#runs(text, style.weight)) {
      this.doc
        .font(run.font)
        .fontSize(style.size)
        .fillColor(style.color ?? INK);
      this.doc.text(run.text, at, y + down, optionsFor(run.text));
      at += this.width(run.text, style);
    }
  }

  /** The lines of a text in a width, broken at spaces, and within a word where it is wider than all of it. */
  lines(text: string, style: Style, width: number): string[] {
    const lines: string[] = [];
    const space = this.#space[style.weight ?? 'regular'] * style.size;
    let line = '';
    let used = 0;
    for (const word of text.split(/[ \n]+/)) {
      const wide = this.width(word, style);
      if (line !== '' && used + space + wide <= width) {
        line += ` ${word}`;
        used += space + wide;
        continue;
      }
      if (line !== '') lines.push(line);
      line = word;
      used = wide;
      while (used > width && line.length > 1) {
        let fits = line.length - 1;
        while (fits > 1 && this.width(line.slice(0, fits), style) > width) fits--;
        lines.push(line.slice(0, fits));
        line = line.slice(fits);
        used = this.width(line, style);
      }
    }
    if (line !== '') lines.push(line);
    return lines;
  }

  /** Letters that no font has come in the first one, as its empty box. */
  #runs(text: string, weight: Weight = 'regular'): Run[] {
    const runs: Run[] = [];
    const fonts = this.#fonts[weight];
    for (const letter of text) {
      const shown = STAND_INS[letter] ?? letter;
      const code = shown.codePointAt(0) ?? 0;
      const has = fonts.find(({ font }) => font.hasGlyphForCodePoint(code)) ?? fonts[0];
      if (has === undefined) continue;
      const last = runs.at(-1);
      if (last?.font === has.name) last.text += shown;
      else runs.push({ font: has.name, text: shown });
    }
    return runs;
  }
}
