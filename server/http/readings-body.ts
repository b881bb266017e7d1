/**
 * The body of `POST /api/readings`, line by line: JSON lines, or the elements of one JSON array. A step
 * costs no more than the bytes that it passes over; lines that are refused are counted, and the first of
 * them are kept with the reason.
 */
import type { Reading } from '../../adapters/contract.ts';
import { isFitReading } from '../visit-log/fit-reading.ts';
import { parseJsonLine } from '../visit-log/reader.ts';
import { MAX_LINE } from '../visit-log/recorded.ts';
import { ReadingScanner } from '../visit-log/scan-reading.ts';
import { checkReading } from '../visit-log/schema.ts';

/** Most refusals that are told one by one. */
export const MAX_TOLD = 1000;
/** Of a character in UTF-8 (of those that count as two: of half of it). */
const MOST_BYTES = 3;
/** The shortest reading there is: `{"t":0,"probe":"p","powerW":1}`. */
const LEAST_BYTES = 30;

const TAB = 0x09;
const NEWLINE = 0x0a;
const RETURN = 0x0d;
const SPACE = 0x20;
const QUOTE = 0x22;
const COMMA = 0x2c;
const OPEN_LIST = 0x5b;
const BACKSLASH = 0x5c;
const CLOSE_LIST = 0x5d;
const OPEN = 0x7b;
const CLOSE = 0x7d;
const MARK = Buffer.from('\uFEFF');

export interface Refusal {
  /** Line of the body, or place in the array, from 1. */
  line: number;
  why: string;
}

export class ReadingsBody {
  readonly readings: Reading[] = [];
  /** The line of each reading. */
  readonly lines: number[] = [];
  /** The first refusals, in the order of their lines, and how many there are in all. */
  readonly told: Refusal[] = [];
  refused = 0;
  readonly #bytes: Buffer;
  readonly #scanner = new ReadingScanner();
  readonly #isArray: boolean;
  #at = 0;
  #line = 0;

  constructor(bytes: Buffer) {
    this.#bytes = bytes;
    if (bytes.subarray(0, MARK.length).equals(MARK)) this.#at = MARK.length;
    const first = this.#afterSpace(this.#at);
    this.#isArray = bytes[first] === OPEN_LIST;
    if (this.#isArray) this.#at = first + 1;
  }

  /** Takes the next line or element. @returns false where there is none left */
  step(): boolean {
    return this.#isArray ? this.#element() : this.#nextLine();
  }

  #nextLine(): boolean {
    const bytes = this.#bytes;
    if (this.#at >= bytes.length) return false;
    this.#line++;
    const from = this.#at;
    const scanned = this.#scanner.scan(bytes, from);
    if (scanned !== null) {
      const { end } = this.#scanner;
      if (end >= bytes.length || bytes[end] === NEWLINE) {
        this.#at = end + 1;
        this.#good(scanned);
        return true;
      }
    }
    const next = bytes.indexOf(NEWLINE, from);
    const to = next < 0 ? bytes.length : next;
    this.#at = to + 1;
    if (this.#afterSpace(from, to) < to) this.#take(from, to);
    return true;
  }

  #element(): boolean {
    const bytes = this.#bytes;
    const from = this.#afterSpace(this.#at);
    if (bytes[from] === CLOSE_LIST && this.#line === 0) return this.#ends(from);
    const to = this.#endOf(from);
    if (to < 0)
      return this.#spoilt('is cut short: it begins with [ and ends without the closing one');
    this.#line++;
    this.#at = to + 1;
    this.#take(from, to);
    return bytes[to] === COMMA || this.#ends(to);
  }

  /** The array ends at its closing bracket: nothing may come after it. */
  #ends(at: number): boolean {
    this.#at = this.#bytes.length + 1;
    if (this.#afterSpace(at + 1) < this.#bytes.length)
      this.#spoilt('goes on after the end of its list');
    return false;
  }

  /** Of an array that is none, nothing is taken. */
  #spoilt(why: string): false {
    this.readings.length = this.lines.length = this.told.length = 0;
    this.refused = 0;
    this.#line = 1;
    this.#bad(why);
    this.#at = this.#bytes.length + 1;
    return false;
  }

  /** Where the element that begins at `from` ends: at a comma or a closing bracket; −1: it does not. */
  #endOf(from: number): number {
    const bytes = this.#bytes;
    let depth = 0;
    let inText = false;
    for (let at = from; at < bytes.length; at++) {
      const byte = bytes[at];
      if (inText) {
        if (byte === BACKSLASH) at++;
        else if (byte === QUOTE) inText = false;
      } else if (byte === QUOTE) inText = true;
      else if (byte === OPEN || byte === OPEN_LIST) depth++;
      else if (depth === 0 && (byte === COMMA || byte === CLOSE_LIST)) return at;
      else if (byte === CLOSE || byte === CLOSE_LIST) depth--;
    }
    return -1;
  }

  #take(from: number, to: number): void {
    const isTold = this.told.length >= MAX_TOLD;
    if (isTold && to - from < LEAST_BYTES) {
      this.refused++;
      return;
    }
    if (to - from > MOST_BYTES * MAX_LINE) {
      this.#bad(`is longer than ${MAX_LINE} characters, the longest line taken`);
      return;
    }
    const text = this.#bytes.toString('utf8', from, to);
    if (text.length > MAX_LINE) {
      this.#bad(`is longer than ${MAX_LINE} characters, the longest line taken`);
      return;
    }
    const parsed = parseJsonLine(text);
    if (parsed === null) {
      if (this.#isArray) this.#bad('is empty');
    } else if ('refusal' in parsed) this.#bad(parsed.refusal);
    else if (isFitReading(parsed.value)) this.#good(parsed.value);
    else {
      const checked = checkReading(parsed.value);
      if ('refusal' in checked) this.#bad(checked.refusal);
      else this.#good(checked.line);
    }
  }

  #good(reading: Reading): void {
    this.readings.push(reading);
    this.lines.push(this.#line);
  }

  #bad(why: string): void {
    this.refused++;
    if (this.told.length < MAX_TOLD) this.told.push({ line: this.#line, why });
  }

  /** The first byte from `from` on, before `to`, that is no space; `to` where there is none. */
  #afterSpace(from: number, to = this.#bytes.length): number {
    let at = from;
    for (; at < to; at++) {
      const byte = this.#bytes[at] ?? 0;
      if (byte !== SPACE && (byte < TAB || byte > RETURN)) break;
    }
    return at;
  }
}
