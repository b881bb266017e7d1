/** How often the causes that are named are those that are there. */
import type { CauseCode } from '../../server/measure/expectation/causes-table.ts';
import type { CapacityFault } from '../../simulator/faults.ts';
import { drawnFault, faultVisit, type VisitOptions } from './fault-visits.ts';

/** What each fault is called among the causes. */
const CAUSE_OF: Readonly<Record<CapacityFault, CauseCode>> = {
  ...{ 'dirty-wheel': 'wheel', 'clogged-filter': 'filter', 'dirty-coil': 'coil' },
  ...{ 'low-charge': 'charge', 'other-heads': 'other-heads', 'turned-down': 'not-asked' },
  ...{ recirculation: 'recirculation', 'uneven-outlet': 'uneven-outlet' },
};

export interface Tally {
  visits: number;
  /** The true cause is the first, among the first two. */
  first: number;
  firstTwo: number;
  /** Nothing was named, or there was no evidence. */
  silent: number;
}

/** So many visits with a fault of a kind, or of healthy units (null). */
export function tally(
  kind: CapacityFault | null,
  visits: number,
  options: Omit<VisitOptions, 'fault'>,
  fromSeed = 0,
): Tally {
  const sum: Tally = { visits, first: 0, firstTwo: 0, silent: 0 };
  for (let seed = fromSeed; seed < fromSeed + visits; seed++) {
    const fault = kind === null ? null : drawnFault(kind, seed);
    const named = faultVisit({ fault, ...options }, seed) ?? [];
    if (named.length === 0) sum.silent++;
    const at = kind === null ? -1 : named.indexOf(CAUSE_OF[kind]);
    if (at === 0) sum.first++;
    if (at === 0 || at === 1) sum.firstTwo++;
  }
  return sum;
}
