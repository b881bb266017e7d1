/**
 * The air at a place is not the same from spot to spot: what a few probes there say of the whole of it
 * (the lack of homogeneity of ISO/TS 16491:2012, whose clause was not read; the figures below are ours).
 *
 * What is known beforehand (a stated assumption, or a walk along the outlet) counts as an estimate of
 * the spots' standard deviation with so many degrees of freedom; what the probes at the place differ
 * by among themselves is another one. Both are pooled, as variances of one normal distribution are,
 * and the mean of the probes then follows Student's t (JCGM 100:2008, G.3): so a second probe makes
 * the interval narrower unless it tells that the air is worse than was thought.
 */
import { student95 } from './student.ts';

/** What is known of a place beside what its probes say now. */
export interface Evenness {
  /** Standard deviation from spot to spot, K, humidity going along at constant relative humidity. */
  spotK: number;
  /** For how many degrees of freedom that counts. */
  degrees: number;
  /** ∂W/∂t at constant relative humidity, 1/K; 0 where no humidity is known. */
  wPerK: number;
  /**
   * True where the place was walked along, and what its probes differ from its mean is taken off:
   * `spotK` is then what is left of it, in all of them alike.
   */
  walked: boolean;
}

/** Of a normal distribution, 95 %. */
const K95 = 1.96;

/** Degrees of freedom that n probes of these weights bring: those of n_e = 1/Σw² equal ones. */
export function degreesOf(sumOfSquares: number): number {
  return 1 / sumOfSquares - 1;
}

/**
 * By what factor the standard uncertainty of a place's mean is larger than the spots' deviation,
 * widened so that 1.96 of it is Student's 95 % of so many degrees of freedom.
 * @param sumOfSquares Σw² of the probes' weights, which add up to 1
 */
export function ofMean(sumOfSquares: number, degrees: number, walked: boolean): number {
  // Of whole degrees, but for what their sum was rounded by.
  return (Math.sqrt(walked ? 1 : sumOfSquares) * student95(degrees + 1e-9)) / K95;
}

/**
 * Pools what was known with what is seen: the variance of the spots.
 * @param known variance that was known, for `knownDegrees`
 * @param seen variance among the probes, their own errors taken off, for `seenDegrees`
 */
export function pooled(
  known: number,
  knownDegrees: number,
  seen: number,
  seenDegrees: number,
): number {
  return (knownDegrees * known + seenDegrees * Math.max(0, seen)) / (knownDegrees + seenDegrees);
}
