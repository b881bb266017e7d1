/** What a trainee can decide that it is: the answers of a lesson. Their words stand in server/words/decisions.ts. */
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
