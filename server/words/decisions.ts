/** What a trainee can decide that it is, in words. */
import type { Decision } from '../class/decisions.ts';
import { t } from './language.ts';

/** In the order in which they are offered. */
export const DECISION_WORDS: Readonly<Record<Decision, string>> = {
  nothing: t`Nothing is wrong`,
  'not-asked': t`It is not asked for all it has`,
  filter: t`The filter is loaded`,
  wheel: t`The blower wheel is dirty`,
  coil: t`The indoor coil is dirty`,
  'other-heads': t`Other heads take their share`,
  charge: t`The refrigerant charge is low`,
  recirculation: t`The return draws supply air`,
  'uneven-outlet': t`The probe’s spot is not the outlet’s mean`,
  'fan-by-itself': t`The fan changes its speed by itself`,
  reheat: t`It dries the air and warms it again`,
  cycling: t`It cycles: average over whole cycles`,
  defrost: t`It defrosts: wait until it is over`,
  altitude: t`The air is thin at this altitude`,
  'wet-probe': t`The supply probe is wet`,
  'swapped-probes': t`Return and supply probes are swapped`,
  'drifting-probe': t`A probe drifts`,
  'wrong-airflow': t`The airflow entered is not this unit’s`,
};
