/**
 * The reference values of the laboratories' days (data/windows.csv, data/runs.csv), and the formulas
 * by which they were worked out (data/README.md), written down a second time: so that a difference
 * from the product can be traced to its cause. Nothing of the product is used here.
 */
import psychrolib from 'psychrolib';
import { type LabRow, readCsv, timeOf } from './convert.ts';

psychrolib.SetUnitSystem(psychrolib.SI);

const number = (record: Record<string, string>, column: string): number => {
  const value = Number(record[column]);
  if (!Number.isFinite(value)) throw new Error(`no number in "${column}"`);
  return value;
};
const text = (record: Record<string, string>, column: string): string => record[column] ?? '';

/** A steady window: means over its rows, W; positive is what the mode asks for. */
export interface ReferenceWindow {
  file: string;
  start: string;
  end: string;
  mode: 'cool' | 'heat';
  totalW: number;
  sensibleW: number;
}

export const WINDOWS: readonly ReferenceWindow[] = readCsv('windows.csv').map((record) => ({
  file: text(record, 'file'),
  start: text(record, 'start'),
  end: text(record, 'end'),
  mode: text(record, 'mode') === 'heat' ? 'heat' : 'cool',
  totalW: 1000 * Math.abs(number(record, 'air_total_kW')),
  sensibleW: 1000 * Math.abs(number(record, 'air_sensible_kW')),
}));

/** A stretch at one compressor stage. */
export interface ReferenceRun {
  file: string;
  fromT: number;
  /** Time of its last row. */
  toT: number;
  minutes: number;
  /** Stage of the compressor before it; 0 is off. */
  stageBefore: number;
  /** Until the total stays within 5 % of its end, min; NaN for runs of less than 12 min. */
  settlesMin: number;
}

export const RUNS: readonly ReferenceRun[] = readCsv('runs.csv').map((record) => ({
  file: text(record, 'file'),
  fromT: timeOf(text(record, 'start')),
  toT: timeOf(text(record, 'end')),
  minutes: number(record, 'minutes'),
  stageBefore: number(record, 'stage_before'),
  settlesMin:
    text(record, 'minutes_to_settle_5pct') === '' ? NaN : number(record, 'minutes_to_settle_5pct'),
}));

/** Rows from `start` to `end`, both included. */
export function rowsBetween(rows: readonly LabRow[], start: string, end: string): LabRow[] {
  const [from, to] = [timeOf(start), timeOf(end)];
  return rows.filter(({ t }) => t >= from && t <= to);
}

/** W by the reference's formula (saturation of Hyland and Wexler, perfect gas); cut at saturation. */
export function referenceHumidityRatio(air: LabRow['returnAir'], pressurePa: number): number {
  const { temperatureC, dewPointC, humidityPct } = air;
  if (dewPointC !== undefined) {
    return psychrolib.GetSatHumRatio(Math.min(dewPointC, temperatureC), pressurePa);
  }
  if (humidityPct === undefined) throw new Error('neither dew point nor relative humidity');
  return psychrolib.GetHumRatioFromRelHum(
    temperatureC,
    Math.min(humidityPct, 100) / 100,
    pressurePa,
  );
}

export interface ReferenceCapacity {
  totalW: number;
  sensibleW: number;
  latentW: number;
}

/** Heat taken out of the air in one row by the reference's formulas, W; heating is negative. */
export function referenceCapacity(row: LabRow): ReferenceCapacity {
  const t1 = row.returnAir.temperatureC;
  const t2 = row.supplyAir.temperatureC;
  const W1 = referenceHumidityRatio(row.returnAir, row.pressurePa);
  const W2 = referenceHumidityRatio(row.supplyAir, row.pressurePa);
  const enthalpy = (t: number, W: number): number => 1006 * t + W * (2.501e6 + 1860 * t);
  return {
    totalW: row.dryAirKgs * (enthalpy(t1, W1) - enthalpy(t2, W2)),
    sensibleW: row.dryAirKgs * (1006 + 1860 * Math.min(W1, W2)) * (t1 - t2),
    latentW: row.dryAirKgs * 2.501e6 * (W1 - W2),
  };
}

export function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
