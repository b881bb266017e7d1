/**
 * What a unit should deliver at today's conditions, from what its maker publishes: a table over outdoor
 * temperature and indoor condition (wet bulb in cooling, dry bulb in heating), or a rated figure alone,
 * which an open curve then carries to other conditions as an estimate.
 */
import { statement, type Uncertain } from '../gum.ts';
import type { Mode } from '../capacity.ts';

export type Output = 'minimum' | 'rated' | 'maximum';

/** One published capacity. */
export interface PublishedPoint {
  speed: Output;
  outdoorC: number;
  /** Indoor dry bulb, and in cooling the wet bulb. */
  indoorC: number;
  indoorWetBulbC?: number | undefined;
  totalW: number;
}

export interface Conditions {
  outdoorC: number;
  indoorC: number;
  /** Of the return air; null where no humidity is known. */
  indoorWetBulbC: number | null;
}

/** What should be delivered. */
export interface Expected {
  totalW: number;
  /** As a part of it. */
  relative: Uncertain;
  /** `table`: between published points. `curve`: a rated figure and an open curve: an estimate. */
  by: 'table' | 'curve';
}

/** Points may be left by so much without a word, K: rounding of a published temperature. */
const SLACK_K = 0.6;
/** The open curves differ by 5 to 8 % among each other away from rating: ± so much, and more with distance. */
const CURVE_LIMIT = 0.1;
const CURVE_PER_K = 0.003;

/** The indoor temperature that the capacity goes with. */
const indoorOf = (mode: Mode, indoorC: number, wetBulbC?: number | null): number | null =>
  mode === 'heating' ? indoorC : (wetBulbC ?? null);

/**
 * What it should deliver.
 * @param limitPct ± of the published figures
 * @returns null where that cannot be said: no point, or conditions outside what is published and where the
 *   curve holds
 */
export function expectedAt(
  mode: Mode,
  points: readonly PublishedPoint[],
  at: Conditions,
  limitPct = 0,
): Expected | null {
  const best = strongest(points);
  const inside = indoorOf(mode, at.indoorC, at.indoorWetBulbC);
  if (best.length === 0 || inside === null) return null;
  const own = statement(limitPct / 100);
  const rows = best.flatMap((p) => {
    const indoor = indoorOf(mode, p.indoorC, p.indoorWetBulbC);
    return indoor === null ? [] : [{ outdoor: p.outdoorC, indoor, totalW: p.totalW }];
  });
  const between = interpolated(rows, at.outdoorC, inside);
  if (between !== null) return { totalW: between, relative: own, by: 'table' };
  return byCurve(mode, rows, at.outdoorC, inside, own);
}

/** Of a variable-speed unit what it gives at most is what a full demand asks for. */
function strongest(points: readonly PublishedPoint[]): readonly PublishedPoint[] {
  const of = (output: Output): PublishedPoint[] => points.filter((p) => p.speed === output);
  const maximum = of('maximum');
  return maximum.length > 0 ? maximum : of('rated');
}

interface Row {
  outdoor: number;
  indoor: number;
  totalW: number;
}

/** Bilinear between the published rows; null outside them. */
function interpolated(rows: readonly Row[], outdoor: number, indoor: number): number | null {
  const outdoors = [...new Set(rows.map((r) => r.outdoor))].sort((a, b) => a - b);
  const [low, high] = around(outdoors, outdoor);
  if (low === null || high === null) return null;
  const atLow = line(
    rows.filter((r) => r.outdoor === low),
    indoor,
  );
  const atHigh = line(
    rows.filter((r) => r.outdoor === high),
    indoor,
  );
  if (atLow === null || atHigh === null) return null;
  return low === high ? atLow : mix(atLow, atHigh, clamped((outdoor - low) / (high - low)));
}

function line(rows: readonly Row[], indoor: number): number | null {
  const known = rows.map((r) => r.indoor).sort((a, b) => a - b);
  const [low, high] = around(known, indoor);
  const of = (x: number | null): number | null => rows.find((r) => r.indoor === x)?.totalW ?? null;
  const [a, b] = [of(low), of(high)];
  if (low === null || high === null || a === null || b === null) return null;
  return low === high ? a : mix(a, b, clamped((indoor - low) / (high - low)));
}

const mix = (a: number, b: number, part: number): number => a + (b - a) * part;
const clamped = (part: number): number => Math.min(1, Math.max(0, part));

/** The two neighbors; the same twice where it is one of them, or within the slack beyond the last. */
function around(sorted: readonly number[], x: number): [number | null, number | null] {
  const below = sorted.findLast((each) => each <= x) ?? null;
  const above = sorted.find((each) => each >= x) ?? null;
  const near = (each: number | null): number | null =>
    each !== null && Math.abs(each - x) <= SLACK_K ? each : null;
  if (below !== null && above !== null) return [below, above];
  const last = near(below ?? above);
  return [last, last];
}

/** From the published row that lies nearest, by the open curve; null outside where that holds. */
function byCurve(
  mode: Mode,
  rows: readonly Row[],
  outdoor: number,
  indoor: number,
  own: Uncertain,
): Expected | null {
  const factor = mode === 'cooling' ? coolingFactor : heatingFactor;
  const here = factor(outdoor, indoor);
  const far = (r: Row): number => Math.abs(r.outdoor - outdoor) + Math.abs(r.indoor - indoor);
  const nearest = rows.toSorted((a, b) => far(a) - far(b))[0];
  if (nearest === undefined || here === null) return null;
  const there = factor(nearest.outdoor, nearest.indoor);
  if (there === null) return null;
  const curve = statement(CURVE_LIMIT + CURVE_PER_K * far(nearest));
  return {
    totalW: (nearest.totalW * here) / there,
    relative: { u: Math.hypot(own.u, curve.u), shape: curve.shape },
    by: 'curve',
  };
}

/**
 * Total cooling capacity of ductless units against that at 19.44 °C wet bulb and 35 °C outdoors (curve of
 * NREL/TP-5500-56354 as collected in the references of the tests).
 * @returns null outside its limits: wet bulb 13.88 to 23.88 °C, outdoors 18.33 to 51.66 °C
 */
export function coolingFactor(outdoorC: number, wetBulbC: number): number | null {
  if (wetBulbC < 13.88 || wetBulbC > 23.88 || outdoorC < 18.33 || outdoorC > 51.66) return null;
  return (
    1.008993521905866 +
    0.006512749025457 * wetBulbC +
    0.003917565735935 * outdoorC -
    0.000222646705889 * outdoorC ** 2
  );
}

/** What is left at −15 °C of the capacity at 8.33 °C outdoors: a usual ductless unit. */
const LEFT = 0.62;
const LEFT_AT_C = -15;

/**
 * Heating capacity against that at 8.33 °C outdoors and 21.11 °C indoors; without a term for frost.
 * @returns null outside −25 to 20 °C outdoors and 15 to 27 °C indoors
 */
export function heatingFactor(outdoorC: number, indoorC: number): number | null {
  if (outdoorC < -25 || outdoorC > 20 || indoorC < 15 || indoorC > 27) return null;
  return (
    1 - ((8.33 - outdoorC) * (1 - LEFT)) / (8.33 - LEFT_AT_C) + 0.219274275 - 0.010386676 * indoorC
  );
}
