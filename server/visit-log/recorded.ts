/**
 * What the record of a live visit holds beside the lines themselves, so that whatever was acknowledged is
 * read back, in the order in which it was taken.
 */
import type { Line } from '../../adapters/contract.ts';
import { LATEST_T } from './fit-reading.ts';

/**
 * A line as it is recorded. `after` is there where it came out of its turn (late, told without a time,
 * after a long silence): up to that second, ms, the visit had been worked out by then. A reader hands such
 * a line over where it stands, without sorting it or judging its time again.
 */
export type Recorded<L extends Line> = L & { after?: number };
export type RecordedLine = Recorded<Line>;

/** Longest line that is taken, in characters: fifty times the longest that makes sense. */
export const MAX_LINE = 16_384;
/** What the record may add: `"id":"e999999999",` and `"after":4102444800000,`. */
const ADDED = 64;

/**
 * Readings are short whatever they hold; the texts, names and ids of other lines are bounded one by one,
 * but not all of them together, nor as they stand escaped.
 * @returns why a line does not fit into the record, or null
 */
export function whyTooLong(line: Line): string | null {
  if (line.type === 'reading' || JSON.stringify(line).length <= MAX_LINE - ADDED) return null;
  return (
    `with all its texts and ids it is longer than ${MAX_LINE - ADDED} characters, the longest line ` +
    'that is recorded: shorten them, or tell it in several'
  );
}

/** The second before one that a line may begin at, so from −1000 on. */
export function isAfter(after: unknown): after is number {
  return typeof after === 'number' && after >= -1000 && after <= LATEST_T;
}

/** The `after` of a parsed line; undefined where there is none. */
export function afterOf(value: unknown): { after: number | undefined } | { refusal: string } {
  const after =
    typeof value === 'object' && value !== null && 'after' in value ? value.after : undefined;
  if (after === undefined || isAfter(after)) return { after };
  return { refusal: 'after: is not a time in milliseconds since 1 January 1970' };
}
