/** The form of one probe: its name, where it hangs, how exact it is. */
import type { Place } from './probes.ts';

export const PROBE_FORM = {
  title: (probe: string): string => `Probe ${probe}`,
  name: 'Name',
  place: 'Place',
  newUnit: 'a new one',
  newUnitName: 'Its name',
  temperature: (sign: string): string =>
    `Temperature accuracy on its data sheet,\u00a0±\u00a0${sign}`,
  humidity: 'Humidity accuracy on its data sheet,\u00a0±\u00a0%\u00a0RH',
  forRecord: 'For the record',
  serial: 'Serial number',
  calibrated: 'Last calibration',
};

/** What its fields are called in a sentence. */
export const PROBE_FIELDS = {
  name: 'The name',
  temperature: 'The temperature accuracy',
  humidity: 'The humidity accuracy',
  calibrated: 'The last calibration',
};

/** Where it can hang, with what that means. */
export const PLACES: [Place, string][] = [
  ['return', 'return: air going in'],
  ['supply', 'supply: air coming out'],
  ['outlet', 'outlet: velocity'],
  ['room', 'room: air away from the unit'],
  ['outdoor', 'outdoor'],
];
