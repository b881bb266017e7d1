/**
 * What to look at where a unit does not deliver what it should: causes in order of how well they explain the
 * evidence. Never a diagnosis.
 *
 * Of each cause, and of a unit that is healthy, causes-table.ts says what each item of the evidence would be,
 * by the size of the fault. An item counts by the normal density of what was measured about that, with both
 * its uncertainty and the spread of units. Sizes between the smallest and the largest count alike, and so do
 * causes. A cause is named only where it explains the evidence much better than a healthy unit does.
 */
import {
  CAUSES,
  type CauseCode,
  type CauseRow,
  type Expects,
  HEALTHY_ROW,
  HEALTHY_SEEN,
  type Likelihoods,
  SAYS,
  SEEN_SAYS,
} from './causes-table.ts';
import {
  type Evidence,
  type Item,
  MEASURED_ITEMS,
  type MeasuredItem,
  type Seen,
} from './evidence.ts';

/** An item that speaks for a cause, or against it. */
export interface Sign {
  item: MeasuredItem | keyof Seen;
  /** Null of what was seen. */
  value: number | null;
  /** Half of its 95 % interval. */
  u95: number | null;
  text: string;
}

export interface LikelyCause {
  code: CauseCode;
  /** Against all other causes and a healthy unit, 0 to 1: for the order, not as a fact. */
  weight: number;
  name: string;
  look: string;
  caution: string;
  source: string;
  /** The strongest first. */
  for: Sign[];
  against: Sign[];
}

/** Sizes of a fault, from just worth naming (0) to as bad as it gets (1). */
const SIZES = [0, 0.2, 0.4, 0.6, 0.8, 1];
/** A cause is named where it explains the evidence so many times better than a healthy unit … */
const BETTER = 4;
/** … and has at least this part of the weight of the likeliest. No more than so many are named. */
const PART = 0.08;
const MOST = 3;
/** A sign is told from this likelihood ratio on. */
const TELLS = Math.log(1.6);
/** Nothing is so sure that a wilder value could not come: an item counts for no more than this. */
const MOST_LOG = 12;

const ITEMS_SEEN = ['fullDemand', 'otherHeads', 'cycling', 'coil', 'filter', 'probes'] as const;
const isCode = (key: string): key is CauseCode => Object.hasOwn(CAUSES, key);
const CODES = Object.keys(CAUSES).filter(isCode);

/** The likely causes, the likeliest first; none where a healthy unit explains the evidence as well. */
export function likelyCauses(evidence: Evidence): LikelyCause[] {
  const healthy = logLikelihood(evidence, HEALTHY, 0);
  const all = CODES.map((code) => ({ code, log: explained(evidence, CAUSES[code]) }));
  const most = Math.max(healthy, ...all.map(({ log }) => log));
  const sum = all.reduce((s, { log }) => s + Math.exp(log - most), Math.exp(healthy - most));
  const best = Math.max(...all.map(({ log }) => log));
  return all
    .filter(({ log }) => log - healthy >= Math.log(BETTER) && log - best >= Math.log(PART))
    .toSorted((a, b) => b.log - a.log)
    .slice(0, MOST)
    .map(({ code, log }) => {
      const { name, look, caution, source } = CAUSES[code];
      return {
        ...{ code, weight: Math.exp(log - most) / sum, name, look, caution, source },
        ...signs(evidence, CAUSES[code]),
      };
    });
}

const HEALTHY: Pick<CauseRow, 'expects' | 'seen'> = { expects: HEALTHY_ROW, seen: HEALTHY_SEEN };

/** The mean likelihood over the sizes, as a logarithm. */
function explained(evidence: Evidence, cause: CauseRow): number {
  const logs = SIZES.map((size) => logLikelihood(evidence, cause, size));
  const most = Math.max(...logs);
  return most + Math.log(logs.reduce((sum, x) => sum + Math.exp(x - most), 0) / SIZES.length);
}

type Shape = Pick<CauseRow, 'expects' | 'seen'>;

function logLikelihood({ measured, seen, isFlowMeasured }: Evidence, cause: Shape, size: number) {
  let sum = 0;
  for (const item of MEASURED_ITEMS) {
    const is = measured[item];
    if (is !== null) sum += logOf(is, expected(cause, item, size, isFlowMeasured));
  }
  for (const item of ITEMS_SEEN) sum += logSeen(seen, cause, item);
  return sum;
}

/** What an item would be at a size of a fault. */
function expected(
  { expects }: Shape,
  item: MeasuredItem,
  size: number,
  isFlowMeasured: boolean,
): { value: number; spread: number } {
  const at = ([small, large, spread]: Expects): { value: number; spread: number } => ({
    value: small + size * (large - small),
    spread,
  });
  const own = at(expects[item] ?? HEALTHY_ROW[item]);
  if (item !== 'capacityRatio' || isFlowMeasured) return own;
  // The figure was worked out with the flow that should be: where less moves, it is too high by that.
  const flow = at(expects.airflowRatio ?? HEALTHY_ROW.airflowRatio);
  return { value: own.value / flow.value, spread: Math.hypot(own.spread, flow.spread) };
}

function logOf({ value, u }: Item, is: { value: number; spread: number }): number {
  const sigma = Math.hypot(u, is.spread);
  return Math.max(-(((value - is.value) / sigma) ** 2) / 2, -MOST_LOG) - Math.log(sigma);
}

function logSeen<K extends keyof Seen>(seen: Seen, cause: Shape, item: K): number {
  const value = seen[item];
  if (value === null) return 0;
  const likelihoods: Likelihoods[K] = cause.seen[item] ?? HEALTHY_SEEN[item];
  return Math.log(likelihoods[value]);
}

/** What speaks for a cause, and against it, when the unit may as well be healthy. */
function signs(evidence: Evidence, cause: CauseRow): { for: Sign[]; against: Sign[] } {
  const { measured, seen, isFlowMeasured } = evidence;
  const size = SIZES.toSorted(
    (a, b) => logLikelihood(evidence, cause, b) - logLikelihood(evidence, cause, a),
  )[0];
  const all: { sign: Sign; log: number }[] = [];
  for (const item of MEASURED_ITEMS) {
    const is = measured[item];
    if (is === null) continue;
    const log =
      logOf(is, expected(cause, item, size ?? 0, isFlowMeasured)) -
      logOf(is, expected(HEALTHY, item, 0, isFlowMeasured));
    const u95 = 1.96 * is.u;
    all.push({ sign: { item, value: is.value, u95, text: SAYS[item](is.value, u95) }, log });
  }
  for (const item of ITEMS_SEEN) {
    const text = seenText(seen, item);
    if (text === null) continue;
    const log = logSeen(seen, cause, item) - logSeen(seen, HEALTHY, item);
    all.push({ sign: { item, value: null, u95: null, text }, log });
  }
  const told = (direction: number): Sign[] =>
    all
      .filter(({ log }) => direction * log >= TELLS)
      .toSorted((a, b) => direction * (b.log - a.log))
      .map(({ sign }) => sign);
  return { for: told(1), against: told(-1) };
}

function seenText<K extends keyof Seen>(seen: Seen, item: K): string | null {
  const value = seen[item];
  return value === null ? null : SEEN_SAYS[item][value];
}
