/** Which doubts say why a figure is missing: they stand beneath it, the others in the list. */
import type { UnitSnapshot } from '../../server/protocol.ts';

type Doubt = UnitSnapshot['doubts'][number];

/** Doubts that leave no total. */
const NO_TOTAL = new Set([
  'return-missing',
  'supply-missing',
  'probe-stale',
  'humidity-missing',
  'airflow-missing',
  'check-running',
  'air-impossible',
]);
/** Doubts that leave a total without an interval. */
const NO_INTERVAL = new Set(['limits-unknown']);

/** Why something is missing, and what to do about it (empty: only to wait). */
export type Reason = Pick<Doubt, 'code' | 'text' | 'remedy'>;

export interface Reasons {
  /** Why the total, or its interval, is missing: none where nothing is. */
  missing: Reason[];
  /** What else is to be doubted. */
  others: Doubt[];
}

/** Sorts the doubts of a snapshot by whether they explain a missing figure. */
export function reasonsOf(unit: UnitSnapshot): Reasons {
  const { totalW, totalU95W } = unit.capacity;
  if (totalW !== null && totalU95W !== null) return { missing: [], others: unit.doubts };
  const explains = totalW === null ? NO_TOTAL : NO_INTERVAL;
  const missing = unit.doubts.filter((doubt) => explains.has(doubt.code));
  const others = unit.doubts.filter((doubt) => !explains.has(doubt.code));
  if (missing.length > 0) return { missing, others };
  const text =
    totalW === null ? 'There are not enough readings yet.' : 'Its interval is not known yet.';
  return { missing: [{ code: 'waiting', text, remedy: '' }], others };
}
