/**
 * What a person says for the record, between the texts of a form and what is sent: of the visit, the units,
 * the outdoor units, the probes. Only what was changed is sent. Pure.
 */
import type { ProbeState, UnitSetup, VisitSetup } from '../../server/protocol.ts';
import type { ProbeChange, SystemChange, UnitChange, VisitChange } from '../live/api.ts';
import { readEntry, startText, type Field } from './entry.ts';
import type { Scales } from './scales.ts';
import { t } from '../../server/words/language.ts';

export interface VisitTexts {
  address: string;
  customer: string;
  technician: string;
  why: string;
  conditions: string;
}
export interface UnitTexts {
  form: string;
  model: string;
  serial: string;
  nominal: string;
  /** The id of its outdoor unit, empty without one. */
  system: string;
}
export interface SystemTexts {
  name: string;
  model: string;
  serial: string;
  length: string;
  height: string;
}
export interface ProbeTexts {
  serial: string;
  /** A day as a date field gives it, "2026-05-04". */
  calibrated: string;
}

/** How units are built, as suggestions: the trade's own words. */
export const FORMS = [t`wall`, t`floor`, t`cassette`, t`ducted`, t`ceiling`];

export const RECORD_FORM = {
  visit: t`For the record: who, where, why`,
  address: t`Address`,
  customer: t`Customer`,
  technician: t`Technician`,
  why: t`Why this visit`,
  conditions: t`Conditions: weather, doors, filters`,
  unit: (name: string): string => t`For the record: ${name}`,
  form: t`Type`,
  formHint: t`wall, cassette …`,
  model: t`Model`,
  serial: t`Serial number`,
  nominal: (sign: string): string => t`Nominal capacity, ${sign}`,
  pipedTo: t`Outdoor unit it is piped to`,
  notEntered: t`not entered`,
  another: t`another one`,
  system: (name: string): string => t`For the record: ${name}, outdoors`,
  /** An outdoor unit that nobody has named. */
  unnamedSystem: (number: number, systems: number): string =>
    systems === 1 ? t`Outdoor unit` : t`Outdoor unit ${number}`,
  systemName: t`Name or place`,
  lineLength: (sign: string): string => t`Line length, one way, ${sign}`,
  lineHeight: (sign: string): string => t`Height above the heads, ${sign} (− below)`,
};

/** What its fields are called in a sentence. */
export const RECORD_FIELDS = {
  nominal: (unit: string): string => t`The nominal capacity of ${unit}`,
  lineLength: t`The line length`,
  lineHeight: t`The line height`,
  ofSystem: (field: string, system: string): string => t`${field} of ${system}`,
};

/** The server accepts no more and no less. */
const NOMINAL_W = { least: 0, most: 1e6 };
const LENGTH_M = { least: 0, most: 500 };
const HEIGHT_M = { least: -200, most: 200 };

/** What is to be sent, or why an entry cannot be taken, as a sentence. */
export type Changed<C> = { change: C; refusal: null } | { change: null; refusal: string };

export function visitTexts({ details }: VisitSetup): VisitTexts {
  const { address = '', customer = '', technician = '', why = '', conditions = '' } = details;
  return { address, customer, technician, why, conditions };
}
export function unitTexts({ details }: UnitSetup, scales: Scales): UnitTexts {
  const { form = '', model = '', serial = '', system = '', nominalW } = details;
  return { form, model, serial, system, nominal: startText(nominalW, scales.power) };
}
export function systemTexts(system: VisitSetup['systems'][string], scales: Scales): SystemTexts {
  const { name = '', model = '', serial = '', lineLengthM, lineHeightM } = system;
  const [length, height] = [lineLengthM, lineHeightM].map((m) => startText(m, scales.length));
  return { name, model, serial, length: length ?? '', height: height ?? '' };
}
export function probeTexts({ details }: ProbeState): ProbeTexts {
  const { serial = '', calibratedT } = details;
  return { serial, calibrated: calibratedT === undefined ? '' : dayText(calibratedT) };
}

/** "2026-05-04", by the clock of the person who looks. */
function dayText(t: number): string {
  const date = new Date(t);
  const two = (n: number): string => String(n).padStart(2, '0');
  return `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
}

/** The fields whose texts are others than at the start. */
function others<T extends object>(start: T, now: T): Partial<T> {
  const changed: Partial<T> = {};
  for (const key in now) if (now[key] !== start[key]) changed[key] = now[key];
  return changed;
}

const refused = (refusal: string): Changed<never> => ({ change: null, refusal });

/** Takes a number that was entered anew, or emptied, into a change. @returns a refusal */
function takeNumber<K extends string>(
  change: Partial<Record<K, number | null>>,
  key: K,
  text: string | undefined,
  field: Field,
): string | null {
  if (text === undefined) return null;
  const { si, refusal } = readEntry(text, field);
  if (refusal !== null) return refusal;
  change[key] = si;
  return null;
}

export const visitChange = (start: VisitTexts, now: VisitTexts): VisitChange => others(start, now);

/** @param name of the unit, for a refusal */
export function unitChange(
  start: UnitTexts,
  now: UnitTexts,
  name: string,
  scales: Scales,
): Changed<UnitChange> {
  const { nominal, system, ...texts } = others(start, now);
  const change: UnitChange = texts;
  if (system !== undefined) change.system = system === '' ? null : system;
  const field = { name: RECORD_FIELDS.nominal(name), scale: scales.power, ...NOMINAL_W };
  const refusal = takeNumber(change, 'nominalW', nominal, field);
  return refusal === null ? { change, refusal } : refused(refusal);
}

/** @param called what a field of it is called in a refusal: there may be several outdoor units */
export function systemChange(
  start: SystemTexts,
  now: SystemTexts,
  called: (field: string) => string,
  scales: Scales,
): Changed<SystemChange> {
  const { length, height, ...texts } = others(start, now);
  const change: SystemChange = texts;
  const field = (name: string): Pick<Field, 'name' | 'scale'> => {
    return { name: called(name), scale: scales.length };
  };
  const [lengths, heights] = [field(RECORD_FIELDS.lineLength), field(RECORD_FIELDS.lineHeight)];
  const refusal =
    takeNumber(change, 'lineLengthM', length, { ...lengths, ...LENGTH_M }) ??
    takeNumber(change, 'lineHeightM', height, { ...heights, ...HEIGHT_M });
  return refusal === null ? { change, refusal } : refused(refusal);
}

/** @param now ms since the epoch: no calibration lies ahead of it */
export function probeChange(
  start: ProbeTexts,
  texts: ProbeTexts,
  now: number,
): Changed<ProbeChange> {
  const { serial, calibrated } = others(start, texts);
  const change: ProbeChange = serial === undefined ? {} : { serial };
  if (calibrated === undefined) return { change, refusal: null };
  if (calibrated === '') return { change: { ...change, calibratedT: null }, refusal: null };
  // Noon: the same day in the zones of most who read it.
  const calibratedT = Date.parse(`${calibrated}T12:00:00`);
  if (Number.isNaN(calibratedT)) {
    return refused(t`The last calibration is not a date. Choose one, or clear the field.`);
  }
  const midnight = new Date(now).setHours(24, 0, 0, 0);
  if (calibratedT >= midnight) {
    return refused(t`The last calibration is in the future. Check the year.`);
  }
  if (calibratedT < 0) return refused(t`The last calibration is before 1970. Check the year.`);
  return { change: { ...change, calibratedT: Math.min(calibratedT, now) }, refusal: null };
}
