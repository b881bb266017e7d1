/**
 * What an anemometer's reading says of the velocity. A vane tells the actual velocity, but for a part of
 * its error that goes with density; a thermal one tells the velocity that air of standard density would
 * have (1.204 kg/m³), so that its reading is referred to the air it stands in.
 */
import { STANDARD_DENSITY } from '../capacity.ts';
import { statement, type Uncertain } from '../gum.ts';

export type AnemometerKind = 'vane' | 'thermal';

/** What is known of the anemometer. */
export interface Anemometer {
  /** Names it: flows of one share its error. */
  id: string;
  kind: AnemometerKind;
  /** Diameter of its head, m; null where nobody has said. */
  headM: number | null;
  /** ± of the reading, m/s and % of the reading (data sheet); undefined where nobody has said. */
  limitMs?: number | undefined;
  limitPct?: number | undefined;
  /** Coverage factor of the ±, where the maker states them so. */
  k?: number | undefined;
}

/** Of which nobody has said how far it may be off: ± 3 % of reading and 0.1 m/s (a usual vane). */
const USUAL = { pct: 3, ms: 0.1 };
/**
 * A vane's error with density is taken to lie between none and half of what an instrument that feels
 * the velocity pressure would have, √(1.204/ρ) (an assumption; that there is such an error:
 * ASHRAE RP-698, from memory).
 */
const VANE_SHARE = 0.5;
/** A thermal anemometer's compensation is off by so much of the factor (an assumption, no source). */
const THERMAL_SHARE = 0.1;

/**
 * The factor from a reading to the velocity, and the error of it as a part.
 * @param densityKgM3 of the moist air at the head
 */
export function densityFactor(
  kind: AnemometerKind,
  densityKgM3: number,
): { factor: number; error: Uncertain } {
  const ratio = STANDARD_DENSITY / densityKgM3;
  if (kind === 'thermal') {
    return { factor: ratio, error: statement(THERMAL_SHARE * Math.abs(ratio - 1)) };
  }
  return { factor: 1, error: statement(VANE_SHARE * Math.abs(Math.sqrt(ratio) - 1)) };
}

/** Error of a reading as a part of it; its two terms are taken as one half-width, as makers add them. */
export function readingError({ limitMs, limitPct, k }: Anemometer, velocityMs: number): Uncertain {
  const known = limitMs !== undefined || limitPct !== undefined;
  const ms = known ? (limitMs ?? 0) : USUAL.ms;
  const pct = known ? (limitPct ?? 0) : USUAL.pct;
  return statement(pct / 100 + ms / velocityMs, k);
}

/** Below this a vane starts late or stands, m/s (common practice, no source). */
export const SLOWEST_MS = 0.3;
/** A head that is wider than the slot sees its edges: ± so much (an assumption, no source). */
export const WIDER_LIMIT = 0.05;
