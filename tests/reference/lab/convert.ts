/**
 * The laboratories' CSV files (tests/reference/data, see its README) as lines of a visit log.
 *
 * Conversions are written out here and not taken from the product: the data stand outside it.
 * Factors: NIST SP 811 (2008), appendix B; typed from memory (foot and pound are exact).
 */
import { readFileSync } from 'node:fs';
import type { Airflow, Line, Mode, Quantities, Reading } from '../../../adapters/contract.ts';

const M3_PER_FT3 = 0.3048 ** 3;
const KG_PER_LB = 0.45359237;
const PA_PER_INHG = 3386.389;
const celsius = (fahrenheit: number): number => (fahrenheit - 32) / 1.8;

/** Density at which NIST states its flow, kg of dry air per m³: 0.075 lb/ft³. */
const NIST_DENSITY = (0.075 * KG_PER_LB) / M3_PER_FT3;
/** Density of the visit log's standard flow, kg of dry air per m³ (the contract's `standard`). */
export const STANDARD_DENSITY = 1.204;
/** TAMU has no barometer. */
const TAMU_PRESSURE_PA = 101_325;
/** The emulated days have no year. */
const YEAR = 2025;

export const UNIT = 'u1';

export interface LabDay {
  file: string;
  lab: 'nist' | 'tamu';
  mode: Mode;
}

export const LAB_DAYS: readonly LabDay[] = [
  { file: 'nist-ashp-buffalo-eff-extrmsum.csv', lab: 'nist', mode: 'cooling' },
  { file: 'nist-ashp-tucson-shed-default.csv', lab: 'nist', mode: 'cooling' },
  { file: 'tamu-wshp-atlanta-shift-default.csv', lab: 'tamu', mode: 'cooling' },
  { file: 'tamu-wshp-buffalo-eff-extrmwin.csv', lab: 'tamu', mode: 'heating' },
];

/** One row, in SI. */
export interface LabRow {
  /** ms since the epoch, as if the emulated day had been in 2025, UTC. */
  t: number;
  returnAir: Quantities & { temperatureC: number };
  supplyAir: Quantities & { temperatureC: number };
  outdoorAir: Quantities | null;
  pressurePa: number;
  /** Flow of dry air, kg/s. */
  dryAirKgs: number;
  /** The compressor is on: NIST stage 1 or 2 with outdoor power, TAMU a control signal. */
  compressing: boolean;
  /** All columns but the time are those of the row before. */
  repeats: boolean;
}

/** One CSV file as records by column name. The files hold neither quotes nor commas in values. */
export function readCsv(file: string): Record<string, string>[] {
  const text = readFileSync(new URL(`../data/${file}`, import.meta.url), 'utf8');
  const [head = '', ...lines] = text.trimEnd().split(/\r?\n/);
  const names = head.split(',');
  return lines.map((line) => {
    const values = line.split(',');
    if (values.length !== names.length) throw new Error(`${file}: "${line}" has not all columns`);
    return Object.fromEntries(names.map((name, i) => [name, values[i] ?? '']));
  });
}

/** `MM/DD hh:mm:ss` (the last row of a day is 24:00:00) in ms since the epoch. */
export function timeOf(text: string): number {
  const match = /^(\d\d)\/(\d\d) (\d\d):(\d\d):(\d\d)$/.exec(text);
  if (match === null) throw new Error(`"${text}" is not MM/DD hh:mm:ss`);
  const [month = 0, day = 0, h = 0, min = 0, s = 0] = match.slice(1).map(Number);
  return Date.UTC(YEAR, month - 1, day, h, min, s);
}

/** The rows of a day. */
export function readRows({ file, lab }: LabDay): LabRow[] {
  let before = '';
  return readCsv(file).map((record) => {
    const { date_time: time = '', ...rest } = record;
    const number = (column: string): number => {
      const text = record[column] ?? '';
      const value = text === '' ? NaN : Number(text);
      if (!Number.isFinite(value)) throw new Error(`${file}, ${time}: no number in "${column}"`);
      return value;
    };
    const values = JSON.stringify(rest);
    const repeats = values === before;
    before = values;
    return { t: timeOf(time), repeats, ...(lab === 'nist' ? nistRow : tamuRow)(number) };
  });
}

type Values = Omit<LabRow, 't' | 'repeats'>;

function nistRow(number: (column: string) => number): Values {
  const air = (at: string): { temperatureC: number; dewPointC: number } => ({
    temperatureC: celsius(number(`${at}_temp`)),
    dewPointC: celsius(number(`${at}_temp_dp`)),
  });
  return {
    returnAir: air('zn'),
    supplyAir: air('sa'),
    outdoorAir: air('oa'),
    pressurePa: number('local_pres') * PA_PER_INHG,
    dryAirKgs: (number('sa_flow') * M3_PER_FT3 * NIST_DENSITY) / 60,
    compressing: number('stg') > 0 && number('od_power') > 100,
  };
}

function tamuRow(number: (column: string) => number): Values {
  const air = (at: string): { temperatureC: number; humidityPct: number } => ({
    temperatureC: celsius(number(`${at}_temp`)),
    humidityPct: number(`${at}_rh`),
  });
  return {
    returnAir: air('zn'),
    supplyAir: air('sa'),
    outdoorAir: null,
    pressurePa: TAMU_PRESSURE_PA,
    dryAirKgs: number('sa_flow'),
    compressing: number('comp_spd') > 0,
  };
}

/** Stated uncertainties of the air probes, as the contract's limits. */
const LIMITS = {
  nist: { temperatureC: 0.8 / 1.8, dewPointC: 0.7 / 1.8 },
  // 2 % below 90 % RH and 3 % above; both places go above in one mode or the other.
  tamu: { temperatureC: 0.45 / 1.8, humidityPct: 3 },
};
const FLOW_LIMIT_PCT = 3;

/** The set-up of a day's visit. */
export function setUpLines({ file, lab, mode }: LabDay): Line[] {
  const limits = LIMITS[lab];
  const title = file.replace(/\.csv$/, '');
  const visit: Line = { type: 'visit', version: 1, title, mode };
  const lines: Line[] = [
    lab === 'nist' ? visit : { ...visit, pressurePa: TAMU_PRESSURE_PA },
    // A laboratory samples over the whole of its duct and mixes: one spot is as good as another.
    { type: 'unit', id: UNIT, name: 'Laboratory', unevenPct: { return: 0, supply: 0 } },
    { type: 'probe', id: 'r', name: 'Return', unit: UNIT, place: 'return', limits },
    { type: 'probe', id: 's', name: 'Supply', unit: UNIT, place: 'supply', limits },
  ];
  if (lab === 'tamu') return lines;
  return [
    ...lines,
    { type: 'probe', id: 'o', name: 'Outdoor', place: 'outdoor', limits },
    { type: 'probe', id: 'b', name: 'Barometer' },
  ];
}

/** The airflow of a row; it is measured in the supply, and stated as a flow of mass. */
export function airflowOf({ dryAirKgs }: LabRow): Airflow {
  return {
    source: 'entered',
    flowM3s: dryAirKgs / STANDARD_DENSITY,
    basis: 'standard',
    plane: 'supply',
    limitPct: FLOW_LIMIT_PCT,
  };
}

/** The readings of a row, all at the row's own time. */
export function readingsOf({ lab }: LabDay, row: LabRow): Reading[] {
  const reading = (probe: string, values: Quantities): Reading => ({
    type: 'reading',
    t: row.t,
    probe,
    ...values,
  });
  const readings = [reading('r', row.returnAir), reading('s', row.supplyAir)];
  if (row.outdoorAir !== null) readings.push(reading('o', row.outdoorAir));
  if (lab === 'nist') readings.push(reading('b', { pressurePa: row.pressurePa }));
  return readings;
}

/** A whole day as a visit log: an airflow line each minute in which the flow has changed. */
export function visitLog(day: LabDay, rows: readonly LabRow[]): Line[] {
  const lines = setUpLines(day);
  let flow: number | null = null;
  for (const row of rows) {
    if (row.dryAirKgs !== flow) {
      lines.push({ type: 'airflow', t: row.t, unit: UNIT, airflow: airflowOf(row) });
    }
    flow = row.dryAirKgs;
    lines.push(...readingsOf(day, row));
  }
  return lines;
}
