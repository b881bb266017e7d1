/** The report and the tables of a visit: on which paper, in which units, and what is said of making it. */
import type { Scales } from './scales.ts';
import { t } from '../../server/words/language.ts';

export const MAKE = t`Report (PDF)`;
export const MAKING = t`Making the report…`;
export const MADE = t`The report is in your downloads.`;
export const SHARE = t`Share the report`;
export const CAPTURES_CSV = t`Captures (CSV)`;
export const READINGS_CSV = t`Readings (CSV)`;
export const NO_ANSWER = t`The server did not answer, so there is no report. Nothing is lost; try again when the line is back.`;
export const NOT_SHARED = t`It could not be shared. It is in your downloads.`;

/** Why there is no report: what the server said, else its status. */
export const refusedWords = (status: number, said: string | null): string =>
  said ?? t`The server could not make the report (status ${status}). Try again in a moment.`;

/** The system of units that is nearer to what a person reads. */
export const reportUnits = ({ power }: Scales): 'si' | 'ip' =>
  power.sign === 'Btu/h' ? 'ip' : 'si';

/** Where US Letter is the ordinary paper (Unicode CLDR, measurement data; from memory). */
const LETTER: ReadonlySet<string> = new Set([
  ...['BZ', 'CA', 'CL', 'CO', 'CR', 'GT', 'MX'],
  ...['NI', 'PA', 'PH', 'PR', 'SV', 'US', 'VE'],
]);

/** @param language as a browser tells it, "en-US"; without a place the most likely one counts */
export function paperOf(language: string): 'letter' | 'a4' {
  try {
    const { region } = new Intl.Locale(language).maximize();
    return region !== undefined && LETTER.has(region) ? 'letter' : 'a4';
  } catch {
    return 'a4'; // no language at all
  }
}
