/**
 * What a reading must be to be taken. The schema (schema.ts) is made from the same ranges and words
 * the refusals; here is the same check in plain comparisons, since it runs for every reading: a tenth
 * of the schema's time, and nothing to compile at the start.
 */
import type { Reading } from '../../adapters/contract.ts';
import { QUANTITIES } from './known-fields.ts';

/** What a probe in or around a house can possibly say: the lowest and the highest that is taken. */
export const RANGES = {
  temperatureC: [-60, 95],
  humidityPct: [0, 120],
  dewPointC: [-60, 95],
  velocityMs: [-60, 60],
  pressurePa: [50_000, 120_000],
  powerW: [-100_000, 100_000],
  batteryPct: [0, 100],
} as const satisfies Record<(typeof QUANTITIES)[number], readonly [number, number]>;

/** Times before 1 January 2100. */
export const LATEST_T = 4_102_444_800_000;
/** Longest id, in characters. */
export const LONGEST_ID = 128;

/**
 * Ten digits are seconds, which nobody's probe measured in (they would be January 1970); small numbers
 * are allowed, as the clock of a test rig that begins at zero.
 */
export function isMilliseconds(t: number): boolean {
  return t < 1e9 || t >= 1e11;
}

/** Any text but the one name that JavaScript objects cannot hold. */
export function isName(id: string): boolean {
  return id !== '__proto__';
}

type Quantities = Partial<Record<(typeof QUANTITIES)[number], unknown>>;

/** Whether it says anything. Unrolled: it runs for every reading. */
export function hasQuantity(r: Quantities): boolean {
  return (
    r.temperatureC !== undefined ||
    r.humidityPct !== undefined ||
    r.dewPointC !== undefined ||
    r.velocityMs !== undefined ||
    r.pressurePa !== undefined ||
    r.powerW !== undefined ||
    r.batteryPct !== undefined
  );
}

function inRange(value: unknown, range: readonly [number, number]): boolean {
  return (
    value === undefined || (typeof value === 'number' && value >= range[0] && value <= range[1])
  );
}

/** Whether the schema would let it through as a reading. */
export function isFitReading(value: unknown): value is Reading {
  if (typeof value !== 'object' || value === null) return false;
  const r: Quantities & { type?: unknown; t?: unknown; probe?: unknown } = value;
  return (
    r.type === 'reading' &&
    typeof r.t === 'number' &&
    r.t >= 0 &&
    r.t <= LATEST_T &&
    isMilliseconds(r.t) &&
    typeof r.probe === 'string' &&
    r.probe.length >= 1 &&
    r.probe.length <= LONGEST_ID &&
    isName(r.probe) &&
    hasQuantity(r) &&
    inRange(r.temperatureC, RANGES.temperatureC) &&
    inRange(r.humidityPct, RANGES.humidityPct) &&
    inRange(r.dewPointC, RANGES.dewPointC) &&
    inRange(r.velocityMs, RANGES.velocityMs) &&
    inRange(r.pressurePa, RANGES.pressurePa) &&
    inRange(r.powerW, RANGES.powerW) &&
    inRange(r.batteryPct, RANGES.batteryPct)
  );
}
