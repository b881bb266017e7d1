/**
 * Finds a step of the heat that a kg of air takes up: a level, a change, another level. Looked at in
 * means of five seconds, over the last minutes; no clock, and next to no work while nothing moves.
 */

/** What is looked at in each second: air in and out, and its difference of enthalpy. */
export interface AirSecond {
  /** J/kg of dry air that the unit takes out (cooling) or puts in (heating); NaN where not known. */
  heatJkg: number;
  returnC: number;
  supplyC: number;
  /** NaN where not known. */
  returnW: number;
  supplyW: number;
}

export const BLOCK_S = 5;
/** A level is that of a minute; the change between two of them takes so long at most, in blocks. */
const LEVEL = 12;
const LONGEST = 24;
/** Blocks that are kept: two levels and a change between them. */
const KEPT = 2 * LEVEL + LONGEST;
/** The halves of a level differ by no more than this part of it: it lies still. */
const STILL = 0.02;

/** The mean of one stretch. */
export type Level = Readonly<AirSecond>;

export interface FanStep {
  before: Level;
  after: Level;
  /** From a fifth of the change to four fifths of it, s. */
  tookS: number;
  /** How fast the return moved before it, K/s, and the standard uncertainty of that. */
  slope: Slope;
}

export interface Slope {
  kS: number;
  u: number;
}

/** The last blocks. */
export class Steps {
  readonly #blocks: AirSecond[] = [];
  #sum: AirSecond = nothing();
  #n = 0;

  /** Takes one second. @returns whether that made a block whole */
  add(second: AirSecond): boolean {
    const sum = this.#sum;
    sum.heatJkg += second.heatJkg;
    sum.returnC += second.returnC;
    sum.supplyC += second.supplyC;
    sum.returnW += second.returnW;
    sum.supplyW += second.supplyW;
    if (++this.#n < BLOCK_S) return false;
    this.#blocks.push(scaled(sum, 1 / BLOCK_S));
    if (this.#blocks.length > KEPT) this.#blocks.shift();
    this.#sum = nothing();
    this.#n = 0;
    return true;
  }

  /** The newest block; undefined before the first. */
  get last(): AirSecond | undefined {
    return this.#blocks.at(-1);
  }

  /** The newest level; null where the last minute does not lie still. */
  get level(): Level | null {
    return this.#levelAt(this.#blocks.length - LEVEL);
  }

  /**
   * The newest two levels with a change between them.
   * @param least by which factor they have to differ, either way
   * @returns null where the last minute does not lie still, or nothing else lay still before it
   */
  find(least: number): FanStep | null {
    const n = this.#blocks.length;
    const after = this.level;
    if (after === null) return null;
    for (let from = n - 2 * LEVEL - 1; from >= 0; from--) {
      const before = this.#levelAt(from);
      if (before === null) continue;
      const ratio = after.heatJkg / before.heatJkg;
      if (ratio < least && ratio > 1 / least) return null;
      const tookS = this.#took(from + LEVEL, n - LEVEL, before.heatJkg, after.heatJkg);
      return { before, after, tookS, slope: slopeOf(this.#returns(from, from + LEVEL)) };
    }
    return null;
  }

  /** The mean of the level from a block on; null where it does not lie still, or is not all there. */
  #levelAt(from: number): Level | null {
    if (from < 0) return null;
    const mean = nothing();
    let halves = 0;
    for (let i = 0; i < LEVEL; i++) {
      const block = this.#blocks[from + i];
      if (block === undefined) return null;
      mean.heatJkg += block.heatJkg / LEVEL;
      mean.returnC += block.returnC / LEVEL;
      mean.supplyC += block.supplyC / LEVEL;
      mean.returnW += block.returnW / LEVEL;
      mean.supplyW += block.supplyW / LEVEL;
      halves += ((i < LEVEL / 2 ? -1 : 1) * block.heatJkg) / (LEVEL / 2);
    }
    // Written so that a level that is not known is none.
    return Math.abs(halves) <= STILL * mean.heatJkg ? mean : null;
  }

  /** From the last block before a fifth of the change to the first after four fifths, s. */
  #took(from: number, to: number, before: number, after: number): number {
    let begins = from;
    let ends = from;
    for (let i = from; i < to; i++) {
      const part = ((this.#blocks[i]?.heatJkg ?? NaN) - before) / (after - before);
      if (part < 0.2) begins = i + 1;
      if (part < 0.8) ends = i + 1;
    }
    return Math.max(ends - begins, 1) * BLOCK_S;
  }

  #returns(from: number, to: number): number[] {
    return this.#blocks.slice(from, to).map(({ returnC }) => returnC);
  }

  clear(): void {
    this.#blocks.length = 0;
    this.#sum = nothing();
    this.#n = 0;
  }
}

/** The slope of values that are `BLOCK_S` apart, and its standard uncertainty from what they scatter by. */
export function slopeOf(values: readonly number[]): Slope {
  const n = values.length;
  const mean = values.reduce((sum, value) => sum + value, 0) / n;
  let xx = 0;
  let xy = 0;
  let yy = 0;
  values.forEach((value, i) => {
    const x = (i - (n - 1) / 2) * BLOCK_S;
    xx += x * x;
    xy += x * value;
    yy += (value - mean) ** 2;
  });
  const kS = xy / xx;
  return { kS, u: Math.sqrt(Math.max(yy - kS * xy, 0) / (n - 2) / xx) };
}

const nothing = (): AirSecond => ({
  heatJkg: 0,
  returnC: 0,
  supplyC: 0,
  returnW: 0,
  supplyW: 0,
});

const scaled = (a: AirSecond, by: number): AirSecond => ({
  heatJkg: a.heatJkg * by,
  returnC: a.returnC * by,
  supplyC: a.supplyC * by,
  returnW: a.returnW * by,
  supplyW: a.supplyW * by,
});
