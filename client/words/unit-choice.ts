/** The units that a person can read in, by what they are of. */

export const UNIT_CHOICES = [
  {
    quantity: 'temperature',
    name: 'Temperature in',
    options: [
      ['C', '°C'],
      ['F', '°F'],
    ],
  },
  {
    quantity: 'flow',
    name: 'Airflow in',
    options: [
      ['m3h', 'm³/h'],
      ['cfm', 'cfm'],
    ],
  },
  {
    quantity: 'power',
    name: 'Power in',
    options: [
      ['kW', 'kW'],
      ['Btuh', 'Btu/h'],
    ],
  },
] as const;
