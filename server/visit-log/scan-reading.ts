/**
 * Readings straight from the bytes of a visit log, where they are written as every program writes them:
 * without spaces, plain numbers, a plain id. Nine in ten lines are, and so are read in a quarter of the
 * time that `JSON.parse` takes; of all others nothing is said here, they are read in full (reader.ts).
 */
import type { Reading } from '../../adapters/contract.ts';
import { isFitReading, LONGEST_ID } from './fit-reading.ts';
import { QUANTITIES } from './known-fields.ts';
import { isAfter } from './recorded.ts';

const bytesOf = (text: string): Uint8Array => Uint8Array.from(Buffer.from(text));
const HEAD = bytesOf('{"type":"reading","t":');
const PROBE = bytesOf(',"probe":"');
const AFTER = bytesOf('"after":');
const KEYS = QUANTITIES.map((quantity) => bytesOf(`"${quantity}":`));
const QUOTE = 0x22;
const COMMA = 0x2c;
const MINUS = 0x2d;
const POINT = 0x2e;
const ZERO = 0x30;
const NINE = 0x39;
const BACKSLASH = 0x5c;
const CLOSE = 0x7d;
/** Quotients of whole numbers below 10¹⁵ and powers of ten up to 10²² are rounded but once: exact. */
const MOST_DIGITS = 15;
const POWERS = Array.from({ length: MOST_DIGITS + 1 }, (_, i) => 10 ** i);
/** Ids that are remembered. */
const MOST_IDS = 1024;

const NO_BYTES = new Uint8Array(0);

export class ReadingScanner {
  /** Where the last reading ended: just behind its closing brace. */
  end = 0;
  /** What was recorded with it (recorded.ts). */
  after: number | undefined;
  #bytes: Uint8Array = NO_BYTES;
  #at = 0;
  /** The ids met so far, by a hash of their bytes: the same few come again and again. */
  readonly #ids = new Map<number, string>();

  /**
   * The reading that begins at `from`; null where there is none, or one that has to be read in full.
   * @param bytes with a line break behind `from`
   */
  scan(bytes: Uint8Array, from: number): Reading | null {
    this.#bytes = bytes;
    this.#at = from;
    if (!this.#is(HEAD)) return null;
    const t = this.#number();
    if (!this.#is(PROBE)) return null;
    const probe = this.#id();
    if (probe === null) return null;
    const reading: Reading = { type: 'reading', t, probe };
    let next = bytes[this.#at];
    this.after = undefined;
    for (let n = 0; next === COMMA && this.after === undefined && n <= KEYS.length; n++) {
      this.#at++;
      if (!this.#quantity(reading) && !this.#after()) return null;
      next = bytes[this.#at];
    }
    this.end = this.#at + 1;
    return next === CLOSE && isFitReading(reading) ? reading : null;
  }

  /** Passes over `text`; where it stands something else, stays and returns false. */
  #is(text: Uint8Array): boolean {
    const bytes = this.#bytes;
    const at = this.#at;
    for (let i = 0; i < text.length; i++) if (bytes[at + i] !== text[i]) return false;
    this.#at = at + text.length;
    return true;
  }

  /** A quantity and its number; false where they are not. */
  #quantity(reading: Reading): boolean {
    for (let i = 0; i < KEYS.length; i++) {
      const key = KEYS[i];
      const quantity = QUANTITIES[i];
      if (key === undefined || quantity === undefined || !this.#is(key)) continue;
      const value = this.#number();
      if (Number.isNaN(value)) return false;
      // The two that nearly every reading has by their names: that is much faster.
      if (quantity === 'temperatureC') reading.temperatureC = value;
      else if (quantity === 'humidityPct') reading.humidityPct = value;
      else reading[quantity] = value;
      return true;
    }
    return false;
  }

  /** What stands last in a line that came out of its turn; false where it does not. */
  #after(): boolean {
    if (!this.#is(AFTER)) return false;
    const after = this.#number();
    if (!isAfter(after)) return false;
    this.after = after;
    return true;
  }

  /** A number as JSON has it, without an exponent, of up to 15 digits; NaN: it is none. */
  #number(): number {
    const bytes = this.#bytes;
    let at = this.#at;
    const negative = bytes[at] === MINUS;
    if (negative) at++;
    const first = at;
    let whole = 0;
    let digit = bytes[at] ?? 0;
    for (; digit >= ZERO && digit <= NINE; digit = bytes[++at] ?? 0) {
      whole = 10 * whole + digit - ZERO;
    }
    let digits = at - first;
    if (digits === 0 || (digits > 1 && bytes[first] === ZERO)) return NaN;
    let decimals = 0;
    if (digit === POINT) {
      const point = at;
      digit = bytes[++at] ?? 0;
      for (; digit >= ZERO && digit <= NINE; digit = bytes[++at] ?? 0) {
        whole = 10 * whole + digit - ZERO;
      }
      decimals = at - point - 1;
      if (decimals === 0) return NaN;
      digits += decimals;
    }
    this.#at = at;
    if (digits > MOST_DIGITS) return NaN;
    const size = decimals === 0 ? whole : whole / (POWERS[decimals] ?? NaN);
    return negative ? -size : size;
  }

  /** A plain id up to its closing quotation mark, null where it is none. */
  #id(): string | null {
    const bytes = this.#bytes;
    const first = this.#at;
    let at = first;
    let hash = 0;
    for (;;) {
      const byte = bytes[at] ?? 0;
      if (byte === QUOTE) break;
      if (byte < 0x20 || byte >= 0x7f || byte === BACKSLASH) return null;
      hash = (31 * hash + byte) | 0;
      if (++at - first > LONGEST_ID) return null;
    }
    this.#at = at + 1;
    const known = this.#ids.get(hash);
    if (known !== undefined && this.#stands(known, first, at)) return known;
    const id = String.fromCharCode(...bytes.subarray(first, at));
    if (this.#ids.size < MOST_IDS) this.#ids.set(hash, id);
    return id;
  }

  #stands(id: string, from: number, to: number): boolean {
    if (id.length !== to - from) return false;
    for (let i = 0; i < id.length; i++) {
      if (id.charCodeAt(i) !== this.#bytes[from + i]) return false;
    }
    return true;
  }
}
