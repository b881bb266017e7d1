/**
 * The edges of an opening that an anemometer's head cannot reach, or that the points of a grid pass over.
 * There the air is slower, so the mean that they tell is too high: a head of diameter d that is moved
 * along with its edge at either end sees the last d of a slot the less the nearer to the wall.
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

/**
 * How much too high the mean of a head is that was moved along evenly from end to end.
 * @param headM its diameter, as it is averaged over the line of the slot
 * @returns the error as a part of the true mean: 0.033 for 100 mm in 800 mm; 0 where it covers all of it
 */
export function endsExcess(headM: number, lengthM: number): number {
  // A head and what it leaves free see alike: each point for as long as min(x, r, 1 − r, 1 − x).
  const part = Math.min(Math.max(headM / lengthM, 0), 1);
  const r = Math.min(part, 1 - part);
  if (r === 0) return 0;
  // All in parts of the length.
  const near = (2 ** M * r ** (M + 2)) / (M + 2);
  const middle = (1 - (2 * r) ** (M + 1)) / (2 * (M + 1));
  const seen = (2 * (near + r * middle)) / ((1 - r) * r);
  return seen * (M + 1) - 1;
}

/** The factor on a mean velocity, and its error as a part of it. */
export interface EdgeRule {
  factor: number;
  error: Uncertain;
}

/** What a head that was moved along evenly makes of a length. */
export function endRule(headM: number, lengthM: number): EdgeRule {
  const excess = endsExcess(headM, lengthM);
  return { factor: 1 / (1 + excess), error: statement(excess / (1 + excess)) };
}

/**
 * The same across an opening that is wider than the head. Painted in a zigzag it is as along; painted in
 * lanes side by side its edges are seen as often as its middle, and nothing is amiss: half of what a
 * zigzag would need is corrected for, and all of it is the ±.
 */
export function sideRule(headM: number, widthM: number): EdgeRule {
  const excess = endsExcess(headM, widthM);
  return { factor: 1 / (1 + excess / 2), error: statement(excess / (1 + excess / 2)) };
}

/** Ends in which nothing moves are taken for so much of the length, each (as twice the profile above). */
const DEAD = 1 / 30;

/**
 * What a head that was held at points makes of a length. Of three pictures (even, v ∝ y^(2/7), dead ends
 * of a thirtieth each) the middle of what they give is corrected for, and all between is equally likely.
 * @param at distances from one end, as parts of the length
 */
export function pointsRule(at: readonly number[], headM: number, lengthM: number): EdgeRule {
  const half = Math.min(headM / lengthM, 1) / 2;
  const mean = (upTo: (x: number) => number): number => {
    const each = at.map((x) => {
      const middle = Math.min(Math.max(x, half), 1 - half);
      // A thin head is a point.
      const h = Math.max(half, 1e-3);
      return (upTo(Math.min(1, middle + h)) - upTo(Math.max(0, middle - h))) / (2 * h);
    });
    return each.reduce((sum, v) => sum + v, 0) / at.length - 1;
  };
  const pictures = [0, mean(powerUpTo), mean(deadUpTo)];
  const low = Math.min(...pictures);
  const high = Math.max(...pictures);
  const middle = 1 + (low + high) / 2;
  return { factor: 1 / middle, error: statement((high - low) / 2 / middle) };
}

/** Flow from one end up to x, of two profiles whose whole is 1. */
const powerUpTo = (x: number): number =>
  x > 0.5 ? 1 - powerUpTo(1 - x) : (2 * x) ** (1 + 2 * M) / 2;
const deadUpTo = (x: number): number => Math.min(Math.max((x - DEAD) / (1 - 2 * DEAD), 0), 1);
