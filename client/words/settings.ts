/** The settings of the visit. */
import type { VisitSetup } from '../../server/protocol.ts';
import { codeWord } from '../../server/words/names.ts';
import { t } from '../../server/words/language.ts';

export const SETTINGS_FORM = {
  title: t`Visit settings`,
  visitTitle: t`Title`,
  unitName: (number: number, units: number): string =>
    units === 1 ? t`Name of the indoor unit` : t`Name of indoor unit ${number}`,
  mode: t`What the units are doing`,
  cooling: codeWord('cooling'),
  heating: codeWord('heating'),
  pressure: (sign: string): string => t`Barometric pressure at the site, ${sign}`,
  altitude: (sign: string): string => t`Or the altitude, ${sign}`,

  steadyTest: t`Test for steady`,
  field: t`field`,
  strict: t`strict`,
  capture: t`Capture automatically`,
};

/** What its fields are called in a sentence. */
export const SETTINGS_FIELDS = {
  title: t`The title`,
  pressure: t`The barometric pressure`,
  altitude: t`The altitude`,
};

const PRESSURE_FROM: Record<VisitSetup['pressureSource'], string> = {
  entered: t`as entered`,
  probe: t`from a probe`,
  altitude: t`from the altitude`,
  assumed: t`assumed: sea level`,
};

/** @param pressure with its unit */
export const pressureWords = (pressure: string, source: VisitSetup['pressureSource']): string =>
  t`In use: ${pressure}, ${PRESSURE_FROM[source]}. Enter what a barometer reads at the site, not the sea-level figure of a weather report.`;

/** @param field what it is called in a sentence */
export const notTakenAway = (field: string): string =>
  t`${field} cannot be taken away again. Enter another, or cancel.`;
