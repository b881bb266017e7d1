/**
 * The flow of an opening that was swept: in each section the mean over time, over the sections the mean
 * by area. Repeats tell how well a hand repeats itself.
 */
import { pooled } from '../evenness.ts';
import { NORMAL, RECTANGULAR, shapeOfSum, statement, type Uncertain } from '../gum.ts';
import {
  type Anemometer,
  densityFactor,
  readingError,
  SLOWEST_MS,
  WIDER_LIMIT,
} from './anemometer.ts';
import { type EdgeRule, endRule, sideRule } from './ends.ts';
import { errorsOf, type FlowError, type MeasuredFlow, ofDegrees } from './flow-error.ts';
import { areaM2, areaRelativeU, freeAreaLimit, type Outlet, type Section } from './outlet.ts';

/** What a sweep, or a grid's points, tells of one section. */
export interface SectionVelocity {
  /** Mean of the readings, m/s. */
  meanMs: number;
  /** Standard deviation of the readings, along the section and by turbulence, as a part of the mean. */
  variation: number;
}

/**
 * What a hand repeats one section to: this by the stream's turbulence in the time that a section takes,
 * and so much of the velocity's variation along it by the uneven pace (assumptions, tried in the bench:
 * streams with 5 to 20 % of turbulence; paces 10 to 30 % uneven).
 */
const HAND = 0.03;
const HAND_OF_VARIATION = 0.07;
/** That is known as well as from so many repeats more than one (an assumption, tried in the bench). */
const HAND_DEGREES = 8;

/** Standard deviation of sweeps of these sections about their mean, relative, before any was repeated. */
export function handScatter(sections: readonly SectionVelocity[]): number {
  const variation = sections.reduce((sum, s) => sum + s.variation, 0) / sections.length;
  return Math.hypot(HAND, HAND_OF_VARIATION * variation) / Math.sqrt(sections.length);
}

/**
 * A head that is narrower than the opening sees a line of it, and a hand draws about the same line each
 * time: so much of the velocity's variation no repeat shows. None of a head that fills the width.
 */
function sameWay(
  { sections }: Outlet,
  sweeps: readonly (readonly SectionVelocity[])[],
  headM: number,
): number {
  let square = 0;
  sections.forEach(({ lengthM, widthM }, i) => {
    const variation = sweeps.reduce((sum, s) => sum + (s[i]?.variation ?? 0), 0) / sweeps.length;
    const missed = 1 - Math.min(1, headM / Math.min(widthM, lengthM));
    square += (HAND_OF_VARIATION * variation * missed) ** 2;
  });
  return Math.sqrt(square) / sections.length;
}

/**
 * The plane's flow by one sweep before the anemometer's own factors, m³/s: Σ area × mean × edges. What
 * blocks a part of a section has been swept over as well, and was slow: its area is not taken off again.
 */
function rawFlow(
  outlet: Outlet,
  sections: readonly SectionVelocity[],
  headM: number | null,
): number {
  let flow = 0;
  outlet.sections.forEach((section, i) => {
    const { lengthM, widthM } = section;
    const factor =
      headM === null ? 1 : endRule(headM, lengthM).factor * sideRule(headM, widthM).factor;
    flow += lengthM * widthM * (sections[i]?.meanMs ?? NaN) * factor;
  });
  return flow * outlet.freeArea;
}

/** Names of the errors that flows through one outlet, or by one instrument, share. */
export const sharedNames = (outletId: string, anemometer: Anemometer) =>
  ({ area: `outlet ${outletId}`, instrument: `probe ${anemometer.id}` }) as const;

/**
 * The errors that sweeps and grids have alike: instrument, density, area, free area, a head wider than
 * the slot.
 */
export function commonErrors(
  outlet: Outlet,
  outletId: string,
  anemometer: Anemometer,
  velocityMs: number,
  densityKgM3: number,
): FlowError[] {
  const names = sharedNames(outletId, anemometer);
  const widths = outlet.sections.map(({ widthM, lengthM }) => Math.min(widthM, lengthM));
  const wider = anemometer.headM !== null && anemometer.headM > Math.min(...widths);
  return errorsOf([
    ['instrument', readingError(anemometer, Math.max(velocityMs, SLOWEST_MS)), names.instrument],
    ['density', densityFactor(anemometer.kind, densityKgM3).error, names.instrument],
    ['area', { u: areaRelativeU(outlet), shape: NORMAL }, names.area],
    ['free-area', statement(freeAreaLimit(outlet)), names.area],
    ['slot', statement(wider ? WIDER_LIMIT : 0), names.area],
  ]);
}

/** A sweep or several of them, worked out. */
export interface SweptFlow extends MeasuredFlow {
  /** Mean velocity over all sections, m/s, and of each. */
  velocityMs: number;
  /** Each sweep's own flow. */
  each: readonly number[];
  /** Two differ by more than a hand's repeats do: another one decides. */
  disagree: boolean;
}

/**
 * Works it out.
 * @param sweeps one or more whole sweeps, each with as many sections as the outlet
 * @param densityKgM3 of the moist air in the opening
 */
export function sweptFlow(
  outlet: Outlet,
  outletId: string,
  sweeps: readonly (readonly SectionVelocity[])[],
  anemometer: Anemometer,
  densityKgM3: number,
): SweptFlow {
  const { factor } = densityFactor(anemometer.kind, densityKgM3);
  const each = sweeps.map((s) => rawFlow(outlet, s, anemometer.headM) * factor);
  const n = each.length;
  const flowM3s = each.reduce((sum, q) => sum + q, 0) / n;
  const swept = outlet.sections.reduce((sum, s) => sum + s.lengthM * s.widthM, 0);
  const velocityMs = flowM3s / (swept * outlet.freeArea);
  const prior = Math.sqrt(sweeps.reduce((sum, s) => sum + handScatter(s) ** 2, 0) / n);
  const seen = n < 2 ? 0 : each.reduce((sum, q) => sum + (q / flowM3s - 1) ** 2, 0) / (n - 1);
  const single = Math.sqrt(pooled(prior ** 2, HAND_DEGREES, seen, n - 1));
  const way = sameWay(outlet, sweeps, anemometer.headM ?? USUAL_HEAD_M);
  const spread = (Math.max(...each) - Math.min(...each)) / flowM3s;
  return {
    flowM3s,
    velocityMs,
    each,
    disagree: n === 2 && spread > 1.96 * Math.SQRT2 * prior,
    errors: [
      ...commonErrors(outlet, outletId, anemometer, velocityMs, densityKgM3),
      ...errorsOf([
        ['ends', edges(outlet, anemometer.headM), `ends ${outletId}`],
        ['repeats', ofDegrees(single / Math.sqrt(n), HAND_DEGREES + n - 1), null],
        ['repeats', { u: way, shape: NORMAL }, `ends ${outletId}`],
      ]),
    ],
  };
}

/** A head of which nobody has said the size is taken for a usual one, 100 mm, in what edges may do. */
export const USUAL_HEAD_M = 0.1;

/**
 * Of all sections: whether their ends stand still is one question for all of them, whether their long
 * sides do is another.
 */
function edges(outlet: Outlet, headM: number | null): Uncertain {
  const total = outlet.sections.reduce((sum, s) => sum + areaM2(s), 0);
  const over = (of: (section: Section, headM: number) => EdgeRule): Uncertain => {
    const u = outlet.sections.reduce((sum, section) => {
      const { factor, error } = of(section, headM ?? USUAL_HEAD_M);
      // Of a head of which nobody has said the size nothing is corrected: it is part of the error.
      const off = headM === null ? Math.hypot(error.u, 1 - factor) : error.u;
      return sum + (areaM2(section) / total) * off;
    }, 0);
    return { u, shape: RECTANGULAR };
  };
  const both = [
    over(({ lengthM }, head) => endRule(head, lengthM)),
    over(({ widthM }, head) => sideRule(head, widthM)),
  ];
  return { u: Math.hypot(...both.map(({ u }) => u)), shape: shapeOfSum(both) };
}
