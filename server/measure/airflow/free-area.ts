/**
 * The free-area factor of an outlet from reference flows: Q = f × (velocity × gross area), a line
 * through the origin with errors in both. Reference flows must be independent of the anemometer: known
 * heat, condensate, a hood; a fan table may be compared but not fitted, it would hide the fouling that
 * is looked for.
 */
import { student95 } from '../student.ts';

/** One reference flow and what the traverse says without the factor, m³/s, with standard uncertainties. */
export interface FactorPoint {
  reference: number;
  referenceU: number;
  traverse: number;
  traverseU: number;
}

export interface FactorFit {
  factor: number;
  /** Standard uncertainty, and half-width of 95 %. */
  u: number;
  u95: number;
  /** Each point's distance from the line over its standard uncertainty. */
  residuals: readonly number[];
  /** The index of a point that does not belong to the others; null: none. */
  outlier: number | null;
}

/** A point so many standard uncertainties off the line of the others is named. */
const OUTLIER = 3;

/**
 * Least squares with uncertainty in both (minimum of Σ (y − f x)²/(u_y² + f² u_x²)). The factor's
 * uncertainty comes from those of the points; where they scatter by more than these say, from that.
 * @throws RangeError without a point, or for one that is not positive
 */
export function fitFactor(points: readonly FactorPoint[]): FactorFit {
  if (points.length === 0) throw new RangeError('A factor takes at least one reference flow.');
  if (points.some((p) => !(p.reference > 0) || !(p.traverse > 0))) {
    throw new RangeError('A reference flow and its traverse are above zero.');
  }
  const factor = minimum(points);
  // Curvature of χ²/2 at the minimum, by the points' effective weights.
  const curvature = points.reduce((sum, p) => {
    const { x, variance } = adjusted(p, factor);
    return sum + (x * x) / variance;
  }, 0);
  const n = points.length;
  const scatter = n > 1 ? chiSquare(points, factor) / (n - 1) : 0;
  const own = 1 / Math.sqrt(curvature);
  const u = own * Math.sqrt(Math.max(1, scatter));
  const u95 = Math.max(1.96 * own, n > 1 ? own * Math.sqrt(scatter) * student95(n - 1) : 0);
  const residuals = points.map((p) => {
    return (p.reference - factor * p.traverse) / Math.hypot(p.referenceU, factor * p.traverseU);
  });
  return { factor, u, u95, residuals, outlier: n < 3 ? null : outlierOf(points) };
}

/** The point with the traverse adjusted toward the line, as the fit sees it. */
function adjusted(p: FactorPoint, f: number): { x: number; variance: number } {
  const variance = p.referenceU ** 2 + (f * p.traverseU) ** 2;
  const x = p.traverse + (f * p.traverseU ** 2 * (p.reference - f * p.traverse)) / variance;
  return { x, variance };
}

function chiSquare(points: readonly FactorPoint[], f: number): number {
  return points.reduce(
    (sum, p) =>
      sum + (p.reference - f * p.traverse) ** 2 / (p.referenceU ** 2 + (f * p.traverseU) ** 2),
    0,
  );
}

/** The f of the least χ²: f = Σ x̂ y w / Σ x̂ x w, iterated (York's form of a line through the origin). */
function minimum(points: readonly FactorPoint[]): number {
  const sum = (g: (p: FactorPoint) => number): number => points.reduce((s, p) => s + g(p), 0);
  let f = sum((p) => p.reference) / sum((p) => p.traverse);
  for (let i = 0; i < 100; i++) {
    const at = f;
    const w = (p: FactorPoint): { x: number; w: number } => {
      const { x, variance } = adjusted(p, at);
      return { x, w: 1 / variance };
    };
    const next =
      sum((p) => w(p).w * w(p).x * p.reference) / sum((p) => w(p).w * w(p).x * p.traverse);
    if (Math.abs(next - f) < 1e-12 * f) return next;
    f = next;
  }
  return f;
}

/** The one that is farthest from the line of all others, where that is far. */
function outlierOf(points: readonly FactorPoint[]): number | null {
  let found: number | null = null;
  let most = OUTLIER;
  points.forEach((p, i) => {
    const others = points.filter((_, j) => j !== i);
    const f = minimum(others);
    const fU =
      1 /
      Math.sqrt(others.reduce((s, o) => s + adjusted(o, f).x ** 2 / adjusted(o, f).variance, 0));
    const off =
      Math.abs(p.reference - f * p.traverse) /
      Math.hypot(p.referenceU, f * p.traverseU, fU * p.traverse);
    if (off > most) {
      most = off;
      found = i;
    }
  });
  return found;
}
