/**
 * What a unit should deliver at today's conditions, from what its maker publishes: a table over outdoor
 * temperature and indoor condition (wet bulb in cooling, dry bulb in heating), or a rated figure alone,
 * which an open curve then carries to other conditions as an estimate.
 */
import type { Mode } from '../capacity.ts';
import { statement, type Uncertain } from '../gum.ts';
import { factorOf, flowFactor } from './curves.ts';

export type Output = 'minimum' | 'rated' | 'maximum';

/** One published capacity. */
export interface PublishedPoint {
  speed: Output;
  outdoorC: number;
  /** Indoor dry bulb, and in cooling the wet bulb. */
  indoorC: number;
  indoorWetBulbC?: number | undefined;
  totalW: number;
  /** What the outdoor unit and its heads take then, W. */
  powerW?: number | undefined;
}

/** What a maker says of one unit in one mode. */
export interface Published {
  points: readonly PublishedPoint[];
  /** ± of the figures, %. */
  limitPct?: number | undefined;
  /** Whether the fan's heat is in the figures (net), and its watts where it is not. */
  net?: boolean | undefined;
  fanW?: number | undefined;
  /** The maker's factor for the length and height of these lines. */
  lineFactor?: number | undefined;
}

export interface Conditions {
  outdoorC: number;
  indoorC: number;
  /** Of the return air; null where no humidity is known. */
  indoorWetBulbC: number | null;
}

/** What should be delivered. */
export interface Expected {
  /** Net: with the fan's heat in it, as it is in the air that is measured. */
  totalW: number;
  /** Its own doubt as a part of it, at conditions that are known exactly. */
  relative: Uncertain;
  /** `table`: between published points. `curve`: a rated figure and an open curve: an estimate. */
  by: 'table' | 'curve';
  /** What 1 K outdoors, and 1 K of the indoor temperature that counts, do to it, W/K. */
  perOutdoorK: number;
  perIndoorK: number;
  /** What thinner air takes off, as a factor; 1 at sea level. */
  altitudeFactor: number;
  /** The power that is printed with it, W; null where none is, or no row lies on both sides. */
  powerW: { value: number; u: number } | null;
}

/** Why nothing can be said: no point, no humidity (cooling), or conditions outside what is known. */
export type NotExpected = 'nothing' | 'no-wet-bulb' | 'outside';

/** Points may be left by so much without a word, K: rounding of a published temperature. */
const SLACK_K = 0.6;
/** The open curves differ by 5 to 8 % among each other away from rating: ± so much, and more with distance. */
const CURVE_LIMIT = 0.1;
const CURVE_PER_K = 0.003;
/** How far the factor for altitude may be off, as a part of what it takes off: a single-speed curve. */
const ALTITUDE_DOUBT = 0.5;
/** Makers publish for sea level, Pa. */
const SEA_LEVEL_PA = 101_325;
/** Over so much the slope of a table is taken, K. */
const SLOPE_K = 0.5;

/**
 * What it should deliver.
 * @param pPa the site's pressure
 */
export function expectedAt(
  mode: Mode,
  published: Published,
  at: Conditions,
  pPa = SEA_LEVEL_PA,
): Expected | NotExpected {
  const points = strongest(published.points);
  const inside = mode === 'heating' ? at.indoorC : at.indoorWetBulbC;
  if (points.length === 0) return 'nothing';
  if (inside === null) return 'no-wet-bulb';
  const rows = points.flatMap((p) => rowOf(mode, p));
  const figure = (outdoor: number, indoor: number): Figure | null =>
    interpolated(rows, outdoor, indoor) ?? byCurve(mode, rows, outdoor, indoor);
  const here = figure(at.outdoorC, inside);
  if (here === null) return 'outside';
  const { limitPct = 0, net = true, fanW = 0, lineFactor = 1 } = published;
  const altitudeFactor = flowFactor(mode, pPa / SEA_LEVEL_PA);
  const factor = altitudeFactor * lineFactor;
  const doubts = [
    statement(limitPct / 100),
    statement(here.curveLimit),
    statement(ALTITUDE_DOUBT * Math.abs(1 - altitudeFactor)),
  ];
  const slope = (ofOutdoor: number, ofIndoor: number): number => {
    const up = figure(at.outdoorC + ofOutdoor, inside + ofIndoor) ?? here;
    const down = figure(at.outdoorC - ofOutdoor, inside - ofIndoor) ?? here;
    // Across the edge of a table another method takes over: its step is no slope.
    if (up.by !== down.by) return 0;
    const over = (up === here ? 0 : SLOPE_K) + (down === here ? 0 : SLOPE_K);
    return over === 0 ? 0 : (factor * (up.totalW - down.totalW)) / over;
  };
  // The fan's heat is in the air that is measured: a gross figure is turned into a net one.
  const fan = net ? 0 : mode === 'cooling' ? -fanW : fanW;
  const gross = factor * here.totalW;
  // A fan that gives off more than the unit takes away is a slip of the pen.
  if (!(gross + fan > 0)) return 'nothing';
  const u = Math.hypot(...doubts.map((each) => each.u));
  const largest = doubts.toSorted((a, b) => b.u - a.u)[0];
  return {
    totalW: gross + fan,
    relative: { u: (u * gross) / (gross + fan), shape: largest?.shape ?? 0 },
    by: here.by,
    perOutdoorK: slope(SLOPE_K, 0),
    perIndoorK: slope(0, SLOPE_K),
    altitudeFactor,
    powerW: powerAt(points, mode, at.outdoorC, inside, limitPct),
  };
}

/** The printed power, between the same rows. */
function powerAt(
  points: readonly PublishedPoint[],
  mode: Mode,
  outdoorC: number,
  indoorC: number,
  limitPct: number,
): { value: number; u: number } | null {
  const rows = points.flatMap((p) =>
    rowOf(mode, p).flatMap((row) => (p.powerW === undefined ? [] : [{ ...row, totalW: p.powerW }])),
  );
  const found = rows.length === 0 ? null : interpolated(rows, outdoorC, indoorC);
  return found && { value: found.totalW, u: statement(limitPct / 100).u * found.totalW };
}

/** Of a variable-speed unit what it gives at most is what a full demand asks for. */
function strongest(points: readonly PublishedPoint[]): readonly PublishedPoint[] {
  const of = (output: Output): PublishedPoint[] => points.filter((p) => p.speed === output);
  const maximum = of('maximum');
  return maximum.length > 0 ? maximum : of('rated');
}

/** A point by the temperatures that count; none where its wet bulb is missing. */
function rowOf(mode: Mode, p: PublishedPoint): Row[] {
  const indoor = mode === 'heating' ? p.indoorC : p.indoorWetBulbC;
  return indoor === undefined ? [] : [{ outdoor: p.outdoorC, indoor, totalW: p.totalW }];
}

interface Row {
  outdoor: number;
  indoor: number;
  totalW: number;
}

interface Figure {
  totalW: number;
  by: 'table' | 'curve';
  /** ± of the curve that carried it here, as a part of it. */
  curveLimit: number;
}

/** Bilinear between the published rows; null outside them. */
function interpolated(rows: readonly Row[], outdoor: number, indoor: number): Figure | null {
  const outdoors = [...new Set(rows.map((r) => r.outdoor))].sort((a, b) => a - b);
  const [low, high] = around(outdoors, outdoor);
  if (low === null || high === null) return null;
  const at = (x: number): number | null =>
    line(
      rows.filter((r) => r.outdoor === x),
      indoor,
    );
  const [atLow, atHigh] = [at(low), at(high)];
  if (atLow === null || atHigh === null) return null;
  const totalW = low === high ? atLow : mix(atLow, atHigh, clamped((outdoor - low) / (high - low)));
  return { totalW, by: 'table', curveLimit: 0 };
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
function byCurve(mode: Mode, rows: readonly Row[], outdoor: number, indoor: number): Figure | null {
  const here = factorOf(mode, outdoor, indoor);
  const far = (r: Row): number => Math.abs(r.outdoor - outdoor) + Math.abs(r.indoor - indoor);
  const nearest = rows.toSorted((a, b) => far(a) - far(b))[0];
  if (nearest === undefined || here === null) return null;
  const there = factorOf(mode, nearest.outdoor, nearest.indoor);
  if (there === null) return null;
  return {
    totalW: (nearest.totalW * here) / there,
    by: 'curve',
    curveLimit: CURVE_LIMIT + CURVE_PER_K * far(nearest),
  };
}
