/** What a trainee can decide that it is: the answers of a lesson. Their words stand in server/words/decisions.ts. */
import type { FaultKind } from '../../simulator/faults.ts';
import type { CauseCode } from '../measure/expectation/causes-table.ts';

/** Causes of a verdict, by the verdict's own codes. `probes` is told apart below. */
const CAUSES = [
  'not-asked',
  'filter',
  'wheel',
  'coil',
  'other-heads',
  'charge',
  'recirculation',
  'uneven-outlet',
] as const satisfies readonly CauseCode[];

export const DECISIONS = [
  'nothing',
  ...CAUSES,
  // What it does by itself, and where it stands.
  'fan-by-itself',
  'reheat',
  'cycling',
  'defrost',
  'altitude',
  // What is wrong with the measurement.
  'wet-probe',
  'swapped-probes',
  'drifting-probe',
  'wrong-airflow',
] as const;
export type Decision = (typeof DECISIONS)[number];

/** The answer that is right where a fault is the matter. */
export const DECISION_OF: Readonly<Record<FaultKind, Decision>> = {
  'dirty-wheel': 'wheel',
  'clogged-filter': 'filter',
  'dirty-coil': 'coil',
  'low-charge': 'charge',
  'other-heads': 'other-heads',
  'turned-down': 'not-asked',
  recirculation: 'recirculation',
  'uneven-outlet': 'uneven-outlet',
  'fan-on-auto': 'fan-by-itself',
  reheat: 'reheat',
  cycling: 'cycling',
  frost: 'defrost',
  'wet-probe': 'wet-probe',
  'drifting-probe': 'drifting-probe',
  'swapped-probes': 'swapped-probes',
};
