/**
 * Does a unit deliver what it should? The probability that the true capacity is at least a stated part of
 * the expected one (conformance probability, JCGM 106:2012), from both with their uncertainties.
 */

/** The part of the expected capacity that has to be reached, where nobody says another. */
export const USUAL_LIMIT = 0.9;
/** So sure must it be, either way. */
const SURE = 0.95;

/** `not-asked`: nobody has shown that the unit was asked for all it has. */
export type Verdict = 'meets' | 'falls-short' | 'cannot-tell' | 'not-asked';

/** The standard normal distribution function: 7 digits (Abramowitz and Stegun 26.2.17, from memory). */
export function normalCdf(z: number): number {
  const t = 1 / (1 + 0.2316419 * Math.abs(z));
  const tail =
    (Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI)) *
    t *
    (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  return z >= 0 ? 1 - tail : tail;
}

/** P(x ≥ limit) of a normal x; of one that is known exactly it is 0 or 1. */
export function probabilityAbove(x: number, u: number, limit: number): number {
  if (!(u > 0)) return x >= limit ? 1 : 0;
  return normalCdf((x - limit) / u);
}

/** What a verdict by probability rests on. */
export interface Grounds {
  /** It has been shown that the unit gives all it has. */
  isFullDemand: boolean;
  /** What is expected is more than it may be in truth: falling short of it says nothing. */
  isAtMost: boolean;
}

/** The verdict of a probability; only a unit that gives all it has can fall short. */
export function verdictOf(probability: number, { isFullDemand, isAtMost }: Grounds): Verdict {
  if (probability >= SURE) return 'meets';
  if (!isFullDemand) return 'not-asked';
  return probability <= 1 - SURE && !isAtMost ? 'falls-short' : 'cannot-tell';
}
