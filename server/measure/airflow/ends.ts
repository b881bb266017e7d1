/**
 * The ends of a slot that an anemometer's head cannot reach. Moved along with its edge at either end,
 * a head of diameter d sees the last d of the slot the less the nearer to the wall; there the air is
 * slower, so the mean that it tells is too high.
 *
 * By how much depends on a profile that nobody knows: a turbulent profile v ∝ y^(1/7) from either end
 * (a common picture of a duct's profile; from memory of fluid mechanics textbooks) is corrected for,
 * and from nothing (even to the ends) to twice as much (ends in which nothing moves) all is taken as
 * equally likely.
 */
import type { Uncertain } from '../gum.ts';
import { statement } from '../gum.ts';

/** The exponent of the profile. */
const M = 1 / 7;
/** A head as long as half of the slot can hardly be called moved along. */
const MOST = 0.5;

/**
 * How much too high the mean of a head is that was moved along evenly from end to end.
 * @param headM its diameter, as it is averaged over the line of the slot
 * @returns the error as a part of the true mean: 0.033 for 100 mm in 800 mm
 */
export function endsExcess(headM: number, lengthM: number): number {
  const r = Math.min(Math.max(headM / lengthM, 0), MOST);
  if (r === 0) return 0;
  // Each point x of the slot is seen for as long as min(x, r, 1 − x); all in parts of the length.
  const near = (2 ** M * r ** (M + 2)) / (M + 2);
  const middle = (1 - (2 * r) ** (M + 1)) / (2 * (M + 1));
  const seen = (2 * (near + r * middle)) / ((1 - r) * r);
  return seen * (M + 1) - 1;
}

/** The factor on the mean velocity of a section, and its error as a part of it. */
export function endRule(headM: number, lengthM: number): { factor: number; error: Uncertain } {
  const excess = endsExcess(headM, lengthM);
  return { factor: 1 / (1 + excess), error: statement(excess / (1 + excess)) };
}
