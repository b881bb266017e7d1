/** What the report says beside what the page says too (server/words): American trade English, no figures. */
import type { VisitSetup } from '../protocol.ts';

export const TITLE = 'Commissioning record';
export const SIMULATED = 'SIMULATED';
export const SIMULATED_SENTENCE =
  'Simulated readings: no unit was measured. This record shows how one looks, and proves nothing.';
export const UNTITLED = 'Untitled visit';
export const NO_UNIT = 'No unit was set up in this visit, so it has no figures.';
export const NO_CAPTURE =
  'Nothing was captured for this unit. Without a capture of a steady figure there is no result.';
export const NO_COURSE = 'No chart: there was never a figure.';
export const NO_AIRFLOW = 'No airflow was given, so there is no capacity.';
export const NO_INTERVAL =
  'This figure has no ±: the accuracy of a probe or of the airflow was not entered.';
export const NO_WARNINGS = 'None at the time of the capture.';
export const NO_VERDICT =
  'No verdict: what the unit should deliver was not entered, or the outdoor air is not known.';

export const HEADINGS = {
  verdict: 'Verdict',
  course: 'Capacity over time',
  air: 'Air through the unit',
  airflow: 'Airflow',
  budget: 'What the ± is made of',
  probes: 'Probes and checks',
  captures: 'Captures',
  assumed: 'How it was worked out',
  warnings: 'Warnings',
  causes: 'What to look at',
  cautions: 'Cautions',
  signed: 'Signed',
} as const;

export const PRESSURE_FROM = {
  entered: 'entered by hand',
  probe: 'read by a probe',
  altitude: 'from the altitude',
  assumed: 'assumed, as nobody entered one',
} as const satisfies Record<VisitSetup['pressureSource'], string>;

export const EVENNESS_FROM = {
  assumed: 'assumed',
  entered: 'entered by hand',
  walked: 'found by a walk',
} as const;

export const PLACES = {
  return: 'return',
  supply: 'supply',
  outlet: 'outlet',
  room: 'room',
  outdoor: 'outdoors',
} as const;

export const METHOD = [
  'Air-enthalpy method: airflow times the difference in enthalpy between return and supply. It follows the shape of ANSI/ASHRAE 37; a field measurement is no rating test.',
  'Each ± is half of a 95\u202f% interval, by the Guide to the expression of uncertainty in measurement (JCGM 100).',
];
export const STEADY_BY = {
  field: 'Steady by the field test: the mean holds still within its own scatter.',
  strict: 'Steady by the strict test: 30 minutes within the limits of ANSI/ASHRAE 37 in shape.',
} as const satisfies Record<VisitSetup['steadyTest'], string>;

export const CAUTIONS = [
  'This record tells what the air showed while it was measured. It does not certify the installation, its safety, or what the unit will deliver in other weather.',
  'Before anyone reaches into the unit, power is off, locked out and proven dead, and the blower wheel stands still. Ladders stand firm, and somebody holds them where the ground is poor.',
  'Work on live parts and on the refrigerant circuit is for licensed people. The manufacturer’s instructions and local codes come before anything said here.',
];
export const SIGNATURES = ['Technician', 'Customer', 'Date'];
