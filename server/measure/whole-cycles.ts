/**
 * When the mean over whole cycles of a unit that switches on and off can be written down, and what is
 * said until then: to a script that asks for it and on the screen alike.
 */
import { sent } from '../words/sent.ts';

/** A mean needs so many whole cycles … */
const LEAST_CYCLES = 3;
/** … and an interval of no more than this share of it (both common practice, no source). */
const WIDEST = 0.3;

/**
 * @param count whole cycles so far
 * @param meanW the mean over them, W
 * @param u95W half of its 95 % interval, W; null where it is not known: then the count alone decides
 */
export function areEnoughCycles(count: number, meanW: number, u95W: number | null): boolean {
  return count >= LEAST_CYCLES && (u95W ?? 0) <= WIDEST * Math.abs(meanW);
}

/** "one whole cycle", "4 whole cycles" */
export const cyclesOf = (count: number): string =>
  count === 1 ? sent`one whole cycle` : sent`${count} whole cycles`;

/** "2 whole cycles so far, a mean needs more" */
export function moreCyclesWords(count: number): string {
  const soFar = count < 1 ? sent`no whole cycle yet` : sent`${cyclesOf(count)} so far`;
  return sent`${soFar}, a mean needs more`;
}
