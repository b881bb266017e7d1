/** What a reading may hold: of use where a whole schema is too much. */
import type { Reading } from '../../adapters/contract.ts';

/** The quantities of a reading, in the order in which they are looked at. */
export const QUANTITIES = [
  'temperatureC',
  'humidityPct',
  'dewPointC',
  'velocityMs',
  'pressurePa',
  'powerW',
  'batteryPct',
] as const;

/** A reading without the fields that a sender may have put beside ours: what is recorded. */
export function knownFields(reading: Reading): Reading {
  const { type, t: time, probe } = reading;
  const known: Reading = { type, t: time, probe };
  for (const quantity of QUANTITIES) {
    const value = reading[quantity];
    if (value !== undefined) known[quantity] = value;
  }
  return known;
}
