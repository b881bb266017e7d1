/** Where the flags of the events stand: each at its moment, in the first row that has room. */
import type { ToldEvent } from '../words/events.ts';

/** How the time axis lies on the screen. */
export interface TimeAxis {
  /** Left end and width, CSS pixels. */
  left: number;
  width: number;
  /** The times at both ends, ms since the epoch. */
  min: number;
  max: number;
}

/** The place of a time, CSS pixels. */
export const xOf = (t: number, { left, width, min, max }: TimeAxis): number =>
  left + (width * (t - min)) / Math.max(max - min, 1);

/** The time at a place, whole seconds, ms since the epoch. */
export const timeAt = (x: number, { left, width, min, max }: TimeAxis): number =>
  Math.round((min + ((max - min) * (x - left)) / Math.max(width, 1)) / 1000) * 1000;

/** A flag has room for so many letters. */
const FLAG_LETTERS = 22;
/** Rows of flags above a plot, above a low one, and above one which has no height to give. */
const FLAG_ROWS = 2;
const LOW_ROWS = 1;
/** A plot that is lower than this, its flags and times included, is a low one; below this only poles stand, px. */
const LOW_PX = 290;
const LOWEST_PX = 150;
/** Without flags there is still the unit's sign, CSS pixels. */
const NO_FLAGS_PX = 28;

export const isLow = (heightPx: number): boolean => heightPx < LOW_PX;
/** How many rows of flags stand above a plot of this height, flags and times included. */
export const rowsAbove = (heightPx: number): number =>
  heightPx < LOWEST_PX ? 0 : isLow(heightPx) ? LOW_ROWS : FLAG_ROWS;
/** The room for so many rows, CSS pixels. */
export const flagsPx = (rows: number): number =>
  rows === 0 ? NO_FLAGS_PX : (rows - 1) * ROW_PX + TOUCH_PX;
/** From one row to the next, CSS pixels: less than a finger, of which each flag is as high. */
export const ROW_PX = 34;
/** A flag can be touched over so much at least, CSS pixels. */
export const TOUCH_PX = 46;
/** Between flags of a row, CSS pixels. */
const GAP_PX = 4;

/** The words of a flag: long ones are cut, the list below the chart has them in full. */
export const flagText = (words: string): string =>
  words.length > FLAG_LETTERS ? `${words.slice(0, FLAG_LETTERS - 1)}…` : words;

export interface Flag {
  event: ToldEvent;
  text: string;
  /** Where its pole stands, and its left end, CSS pixels. */
  x: number;
  left: number;
  width: number;
  /** 0 is the highest. */
  row: number;
  /** Whether it flies to the left of its pole. */
  isFlipped: boolean;
}

/** The flag that is being moved, and the rows in which all flags stood when that began, by event. */
export interface HeldFlag {
  id: string;
  /** What stands on it meanwhile. */
  text: string;
  rows: ReadonlyMap<string, number>;
}

/** What was told to the unit has its flag before what was noted beside it. */
const FIRST: ReadonlySet<ToldEvent['kind']> = new Set(['setpoint', 'fan']);

/**
 * The flags in view that have room; for the others there is only a pole. A defrost has no flag: it
 * is marked over all of its time. While one is moved, it is always there, over the others, and they
 * keep their rows.
 * @param widthOf the width of a flag with a text, its padding included, CSS pixels
 * @param rowCount how many rows there are
 * @param reservedPx what is taken of them at the right end, CSS pixels
 */
export function flagsIn(
  events: readonly ToldEvent[],
  axis: TimeAxis,
  widthOf: (text: string) => number,
  held: HeldFlag | null = null,
  rowCount = FLAG_ROWS,
  reservedPx = 0,
): Flag[] {
  const end = axis.left + axis.width;
  const right = end - reservedPx;
  const rows: Flag[][] = Array.from({ length: rowCount }, () => []);
  const rowFor = (id: string, left: number, end: number): number => {
    if (held !== null) return held.rows.get(id) ?? (id === held.id ? 0 : -1);
    return rows.findIndex((row) =>
      row.every((flag) => end + GAP_PX <= flag.left || left >= flag.left + flag.width + GAP_PX),
    );
  };
  for (const event of [
    ...events.filter(({ kind }) => FIRST.has(kind)),
    ...events.filter(({ kind }) => !FIRST.has(kind)),
  ]) {
    const x = xOf(event.t, axis);
    if (event.kind === 'defrost' || x < axis.left || x > end) continue;
    const own = flagText(event.short);
    const text = event.id === held?.id ? held.text : own;
    const width = Math.max(widthOf(own), widthOf(text), TOUCH_PX);
    const isFlipped = x + width > right;
    const left = isFlipped ? x - width : x;
    // One without room on either side of its pole has only that.
    if ((left < 0 || (isFlipped && x > right)) && event.id !== held?.id) continue;
    const row = rowFor(event.id, left, left + width);
    rows[row]?.push({ event, text, x, left, width, row, isFlipped });
  }
  return rows.flat();
}
