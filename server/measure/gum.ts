/**
 * Uncertainty in general, by the Guide to the expression of uncertainty in measurement: statements on
 * a data sheet, propagation (JCGM 100:2008), and a 95 % interval that knows the shape of what it is
 * made of (checked against the distributions of JCGM 101:2008).
 */

/** Excess kurtosis of a rectangular distribution; of a normal one it is 0, of an arcsine −1.5. */
export const RECTANGULAR = -1.2;
export const NORMAL = 0;
export const ARCSINE = -1.5;

/** One input quantity: its standard uncertainty, and the shape of its distribution. */
export interface Uncertain {
  u: number;
  /** Excess kurtosis. */
  shape: number;
}

/** A data-sheet ±: a rectangular distribution (4.3.7), or with `k` an expanded uncertainty (4.3.3). */
export function statement(plusMinus: number, k?: number): Uncertain {
  return k === undefined
    ? { u: plusMinus / Math.sqrt(3), shape: RECTANGULAR }
    : { u: plusMinus / k, shape: NORMAL };
}

/** A digital indication of step `resolution` (F.2.2.1). */
export function resolutionOf(resolution: number): Uncertain {
  return { u: resolution / Math.sqrt(12), shape: RECTANGULAR };
}

/**
 * Combined standard uncertainty (5.1.2, 5.2.2).
 * @param sensitivities ∂f/∂x_i
 * @param us standard uncertainties
 * @param correlation r(x_i, x_j) for i < j; none: all are independent
 */
export function propagate(
  sensitivities: readonly number[],
  us: readonly number[],
  correlation?: (i: number, j: number) => number,
): number {
  const parts = sensitivities.map((c, i) => c * (us[i] ?? NaN));
  let sum = 0;
  parts.forEach((a, i) => {
    sum += a * a;
    if (correlation === undefined) return;
    for (let j = i + 1; j < parts.length; j++) sum += 2 * a * (parts[j] ?? NaN) * correlation(i, j);
  });
  return Math.sqrt(Math.max(0, sum));
}

/** Effective degrees of freedom (G.4.1); `parts` are |c_i| u_i, infinite ν_i count as none. */
export function effectiveDegrees(parts: readonly number[], degrees: readonly number[]): number {
  let square = 0;
  let fourth = 0;
  parts.forEach((a, i) => {
    square += a * a;
    fourth += a ** 4 / (degrees[i] ?? Infinity);
  });
  return (square * square) / fourth;
}

/**
 * Factor by which a standard uncertainty becomes the half-width of 95 %, for a symmetric sum of
 * independent parts whose excess kurtosis is `shape`.
 *
 * The GUM's 1.96 holds for a normal distribution. One rectangular part that outweighs the rest makes
 * the sum nearly rectangular, and the true factor 1.65 (JCGM 101, 9.2.3 and 9.2.4). Between, the
 * factor is read off sums of two rectangular distributions of unequal width (a trapezium, whose
 * factor is exact) down to −0.6, two equal ones, and a straight line from there to the normal.
 */
export function coverageFactor95(shape: number): number {
  if (shape >= 0) return 1.96;
  if (shape >= -0.6) return 1.96 + (shape / 0.6) * (1.96 - TRIANGLE);
  return trapezium(Math.max(shape, RECTANGULAR));
}
/** Two equal rectangular parts: √6 (1 − √0.05). */
const TRIANGLE = Math.sqrt(6) * (1 - Math.sqrt(0.05));

/** The factor of a trapezium, the sum of rectangular parts of half-widths 1 and b, by its kurtosis. */
function trapezium(shape: number): number {
  // κ = −1.2 (1 + b⁴)/(1 + b²)²  →  with q = b²: (1 + q²)/(1 + q)² = −κ/1.2 = g
  const g = -shape / 1.2;
  if (g >= 1) return 0.95 * Math.sqrt(3);
  const q = (g - Math.sqrt(2 * g - 1)) / (1 - g);
  const b = Math.sqrt(q);
  const u = Math.sqrt((1 + q) / 3);
  // Its density is flat (1/2) to 1 − b and falls linearly to 0 at 1 + b. Either 95 % lies within the
  // flat part, or 2.5 % is a triangle's tip: (1 + b − x)²/(8 b) = 0.025.
  const half = 0.95 <= 1 - b ? 0.95 : 1 + b - Math.sqrt(0.2 * b);
  return half / u;
}

/** Excess kurtosis of a sum of independent parts, given |c_i| u_i and shape of each. */
export function shapeOfSum(parts: Iterable<Uncertain>): number {
  let square = 0;
  let fourth = 0;
  for (const { u, shape } of parts) {
    square += u * u;
    fourth += shape * u ** 4;
  }
  return square === 0 ? 0 : fourth / (square * square);
}

/** Half-width of the 95 % interval of a sum of independent parts. */
export function halfWidth95(parts: readonly Uncertain[]): number {
  let square = 0;
  for (const { u } of parts) square += u * u;
  return coverageFactor95(shapeOfSum(parts)) * Math.sqrt(square);
}
