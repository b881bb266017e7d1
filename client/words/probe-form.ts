/** The form of one probe: its name, where it hangs, how exact it is. */
import type { Place } from './probes.ts';
import { t } from '../../server/words/language.ts';

export const PROBE_FORM = {
  title: (probe: string): string => t`Probe ${probe}`,
  name: t`Name`,
  place: t`Place`,
  newUnit: t`a new one`,
  newUnitName: t`Its name`,
  temperature: (sign: string): string =>
    t`Temperature accuracy on its data sheet,\u00a0±\u00a0${sign}`,
  humidity: t`Humidity accuracy on its data sheet,\u00a0±\u00a0%\u00a0RH`,
  forRecord: t`For the record`,
  serial: t`Serial number`,
  calibrated: t`Last calibration`,
};

/** What its fields are called in a sentence. */
export const PROBE_FIELDS = {
  name: t`The name`,
  temperature: t`The temperature accuracy`,
  humidity: t`The humidity accuracy`,
  calibrated: t`The last calibration`,
};

/** Where it can hang, with what that means. */
export const PLACES: [Place, string][] = [
  ['return', t`return: air going in`],
  ['supply', t`supply: air coming out`],
  ['outlet', t`outlet: velocity`],
  ['room', t`room: air away from the unit`],
  ['outdoor', t`outdoor`],
];
