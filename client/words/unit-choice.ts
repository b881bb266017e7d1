/** The units that a person can read in, by what they are of. */
import { t } from '../../server/words/language.ts';

export const UNIT_CHOICES = [
  {
    quantity: 'temperature',
    name: t`Temperature in`,
    options: [
      ['C', '°C'],
      ['F', '°F'],
    ],
  },
  {
    quantity: 'flow',
    name: t`Airflow in`,
    options: [
      ['m3h', 'm³/h'],
      ['cfm', 'cfm'],
    ],
  },
  {
    quantity: 'power',
    name: t`Power in`,
    options: [
      ['kW', 'kW'],
      ['Btuh', 'Btu/h'],
    ],
  },
] as const;
