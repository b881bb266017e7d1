/**
 * A visit log in, checked lines in order of time out. It is pushed into, a chunk at a time, and calls
 * back: no I/O, and no promise a line.
 */
import type { Line } from '../../adapters/contract.ts';
import { TimeOrder } from './order.ts';
import { afterOf, MAX_LINE } from './recorded.ts';
import { ReadingScanner } from './scan-reading.ts';
import { checkLine } from './schema.ts';

/** Of a character in UTF-8 (of those that count as two: of half of it). */
const MOST_BYTES = 3;
const NEWLINE = 0x0a;
const NOTHING = Buffer.alloc(0);

export interface ReaderOptions {
  /**
   * A line that is fit, in order of time, with its number in the text (from 1).
   * @param after what was recorded with it; see `RecordedLine`
   */
  line(line: Line, lineNumber: number, after?: number): void;
  /** A line that is not, and why: a sentence that names the field. */
  refused(lineNumber: number, why: string): void;
  /** Readings dated later than this are refused: the reader's own clock, ms since the epoch. */
  latestT?: number;
}

/** Splits, parses, checks and orders the lines of one visit log. */
export class LogReader {
  readonly #options: ReaderOptions;
  readonly #order: TimeOrder;
  readonly #scanner = new ReadingScanner();
  /** The beginning of a line whose end has not come yet. */
  #rest = NOTHING;
  #lineNumber = 0;
  /** True while the rest of an over-long line is being passed over. */
  #skipping = false;
  #stopped = false;

  constructor(options: ReaderOptions) {
    this.#options = options;
    this.#order = new TimeOrder(options);
  }

  /**
   * Takes the next chunk: UTF-8, or text that is not cut within a character. It is the caller's again
   * afterwards.
   */
  write(chunk: Uint8Array | string): void {
    const bytes = typeof chunk === 'string' ? Buffer.from(chunk) : asBuffer(chunk);
    const end = bytes.lastIndexOf(NEWLINE) + 1;
    let from = 0;
    if (this.#rest.length > 0 && end > 0) {
      from = bytes.indexOf(NEWLINE) + 1;
      const line = Buffer.concat([this.#rest, bytes.subarray(0, from)]);
      this.#lines(line, 0, line.length);
    }
    this.#lines(bytes, from, end);
    this.#rest = Buffer.concat(end > 0 ? [bytes.subarray(end)] : [this.#rest, bytes]);
    if (this.#rest.length > MOST_BYTES * MAX_LINE) {
      if (!this.#skipping) this.#tooLong();
      this.#skipping = true;
      this.#rest = NOTHING;
    }
  }

  /** Takes whole lines: that there is a line break at the end keeps the scanner from running over it. */
  #lines(bytes: Buffer, first: number, end: number): void {
    let from = first;
    while (from < end && !this.#stopped) {
      const reading = this.#skipping ? null : this.#scanner.scan(bytes, from);
      if (reading !== null && bytes[this.#scanner.end] === NEWLINE) {
        from = this.#scanner.end + 1;
        this.#order.add(reading, ++this.#lineNumber, this.#scanner.after);
        continue;
      }
      const to = bytes.indexOf(NEWLINE, from);
      this.#take(bytes.toString('utf8', from, to));
      from = to + 1;
    }
  }

  /** Takes no more: hands over what was held back for ordering, which is all good, and ends. */
  stop(): void {
    if (this.#stopped) return;
    this.#stopped = true;
    this.#order.end();
  }

  /** Takes what is left and hands over what was held back for ordering. */
  end(): void {
    if (this.#stopped) return;
    if (this.#rest.length > 0 || this.#skipping) this.#take(this.#rest.toString());
    this.#rest = NOTHING;
    this.#order.end();
  }

  #tooLong(): void {
    const why = `is longer than ${MAX_LINE} characters, the longest line that is taken`;
    this.#options.refused(this.#lineNumber + 1, why);
  }

  #take(raw: string): void {
    if (this.#skipping) {
      this.#skipping = false;
      this.#lineNumber++;
      return;
    }
    if (raw.length > MAX_LINE) {
      this.#tooLong();
      this.#lineNumber++;
      return;
    }
    const n = ++this.#lineNumber;
    const parsed = parseJsonLine(raw);
    if (parsed === null) return;
    if ('refusal' in parsed) {
      this.#options.refused(n, parsed.refusal);
      return;
    }
    const checked = checkLine(parsed.value);
    const recorded = 'refusal' in checked ? checked : afterOf(parsed.value);
    if ('refusal' in recorded) this.#options.refused(n, recorded.refusal);
    else if ('line' in checked) this.#order.add(checked.line, n, recorded.after);
  }
}

function asBuffer(bytes: Uint8Array): Buffer {
  return Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
}

/** Parses one line; null for a blank one (a byte order mark and a carriage return are not text). */
export function parseJsonLine(raw: string): { value: unknown } | { refusal: string } | null {
  try {
    return { value: JSON.parse(raw) };
  } catch (error) {
    const text = raw.replace(/^\uFEFF/, '').trim();
    if (text.length === 0) return null;
    if (text !== raw) return parseJsonLine(text);
    return { refusal: notJson(text, error) };
  }
}

function notJson(text: string, error: unknown): string {
  // eslint-disable-next-line no-control-regex -- control characters are what tells binary data
  if (/[\u0000-\u0008\u000E-\u001F\uFFFD]/.test(text)) {
    return 'is not text but binary data: a visit log is UTF-8 text, one JSON object a line';
  }
  if (/^[{[]/.test(text) && !/[}\]]$/.test(text)) {
    return `is cut short: it begins with ${text[0]} and ends without the closing one`;
  }
  const reason = error instanceof Error ? error.message.replace(/\s+/g, ' ').slice(0, 100) : '';
  return `is not JSON (${reason})`;
}
