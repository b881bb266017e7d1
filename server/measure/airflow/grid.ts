/** The flow of an opening that was traversed point by point, and the map of its velocities. */
import { NORMAL, statement } from '../gum.ts';
import { type Anemometer, densityFactor } from './anemometer.ts';
import { errorsOf, type MeasuredFlow, ofDegrees } from './flow-error.ts';
import { areaM2, type Outlet, type Section } from './outlet.ts';
import { type EdgeRule, pointsRule } from './ends.ts';
import { pointsOn, positions, type Rule } from './positions.ts';
import { commonErrors, USUAL_HEAD_M } from './sweep.ts';

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
  let edges = 0;
  const { headM } = anemometer;
  outlet.sections.forEach((section, i) => {
    const own = points.filter((p) => p.section === i);
    const area = areaM2(section);
    open += area;
    const { factor: held, u } = edgesOf(section, own, rule, headM ?? USUAL_HEAD_M);
    // Of a head of which nobody has said the size nothing is corrected: it is part of the error.
    edges += area * (headM === null ? Math.hypot(u, 1 - held) : u);
    const mean = own.length === 0 ? all : meanOf(own);
    sum += area * mean * (headM === null ? 1 : held);
    if (own.length === 0) missing += area;
    for (const { uMs } of own) turbulence += ((area * uMs) / own.length) ** 2;
  });
  const mean = sum / open;
  const variation = points.length < 2 ? UNSEEN_VARIATION : deviation(points, all) / Math.abs(all);
  const perLine = points.length / new Set(points.map((p) => `${p.section} ${p.row}`)).size;
  const field = Math.hypot(
    (RULE_ERROR * variation) / Math.max(1, perLine),
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
        ['ends', { ...statement(1), u: edges / open }, `ends ${outletId}`],
        ['points', ofDegrees(field, RULE_DEGREES), `field ${outletId}`],
        ['scatter', { u: Math.sqrt(turbulence) / (open * Math.abs(mean)), shape: NORMAL }, null],
      ]),
    ],
  };
}

/** Points and head before the edges of a section. */
function edgesOf(
  { lengthM, widthM }: Section,
  points: readonly PointVelocity[],
  rule: Rule,
  headM: number,
): { factor: number; u: number } {
  const side = (sideM: number, isLong: boolean, of: (p: PointVelocity) => number): EdgeRule => {
    const known = positions(rule, pointsOn(rule, sideM, isLong));
    const at = points.length === 0 ? known : points.map((p) => known[of(p)] ?? 0.5);
    return pointsRule(at, headM, sideM);
  };
  const along = side(lengthM, lengthM >= widthM, (p) => p.column);
  const across = side(widthM, widthM > lengthM, (p) => p.row);
  return {
    factor: along.factor * across.factor,
    u: Math.hypot(along.error.u, across.error.u),
  };
}

const meanOf = (points: readonly PointVelocity[]): number =>
  points.reduce((sum, p) => sum + p.meanMs, 0) / points.length;

const deviation = (points: readonly PointVelocity[], mean: number): number =>
  Math.sqrt(points.reduce((sum, p) => sum + (p.meanMs - mean) ** 2, 0) / (points.length - 1));
