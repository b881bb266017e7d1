/** The flow of an opening that was traversed point by point, and the map of its velocities. */
import { NORMAL } from '../gum.ts';
import { type Anemometer, densityFactor } from './anemometer.ts';
import { errorsOf, type MeasuredFlow, ofDegrees } from './flow-error.ts';
import { areaM2, type Outlet } from './outlet.ts';
import type { Rule } from './positions.ts';
import { commonErrors } from './sweep.ts';

/** The settled mean at one point. */
export interface PointVelocity {
  section: number;
  row: number;
  column: number;
  meanMs: number;
  /** Standard uncertainty of that mean by turbulence, m/s. */
  uMs: number;
}

export interface GridFlow extends MeasuredFlow {
  velocityMs: number;
  /** Standard deviation of the points over their mean: the coefficient of variation. */
  variation: number;
}

/**
 * What the rule's sum may be off the field's integral: so much of the points' coefficient of variation
 * over the number of points along the slot (a standard uncertainty; an assumption, tried in the bench
 * over jets off center, power profiles and dead ends).
 */
const RULE_ERROR = 0.8;
const RULE_DEGREES = 8;

/** Means that are fewer than two points tell nothing of: a coefficient of variation is taken, not seen. */
const UNSEEN_VARIATION = 0.2;

/**
 * Works it out. Sections without a point count as the mean of the others.
 * @throws RangeError without any point
 */
export function gridFlow(
  outlet: Outlet,
  outletId: string,
  points: readonly PointVelocity[],
  anemometer: Anemometer,
  densityKgM3: number,
  rule: Rule,
): GridFlow {
  if (points.length === 0) throw new RangeError('A grid has at least one point.');
  const { factor } = densityFactor(anemometer.kind, densityKgM3);
  const all = meanOf(points);
  let open = 0;
  let sum = 0;
  let turbulence = 0;
  let missing = 0;
  outlet.sections.forEach((section, i) => {
    const own = points.filter((p) => p.section === i);
    const area = areaM2(section);
    open += area;
    sum += area * (own.length === 0 ? all : meanOf(own));
    if (own.length === 0) missing += area;
    for (const { uMs } of own) turbulence += ((area * uMs) / own.length) ** 2;
  });
  const mean = sum / open;
  const variation = points.length < 2 ? UNSEEN_VARIATION : deviation(points, all) / Math.abs(all);
  const perLine = points.length / new Set(points.map((p) => `${p.section} ${p.row}`)).size;
  const share = rule === 'equal-area' ? RULE_ERROR : RULE_ERROR;
  const field = Math.hypot(
    (share * variation) / Math.max(1, perLine),
    (variation * missing) / open,
  );
  const velocityMs = mean * factor;
  return {
    flowM3s: velocityMs * open * outlet.freeArea,
    velocityMs,
    variation,
    errors: [
      ...commonErrors(outlet, outletId, anemometer, velocityMs, densityKgM3),
      ...errorsOf([
        ['points', ofDegrees(field, RULE_DEGREES), `field ${outletId}`],
        ['scatter', { u: Math.sqrt(turbulence) / (open * Math.abs(mean)), shape: NORMAL }, null],
      ]),
    ],
  };
}

const meanOf = (points: readonly PointVelocity[]): number =>
  points.reduce((sum, p) => sum + p.meanMs, 0) / points.length;

const deviation = (points: readonly PointVelocity[], mean: number): number =>
  Math.sqrt(points.reduce((sum, p) => sum + (p.meanMs - mean) ** 2, 0) / (points.length - 1));
