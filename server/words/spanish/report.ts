/** Report, in Spanish. */
import type { Catalog } from '../language.ts';

export const REPORT: Catalog = {
  // server/report/air-part.ts
  'Dry bulb': '',
  'Relative humidity': '',
  'Wet bulb': '',
  'Dew point': '',
  'Humidity ratio': '',
  'Outdoors not measured': '',
  'Outdoors {0}': '',
  'pressure {0}': '',
  // server/report/airflow-part.ts
  Method: '',
  At: '',
  Velocity: '',
  Used: '',
  yes: '',
  no: '',
  ', {0} on the mean': '',
  '; from point to point it varies by {0}': '',
  'Velocity over the opening at {0} points, {1} to {2}{3}{4}. Darker is faster.': '',
  // server/report/course-part.ts
  'Total capacity in {0} from {1} to {2}, with its 95\u202f% interval. ': '',
  'No captures.': '',
  'Captures are marked 1 to {0}.': '',
  // server/report/draw/pdf.ts
  'Page {0} of {1}': '',
  // server/report/record-part.ts
  'Last side-by-side check, ended at {0}: {1}': '',
  'No probe hangs here.': '',
  Probe: '',
  Accuracy: '',
  'Side-by-side check': '',
  'Serial, calibrated': '',
  'not corrected': '',
  'corrected by {0}': '',
  Mean: '',
  ' Baseline.': '',
  ' Struck out: {0}.': '',
  ' Struck out.': '',
  'Barometric pressure {0}, {1}.': '',
  'How much the air differs from spot to spot, of the difference between return and supply: {0}, {1}.':
    '',
  // server/report/report-of.ts
  '{0}, {1}. Visit {2}': '',
  Site: '',
  Source: '',
  'a visit log that was taken in': '',
  // server/report/unit-part.ts
  'nominal {0}': '',
  'Total heating capacity': '',
  'Total cooling capacity': '',
  'Mean {0}.': '',
  ' Note: {0}': '',
  '{0} Expected: {1} at {2}.': '',
  '{0}, alone {1}': '',
  // server/report/words.ts
  'Commissioning record': '',
  SIMULATED: '',
  'Simulated readings: no unit was measured. This record shows how one looks, and proves nothing.':
    '',
  'Nothing was captured for this unit. Without a capture of a steady figure there is no result.':
    '',
  'No airflow was given, so there is no capacity.': '',
  'This figure has no ±: the accuracy of a probe or of the airflow was not entered.': '',
  'None at the time of the capture.': '',
  'No verdict: what the unit should deliver was not entered, or the outdoor air is not known.': '',
  'Capacity over time': '',
  'Air through the unit': '',
  'What the ± is made of': '',
  'Probes and checks': '',
  'How it was worked out': '',
  Warnings: '',
  Cautions: '',
  Signed: '',
  'read by a probe': '',
  'assumed, as nobody entered one': '',
  assumed: '',
  'found by a walk': '',
  outdoors: '',
  'Air-enthalpy method: airflow times the difference in enthalpy between return and supply. It follows the shape of ANSI/ASHRAE 37; a field measurement is no rating test.':
    '',
  'Each ± is half of a 95\u202f% interval, by the Guide to the expression of uncertainty in measurement (JCGM 100).':
    '',
  'Steady by the field test: the mean holds still within its own scatter.': '',
  'Steady by the strict test: 30 minutes within the limits of ANSI/ASHRAE 37 in shape.': '',
  'This record tells what the air showed while it was measured. It does not certify the installation, its safety, or what the unit will deliver in other weather.':
    '',
  'Before anyone reaches into the unit, power is off, locked out and proven dead, and the blower wheel stands still. Ladders stand firm, and somebody holds them where the ground is poor.':
    '',
  'Work on live parts and on the refrigerant circuit is for licensed people. The manufacturer’s instructions and local codes come before anything said here.':
    '',
  Date: '',
};
