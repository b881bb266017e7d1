/** What a trainee can decide that it is, in words. */
import type { Decision } from '../class/decisions.ts';

/** In the order in which they are offered. */
export const DECISION_WORDS: Readonly<Record<Decision, string>> = {
  nothing: 'Nothing is wrong',
  'not-asked': 'It is not asked for all it has',
  filter: 'The filter is loaded',
  wheel: 'The blower wheel is dirty',
  coil: 'The indoor coil is dirty',
  'other-heads': 'Other heads take their share',
  charge: 'The refrigerant charge is low',
  recirculation: 'The return draws supply air',
  'uneven-outlet': 'The probe’s spot is not the outlet’s mean',
  'fan-by-itself': 'The fan changes its speed by itself',
  reheat: 'It dries the air and warms it again',
  cycling: 'It cycles: average over whole cycles',
  defrost: 'It defrosts: wait until it is over',
  altitude: 'The air is thin at this altitude',
  'wet-probe': 'The supply probe is wet',
  'swapped-probes': 'Return and supply probes are swapped',
  'drifting-probe': 'A probe drifts',
  'wrong-airflow': 'The airflow entered is not this unit’s',
};
