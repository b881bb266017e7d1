/**
 * A straight line through points by least squares, with the covariance of its two parameters: without
 * it the uncertainty of a predicted value comes out wrong (JCGM 100:2008, H.3).
 */

/** y = intercept + slope (x − x0). */
export interface Line {
  /** Where the intercept holds. */
  x0: number;
  intercept: number;
  slope: number;
  /** Standard uncertainties, and the covariance of the two. */
  uIntercept: number;
  uSlope: number;
  covariance: number;
  /** Sum of squared residuals, each over its u² where that is given. */
  residual: number;
}

/**
 * Fits it.
 * @param x taken as exact
 * @param x0 where the intercept is wanted
 * @param u standard uncertainties of the y, independent: they weigh the points, and the line's
 *   uncertainty comes from them, so that two points are enough. Without them it comes from the
 *   scatter about the line (n − 2 degrees of freedom).
 * @throws RangeError for fewer points than that takes, or all at the same x
 */
export function fitLine(
  x: readonly number[],
  y: readonly number[],
  x0 = 0,
  u?: readonly number[],
): Line {
  const n = x.length;
  const least = u === undefined ? 3 : 2;
  if (n < least) throw new RangeError(`A line takes at least ${least} points, not ${n}.`);
  const weight = x.map((_, i) => 1 / (u?.[i] ?? 1) ** 2);
  let sum = 0;
  let meanX = 0;
  let meanY = 0;
  weight.forEach((w, i) => {
    sum += w;
    meanX += w * (x[i] ?? NaN);
    meanY += w * (y[i] ?? NaN);
  });
  meanX /= sum;
  meanY /= sum;
  // About the means: the products stay small, and the means are independent of the slope.
  let xx = 0;
  let xy = 0;
  weight.forEach((w, i) => {
    const dx = (x[i] ?? NaN) - meanX;
    xx += w * dx * dx;
    xy += w * dx * ((y[i] ?? NaN) - meanY);
  });
  if (xx === 0) throw new RangeError('All points of a line are at the same x.');
  const slope = xy / xx;
  const residual = weight.reduce(
    (s, w, i) => s + w * ((y[i] ?? NaN) - meanY - slope * ((x[i] ?? NaN) - meanX)) ** 2,
    0,
  );
  const scale = u === undefined ? residual / (n - 2) : 1;
  const away = x0 - meanX;
  return {
    x0,
    intercept: meanY + slope * away,
    slope,
    uIntercept: Math.sqrt(scale * (1 / sum + (away * away) / xx)),
    uSlope: Math.sqrt(scale / xx),
    covariance: (scale * away) / xx,
    residual,
  };
}

/** The line's value at `x`, with its standard uncertainty. */
export function predict(line: Line, x: number): { y: number; u: number } {
  const dx = x - line.x0;
  const square = line.uIntercept ** 2 + 2 * dx * line.covariance + (dx * line.uSlope) ** 2;
  return { y: line.intercept + line.slope * dx, u: Math.sqrt(Math.max(0, square)) };
}
