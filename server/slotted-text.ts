/**
 * A text of which only some places change from one time to the next, kept as bytes of UTF-8: what is
 * new is written into its slot, and all the rest stays as it is. A snapshot is three thousand
 * characters, and from one second to the next some three hundred of them differ.
 *
 * Whoever fills it names slots and what stands before each in the same order every time. The first
 * time that is written down; afterwards only the values are looked at.
 */

const ZERO = 0x30;
const POINT = 0x2e;
const MINUS = 0x2d;
/** The digits of 000 to 999, one after the other. */
const THREE = Uint8Array.from({ length: 3000 }, (_, i) => {
  const digits = String(Math.floor(i / 3)).padStart(3, '0');
  return digits.charCodeAt(i % 3);
});
const SCALE = { 3: 1e3, 6: 1e6, 9: 1e9 } as const;
/** Numbers of fewer digits than these are written digit by digit; they fit 32 bits. */
const MOST = 2e9;

/** The decimals to which a number is written. */
export type Decimals = keyof typeof SCALE;

interface Slot {
  from: number;
  width: number;
  /** What it was filled with last. */
  value: unknown;
  /** The same, where it is a number; NaN for null. */
  number: number;
  /** Digits that are as wide as the slot is, without their point: from here to there, of that sign. */
  least: number;
  most: number;
  negative: boolean;
}

export class SlottedText {
  #bytes = Buffer.alloc(4096);
  #length = 0;
  readonly #slots: Slot[] = [];
  #at = 0;
  /** While it is filled for the first time. */
  #building = true;

  toString(): string {
    return this.#bytes.toString('utf8', 0, this.#length);
  }

  /** In bytes. */
  get length(): number {
    return this.#length;
  }

  /** Copies it to `target` from `at` on, where there must be room. */
  copyTo(target: Buffer, at: number): void {
    this.#bytes.copy(target, at, 0, this.#length);
  }

  /** Begins to fill it; whatever follows comes in the order of the time before. */
  begin(): void {
    this.#at = 0;
  }

  /** What is the same every time. */
  literal(text: string): void {
    if (this.#building) this.#append(text);
  }

  /** The end of the text. */
  end(after: string): void {
    if (this.#building) this.#append(after);
    this.#building = false;
  }

  /**
   * A number to so many decimals, which is what a reader needs and a third of the time of all seventeen
   * digits; null, and what no JSON can hold, as `null`.
   */
  number(before: string, value: number | null, decimals: Decimals): void {
    const slot = this.#next(before);
    const x = value ?? NaN;
    if (x === slot.number || (x !== x && slot.number !== slot.number)) return;
    slot.number = x;
    const n = Math.round(Math.abs(x) * SCALE[decimals]);
    if (n < MOST) {
      this.#digits(slot, n | 0, x < 0, decimals);
      return;
    }
    slot.most = -1;
    this.#write(slot, JSON.stringify(value));
  }

  /** Anything as JSON; what is the same as the time before is not looked into. */
  json(before: string, value: string | number | boolean | object | null): void {
    const slot = this.#next(before);
    if (value === slot.value) return;
    slot.value = value;
    this.#write(slot, JSON.stringify(value));
  }

  /** A text that is JSON already. */
  raw(before: string, text: string): void {
    const slot = this.#next(before);
    if (text === slot.value) return;
    slot.value = text;
    this.#write(slot, text);
  }

  #next(before: string): Slot {
    const slot = this.#slots[this.#at++];
    if (slot !== undefined && !this.#building) return slot;
    return this.#add(before);
  }

  #add(before: string): Slot {
    this.#append(before);
    const slot: Slot = {
      from: this.#length,
      width: 4,
      value: null,
      number: NaN,
      least: 0,
      most: -1,
      negative: false,
    };
    this.#append('null');
    this.#slots.push(slot);
    return slot;
  }

  #append(text: string): void {
    const width = Buffer.byteLength(text);
    this.#makeRoom(width);
    this.#length += this.#bytes.write(text, this.#length);
  }

  #makeRoom(width: number): void {
    const needed = this.#length + width;
    if (needed <= this.#bytes.length) return;
    const larger = Buffer.alloc(2 * needed);
    this.#bytes.copy(larger, 0, 0, this.#length);
    this.#bytes = larger;
  }

  /** Makes a slot that wide: what follows it moves. */
  #resize(slot: Slot, width: number): void {
    if (width === slot.width) return;
    const wider = width - slot.width;
    this.#makeRoom(wider);
    const end = slot.from + slot.width;
    this.#bytes.copyWithin(end + wider, end, this.#length);
    this.#length += wider;
    slot.width = width;
    for (let i = this.#at; i < this.#slots.length; i++) {
      const later = this.#slots[i];
      if (later !== undefined) later.from += wider;
    }
  }

  #write(slot: Slot, text: string): void {
    this.#resize(slot, Buffer.byteLength(text));
    this.#bytes.write(text, slot.from);
  }

  /** Writes `n` with a point before the last `decimals` digits. */
  #digits(slot: Slot, n: number, negative: boolean, decimals: number): void {
    if (n < slot.least || n > slot.most || negative !== slot.negative) {
      this.#fit(slot, n, negative, decimals);
    }
    const bytes = this.#bytes;
    let at = slot.from + slot.width;
    let left = n;
    for (const point = at - decimals; at > point;) {
      const rest = (left / 1000) | 0;
      const three = 3 * (left - 1000 * rest);
      bytes[--at] = THREE[three + 2] ?? 0;
      bytes[--at] = THREE[three + 1] ?? 0;
      bytes[--at] = THREE[three] ?? 0;
      left = rest;
    }
    bytes[--at] = POINT;
    do {
      const rest = (left / 10) | 0;
      bytes[--at] = ZERO + left - 10 * rest;
      left = rest;
    } while (left > 0);
  }

  /** Makes a slot as wide as `n` is, and as all numbers of as many digits. */
  #fit(slot: Slot, n: number, negative: boolean, decimals: number): void {
    let most = 10 ** (decimals + 1) - 1; // a digit before the point
    let width = decimals + 2;
    slot.least = 0;
    while (n > most) {
      slot.least = most + 1;
      most = 10 * most + 9;
      width++;
    }
    slot.most = most;
    slot.negative = negative;
    this.#resize(slot, negative ? width + 1 : width);
    if (negative) this.#bytes[slot.from] = MINUS;
  }
}
