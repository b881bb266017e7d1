/** Which doubts say why a figure is missing: they stand beneath it, the others in the list. */
import type { Check, UnitSnapshot } from '../../server/protocol.ts';
import { t } from '../../server/words/language.ts';

type Doubt = UnitSnapshot['doubts'][number];

/** Doubts that leave no total. */
const NO_TOTAL = new Set([
  'return-missing',
  'supply-missing',
  'probe-stale',
  'humidity-missing',
  'airflow-missing',
  'check-running',
  'walk-running',
  'air-impossible',
]);
/** Doubts that leave a total without an interval. */
const NO_INTERVAL = new Set(['limits-unknown']);

/**
 * Doubts with which a figure is right as it stands: those of most visits, whose cost the interval holds as
 * far as anyone knows, and those that say what the figure is of.
 */
const STANDING = new Set([
  ...['check-missing', 'check-old', 'airflow-not-measured'],
  ...['supply-single', 'return-single', 'humidity-range', 'humidity-saturated'],
  ...['reheat', 'other-head', 'outlet-no-velocity'],
]);
/** Doubts about humidity, of which a heating figure has no need. */
const OF_HUMIDITY = new Set(['humidity-disagrees', 'humidity-missing', 'probe-wet']);

/** Whether a doubt stands against writing a figure down. */
const isAgainst = (code: string, mode: UnitSnapshot['mode']): boolean =>
  !STANDING.has(code) && !(mode === 'heating' && OF_HUMIDITY.has(code));

/** Whether a steady figure can be written down as it is: with an interval, and nothing to mend first. */
export const isWritable = ({ capacity, doubts, mode }: UnitSnapshot): boolean =>
  capacity.totalW !== null &&
  capacity.totalU95W !== null &&
  !doubts.some(({ code }) => isAgainst(code, mode));

/**
 * The first of the doubts in the list that stands against writing a figure down; null where there is
 * none, and where its interval is missing: why that is stands beside it.
 */
export function firstAgainst({ capacity, doubts, mode }: UnitSnapshot): Doubt | null {
  if (capacity.totalW === null || capacity.totalU95W === null) return null;
  return worthTelling(doubts).find(({ code }) => isAgainst(code, mode)) ?? null;
}

/** Below this a figure is as good as none where no interval says what nothing is, W. */
const NOTHING_W = 50;

/** Whether a unit is off, or as good as: it has a figure, which cannot be told from none. */
export const isIdle = ({ settling, capacity: { totalW, totalU95W } }: UnitSnapshot): boolean =>
  settling.state === 'waiting' && totalW !== null && Math.abs(totalW) <= (totalU95W ?? NOTHING_W);

/** Whether a situation of this code is among what is said of a unit. */
export const isIn = ({ doubts }: UnitSnapshot, situation: string): boolean =>
  doubts.some(({ code }) => code === situation);

/** What is said of an idle unit. */
const IDLE = t`Too little output to measure. Waiting for the unit to start.`;
/** What is said of one that is not waiting to start, by the situation that it is in. */
const NOT_IDLE: readonly (readonly [string, string])[] = [
  ['probes-differ', t`Probes at one place disagree. Fix that first.`],
  ['coil-drying', t`The fan runs and the coil dries: its water goes back into the air.`],
];

/** What is said of a unit that waits, null where it is only too early. */
export const waitingWords = (unit: UnitSnapshot): string | null =>
  NOT_IDLE.find(([code]) => isIn(unit, code))?.[1] ?? (isIdle(unit) ? IDLE : null);

/** Why something is missing, and what to do about it (empty: only to wait). */
export type Reason = Pick<Doubt, 'code' | 'text' | 'remedy'>;

/** Whether probes of the unit lie together in a side-by-side check. */
export const isChecking = (doubts: readonly Doubt[]): boolean =>
  doubts.some(({ code }) => code === 'check-running');

/** Whether ending a check now would leave the readings as they are. */
export const tooEarly = ({ verdict }: Check): boolean =>
  verdict === 'listening' || verdict === 'moving';

/** Doubts worth telling: probes that lie in a check are not missed at their places. */
export const worthTelling = (doubts: Doubt[]): Doubt[] =>
  isChecking(doubts) ? doubts.filter(({ code }) => !code.endsWith('-missing')) : doubts;

export interface Reasons {
  /** Why the total, or its interval, is missing: none where nothing is. */
  missing: Reason[];
  /** What else is to be doubted. */
  others: Doubt[];
}

/** Sorts the doubts of a snapshot by whether they explain a missing figure. */
export function reasonsOf(unit: UnitSnapshot): Reasons {
  const { totalW, totalU95W } = unit.capacity;
  const doubts = worthTelling(unit.doubts);
  if (totalW !== null && totalU95W !== null) return { missing: [], others: doubts };
  const explains = totalW === null ? NO_TOTAL : NO_INTERVAL;
  const missing = doubts.filter((doubt) => explains.has(doubt.code));
  const others = doubts.filter((doubt) => !explains.has(doubt.code));
  if (missing.length > 0) return { missing, others };
  const text = totalW === null ? t`Not enough readings yet.` : t`The ± is not known yet.`;
  return { missing: [{ code: 'waiting', text, remedy: '' }], others };
}
