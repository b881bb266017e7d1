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
/** Rows of flags above the plot. */
export const FLAG_ROWS = 2;
/** From one row to the next, CSS pixels: less than a finger, of which each flag is as high. */
export const ROW_PX = 34;
/** A flag can be touched over so much at least, CSS pixels. */
export const TOUCH_PX = 46;
/** A letter and the padding of a flag, in heights of its letters: rather too wide than too narrow. */
const LETTER_EM = 0.56;
const PADDING_EM = 1.1;
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

/**
 * The flags in view that have room; for the others there is only a pole. A defrost has no flag: it
 * is marked over all of its time.
 * @param textPx height of the letters, CSS pixels
 * @param heldId the event that is being moved: its flag is always there, over the others
 */
export function flagsIn(
  events: readonly ToldEvent[],
  axis: TimeAxis,
  textPx: number,
  heldId: string | null = null,
): Flag[] {
  const right = axis.left + axis.width;
  const taken = Array.from({ length: FLAG_ROWS }, () => -Infinity);
  const flags: Flag[] = [];
  for (const event of events) {
    const x = xOf(event.t, axis);
    if (event.kind === 'defrost' || x < axis.left || x > right) continue;
    const text = flagText(event.short);
    const width = Math.max(text.length * LETTER_EM * textPx + PADDING_EM * textPx, TOUCH_PX);
    const isFlipped = x + width > right;
    const left = isFlipped ? x - width : x;
    const free = taken.findIndex((end) => left >= end + GAP_PX);
    const isHeld = event.id === heldId;
    if (free < 0 && !isHeld) continue;
    if (!isHeld) taken[free] = left + width;
    flags.push({ event, text, x, left, width, row: isHeld ? 0 : free, isFlipped });
  }
  return flags;
}
