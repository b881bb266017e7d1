/**
 * What stands beside a characteristic of the Environmental Sensing Service: who it is when there are
 * several, and how it was measured. User Description (0x2901) and ES Measurement (0x290C).
 */
import { readNumber } from './numbers.ts';
import { decodeText } from './text.ts';

/** 0x290C: flags u16, sampling u8, period u24, interval u24, application u8, uncertainty u8. */
const MEASUREMENT_BYTES = 11;

/** How a value comes about, where that is not plainly "just now". */
const SAMPLING: ReadonlyMap<number, string> = new Map([
  [2, 'mean'],
  [3, 'root mean square'],
  [4, 'maximum'],
  [5, 'minimum'],
  [6, 'accumulated'],
  [7, 'count'],
]);

/** Where it is measured. */
const APPLICATION: ReadonlyMap<number, string> = new Map([
  [0x01, 'air'],
  [0x02, 'water'],
  [0x0d, 'front'],
  [0x0e, 'back'],
  [0x0f, 'upper'],
  [0x10, 'lower'],
  [0x11, 'primary'],
  [0x12, 'secondary'],
  [0x13, 'outdoor'],
  [0x14, 'indoor'],
  [0x15, 'top'],
  [0x16, 'bottom'],
  [0x1b, 'inside'],
  [0x1c, 'outside'],
]);

/** ES Measurement. */
export interface Measurement {
  /** `mean`, `maximum`, …; null: of the moment, or not said. */
  sampling: string | null;
  /** Over what time, s; null: not said. */
  periodS: number | null;
  /** How often the probe makes a new value, s; null: not said. */
  intervalS: number | null;
  /** `outside`, `upper`, …; null: not said. */
  application: string | null;
  /** ± of the value, % of it; null: not said. */
  uncertaintyPct: number | null;
}

/** @returns null where the bytes are not an ES Measurement */
export function readMeasurement(bytes: Uint8Array): Measurement | null {
  if (bytes.length !== MEASUREMENT_BYTES) return null;
  const number = (at: number, type: 'uint8' | 'uint24'): number => readNumber(bytes, at, type) ?? 0;
  const uncertainty = number(10, 'uint8');
  return {
    sampling: SAMPLING.get(number(2, 'uint8')) ?? null,
    periodS: number(3, 'uint24') || null,
    intervalS: number(6, 'uint24') || null,
    application: APPLICATION.get(number(9, 'uint8')) ?? null,
    uncertaintyPct: uncertainty === 0xff ? null : uncertainty / 2,
  };
}

/**
 * A name that tells one instance of a characteristic from the others: "outside", "upper, maximum".
 * What a person wrote goes before the standard's words. A mean or an extreme is always said: it is not
 * the air of this moment.
 * @param userDescription the bytes of 0x2901
 * @param measurement the bytes of 0x290C
 * @returns null where they tell nothing
 */
export function describeInstance(
  userDescription: Uint8Array | null,
  measurement: Uint8Array | null,
): string | null {
  const own = userDescription === null ? null : decodeText(userDescription);
  const standard = measurement === null ? null : readMeasurement(measurement);
  const words = [own ?? standard?.application, standard?.sampling];
  return words.filter((word) => typeof word === 'string').join(', ') || null;
}
