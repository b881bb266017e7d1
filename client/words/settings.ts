/** The settings of the visit. */
import type { VisitSetup } from '../../server/protocol.ts';

export const SETTINGS_FORM = {
  title: 'Visit settings',
  visitTitle: 'Title',
  unitName: (number: number, units: number): string =>
    units === 1 ? 'Name of the indoor unit' : `Name of indoor unit ${number}`,
  mode: 'What the units are doing',
  cooling: 'cooling',
  heating: 'heating',
  pressure: (sign: string): string => `Barometric pressure at the site, ${sign}`,
  altitude: (sign: string): string => `Or the altitude, ${sign}`,

  steadyTest: 'Test for steady',
  field: 'field',
  strict: 'strict',
  capture: 'Capture automatically',
};

/** What its fields are called in a sentence. */
export const SETTINGS_FIELDS = {
  title: 'The title',
  pressure: 'The barometric pressure',
  altitude: 'The altitude',
};

const PRESSURE_FROM: Record<VisitSetup['pressureSource'], string> = {
  entered: 'as entered',
  probe: 'from a probe',
  altitude: 'from the altitude',
  assumed: 'assumed: sea level',
};

/** @param pressure with its unit */
export const pressureWords = (pressure: string, source: VisitSetup['pressureSource']): string =>
  `In use: ${pressure}, ${PRESSURE_FROM[source]}. Enter what a barometer reads at the site, not the ` +
  'sea-level figure of a weather report.';

/** @param field what it is called in a sentence */
export const notTakenAway = (field: string): string =>
  `${field} cannot be taken away again. Enter another, or cancel.`;
