/**
 * Measured against expected: the probability that the unit delivers at least a stated part of what it
 * should, from the joint distribution of both, and what would make that surer.
 *
 * A return probe that reads wrong moves both: the heat that is measured, and the indoor condition that
 * the expectation is read at. Such an error counts once, with what is left of it in the difference
 * (JCGM 100:2008, F.1.2.3).
 */
import type { BudgetItem } from '../budget-inputs.ts';
import type { Mode } from '../capacity.ts';
import { saturationHumidityRatio, stateFromHumidityRatio } from '../moist-air.ts';
import { probabilityAbove, type Verdict, verdictOf, type Grounds } from './conformance.ts';
import type { Expected } from './published.ts';
import type { Share } from './shared-heads.ts';

/** One error of a measured total: what one standard uncertainty of it does, W (signed). */
export type TotalError = Pick<BudgetItem, 'kind' | 'of' | 'totalW'>;

export interface Measured {
  totalW: number;
  errors: readonly TotalError[];
  /** Standard uncertainty of the mean by its scatter, W. */
  scatterW: number;
  /** Flow of dry air, kg/s. */
  dryAirKgs: number;
  /** The probes in the return air, by their ids. */
  returnProbes: readonly string[];
}

/** What a person can do to be surer. */
export const ACTIONS = ['check', 'walk', 'traverse', 'outdoor-probe', 'table', 'wait'] as const;
export type Action = (typeof ACTIONS)[number];

/** Where one of them would lead, if the figure stays as it is. */
export interface Prospect {
  action: Action;
  ratioU95: number;
  verdict: Verdict;
}

export interface Judged {
  /** Measured over expected, with half of its 95 % interval. */
  ratio: number;
  ratioU95: number;
  /** Standard uncertainty of what is expected, W: with that of the conditions it is read at. */
  expectedU: number;
  probability: number;
  verdict: Verdict;
  /** Those that would narrow the interval much, the best first. */
  prospects: Prospect[];
}

/** What an action leaves of the errors that it goes for: a usual result, not a promise. */
const LEFT: Record<Action, number> = {
  check: 0.3,
  walk: 0.4,
  traverse: 0.5,
  'outdoor-probe': 0.15,
  table: 0.35,
  wait: 0.6,
};
/** After a traverse the flow is known to this part, standard uncertainty: it is not made better than that. */
const TRAVERSED = 0.025;
/** An action that narrows the interval by less is not worth the trouble. */
const WORTH_IT = 0.07;
const K95 = 1.96;
/** Over so much the slope of an enthalpy is taken, K. */
const STEP_K = 0.25;

/** What one error does to measured less `limit` times expected, and to expected alone. */
interface Part {
  u: number;
  action: Action | null;
}

/** The air at which the expectation is read. */
export interface ReadAt {
  /** Standard uncertainty of the outdoor temperature, K. */
  outdoorU: number;
  /** The indoor temperature that counts (wet bulb in cooling), °C. */
  indoorC: number;
  pPa: number;
}

/**
 * @param expected at the conditions as they were measured
 * @param share what is left of it where heads share
 * @param limit the part of it that has to be reached
 * @param done what a person has done already, and is not advised to do again
 */
export function judge(
  mode: Mode,
  measured: Measured,
  expected: Expected,
  share: Share,
  { outdoorU, indoorC, pPa }: ReadAt,
  limit: number,
  isFullDemand: boolean,
  done: readonly Action[] = [],
): Judged {
  const followsW = share.limited ? 0 : perMeasuredW(mode, measured, expected, indoorC, pPa);
  const outdoorW = share.limited ? 0 : Math.abs(expected.perOutdoorK) * outdoorU;
  const ownAction: Action | null = expected.by === 'curve' && !share.limited ? 'table' : null;
  const moves = (e: TotalError): number => (isOfReturn(e, measured.returnProbes) ? followsW : 0);
  const sum = (left: (part: Part) => number, weigh: number): number =>
    Math.hypot(
      ...measured.errors.map((e) => {
        const part = { u: e.totalW * (1 - weigh * moves(e)), action: actionFor(e) };
        return part.u * left(part);
      }),
      measured.scatterW * left({ u: measured.scatterW, action: 'wait' }),
      weigh * share.u * left({ u: share.u, action: ownAction }),
      weigh * outdoorW * left({ u: outdoorW, action: 'outdoor-probe' }),
    );
  const floorOf: Partial<Record<Action, number>> = { traverse: TRAVERSED * measured.totalW };
  const grounds: Grounds = { isFullDemand, isAtMost: share.atMost };
  const ratio = measured.totalW / share.totalW;
  const after = (action: Action | null): Prospect & { probability: number } => {
    const left = (part: Part): number => {
      if (action === null || part.action !== action) return 1;
      const floor = (floorOf[action] ?? 0) / Math.abs(part.u);
      return Math.min(1, Math.max(LEFT[action], floor));
    };
    const u = sum(left, limit);
    const probability = probabilityAbove(measured.totalW - limit * share.totalW, u, 0);
    return {
      action: action ?? 'wait',
      ratioU95: (K95 * sum(left, ratio)) / share.totalW,
      probability,
      verdict: verdictOf(probability, grounds),
    };
  };
  const now = after(null);
  const errorsOfExpected = measured.errors.map((e) => e.totalW * moves(e));
  return {
    ratio,
    ratioU95: now.ratioU95,
    expectedU: Math.hypot(share.u, outdoorW, ...errorsOfExpected),
    probability: now.probability,
    verdict: now.verdict,
    prospects: ACTIONS.filter((action) => !done.includes(action))
      .map((action) => after(action))
      .filter(({ ratioU95 }) => ratioU95 <= (1 - WORTH_IT) * now.ratioU95)
      .sort((a, b) => a.ratioU95 - b.ratioU95)
      .map(({ action, ratioU95, verdict }) => ({ action, ratioU95, verdict })),
  };
}

function isOfReturn({ kind, of }: TotalError, returnProbes: readonly string[]): boolean {
  if (kind === 'spread') return of === 'return';
  return (kind === 'temperature' || kind === 'humidity') && returnProbes.includes(of ?? '');
}

function actionFor({ kind }: TotalError): Action | null {
  switch (kind) {
    case 'temperature':
    case 'humidity':
      return 'check';
    case 'spread':
      return 'walk';
    case 'airflow':
      return 'traverse';
    case 'scatter':
      return 'wait';
    case 'pressure':
    case 'common-temperature':
    case 'common-humidity':
    case 'zero':
      return null;
  }
}

/**
 * What the expectation moves where an error of the return air moves the measured total by 1 W. In cooling
 * both go with the wet bulb, at which moist air has nearly one enthalpy; in heating with the dry bulb.
 */
function perMeasuredW(
  mode: Mode,
  { dryAirKgs }: Measured,
  { perIndoorK }: Expected,
  indoorC: number,
  pPa: number,
): number {
  if (!(dryAirKgs > 0)) return 0;

  if (mode === 'heating') {
    const { enthalpyJkg: high } = stateFromHumidityRatio(indoorC + STEP_K, 0, pPa);
    const { enthalpyJkg: low } = stateFromHumidityRatio(indoorC - STEP_K, 0, pPa);
    return -perIndoorK / ((dryAirKgs * (high - low)) / (2 * STEP_K));
  }
  const saturated = (tC: number): number =>
    stateFromHumidityRatio(tC, saturationHumidityRatio(tC, pPa), pPa).enthalpyJkg;
  const perK = (saturated(indoorC + STEP_K) - saturated(indoorC - STEP_K)) / (2 * STEP_K);
  return perIndoorK / (dryAirKgs * perK);
}
