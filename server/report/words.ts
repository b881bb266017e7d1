/** What the report says beside what the page says too (server/words): American trade English, no figures. */
import type { VisitSetup } from '../protocol.ts';
import { t } from '../words/language.ts';

export const TITLE = t`Commissioning record`;
export const SIMULATED = t`SIMULATED`;
export const SIMULATED_SENTENCE = t`Simulated readings: no unit was measured. This record shows how one looks, and proves nothing.`;
export const UNTITLED = t`Untitled visit`;
export const NO_UNIT = t`No unit was set up in this visit, so it has no figures.`;
export const NO_CAPTURE = t`Nothing was captured for this unit. Without a capture of a steady figure there is no result.`;
export const NO_COURSE = t`No chart: there was never a figure.`;
export const NO_AIRFLOW = t`No airflow was given, so there is no capacity.`;
export const NO_INTERVAL = t`This figure has no ±: the accuracy of a probe or of the airflow was not entered.`;
export const NO_WARNINGS = t`None at the time of the capture.`;
export const NO_VERDICT = t`No verdict: what the unit should deliver was not entered, or the outdoor air is not known.`;

export const HEADINGS = {
  verdict: t`Verdict`,
  course: t`Capacity over time`,
  air: t`Air through the unit`,
  airflow: t`Airflow`,
  budget: t`What the ± is made of`,
  probes: t`Probes and checks`,
  captures: t`Captures`,
  assumed: t`How it was worked out`,
  warnings: t`Warnings`,
  causes: t`What to look at`,
  cautions: t`Cautions`,
  signed: t`Signed`,
} as const;

export const PRESSURE_FROM = {
  entered: t`entered by hand`,
  probe: t`read by a probe`,
  altitude: t`from the altitude`,
  assumed: t`assumed, as nobody entered one`,
} as const satisfies Record<VisitSetup['pressureSource'], string>;

export const EVENNESS_FROM = {
  assumed: t`assumed`,
  entered: t`entered by hand`,
  walked: t`found by a walk`,
} as const;

export const PLACES = {
  return: t`return`,
  supply: t`supply`,
  outlet: t`outlet`,
  room: t`room`,
  outdoor: t`outdoors`,
} as const;

export const METHOD = [
  t`Air-enthalpy method: airflow times the difference in enthalpy between return and supply. It follows the shape of ANSI/ASHRAE 37; a field measurement is no rating test.`,
  t`Each ± is half of a 95\u202f% interval, by the Guide to the expression of uncertainty in measurement (JCGM 100).`,
];
export const STEADY_BY = {
  field: t`Steady by the field test: the mean holds still within its own scatter.`,
  strict: t`Steady by the strict test: 30 minutes within the limits of ANSI/ASHRAE 37 in shape.`,
} as const satisfies Record<VisitSetup['steadyTest'], string>;

export const CAUTIONS = [
  t`This record tells what the air showed while it was measured. It does not certify the installation, its safety, or what the unit will deliver in other weather.`,
  t`Before anyone reaches into the unit, power is off, locked out and proven dead, and the blower wheel stands still. Ladders stand firm, and somebody holds them where the ground is poor.`,
  t`Work on live parts and on the refrigerant circuit is for licensed people. The manufacturer’s instructions and local codes come before anything said here.`,
];
export const SIGNATURES = [t`Technician`, t`Customer`, t`Date`];
