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
  'air-impossible',
]);
/** Doubts that leave a total without an interval. */
const NO_INTERVAL = new Set(['limits-unknown']);

export interface Reasons {
  /** Why the total, or its interval, is missing: sentences, none where nothing is missing. */
  missing: string[];
  /** What else is to be doubted. */
  others: Doubt[];
}

/** Sorts the doubts of a snapshot by whether they explain a missing figure. */
export function reasonsOf(unit: UnitSnapshot): Reasons {
  const { totalW, totalU95W } = unit.capacity;
  if (totalW !== null && totalU95W !== null) return { missing: [], others: unit.doubts };
  const explains = totalW === null ? NO_TOTAL : NO_INTERVAL;
  const missing = unit.doubts.filter((doubt) => explains.has(doubt.code)).map(({ text }) => text);
  const others = unit.doubts.filter((doubt) => !explains.has(doubt.code));
  if (missing.length > 0) return { missing, others };
  const unexplained =
    totalW === null ? 'There are not enough readings yet.' : 'Its interval is not known yet.';
  return { missing: [unexplained], others };
}
