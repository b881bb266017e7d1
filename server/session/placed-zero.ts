/**
 * What a zero in place is worth afterwards. It tells by how much supply and return differ in one state of
 * air beyond the fan's heat: that is taken off both, the larger part off the probe that may be further
 * off, as a side-by-side check does (correction.ts). What it cannot tell:
 * - the error that return and supply share: it stays, as one input for all of them;
 * - what the zero itself may be wrong by: one input that moves return and supply against each other;
 * - a probe's own error in other air than the zero's: as after a check, a part of its limit that grows
 *   with the distance;
 * - anything about humidity.
 */
import type { SharedZero } from '../measure/budget-inputs.ts';
import type { Uncertain } from '../measure/gum.ts';
import type { Limits } from '../../adapters/contract.ts';
import { awayError, sharedError } from './correction.ts';
import { sent } from '../words/sent.ts';

/** Of one probe. All probes of a zero hold one, or none does. */
export interface PlacedZero {
  /** When it ended, ms. */
  t: number;
  shared: SharedZero;
  /** Where on the probe's scale it was made. */
  atC: number;
  /** What is taken off, K. */
  offsetK: number;
  /** What 1 K more in what the zero found would take off this probe besides, K. */
  perK: number;
}

/** A probe during a zero: what it reads, and how far it may be off, before the zero. */
export interface ZeroProbe {
  id: string;
  place: 'return' | 'supply';
  limits: Limits;
  meanC: number;
  own: Uncertain;
}

/**
 * Parts what was found among the probes: by least squares, each weighing as it may be off.
 * @param riseK by how much the supply really is warmer than the return
 * @param error of that, and of the readings, K
 */
export function placedZeros(
  t: number,
  unit: string,
  probes: readonly ZeroProbe[],
  riseK: number,
  error: Uncertain,
): Map<string, PlacedZero> {
  let weights = 0;
  let sum = 0;
  let ofSupply = 0;
  const trueRise = ({ place }: ZeroProbe): number => (place === 'supply' ? riseK : 0);
  for (const probe of probes) {
    const weight = 1 / probe.own.u ** 2;
    weights += weight;
    sum += weight * (probe.meanC - trueRise(probe));
    if (probe.place === 'supply') ofSupply += weight;
  }
  const shared: SharedZero = {
    ...{ of: sent`zero ${t} ${unit}`, found: error },
    common: sharedError(probes.map(({ own }) => own)),
  };
  return new Map(
    probes.map((probe) => [
      probe.id,
      {
        ...{ t, shared, atC: probe.meanC },
        offsetK: probe.meanC - trueRise(probe) - sum / weights,
        perK: (probe.place === 'supply' ? 1 : 0) - ofSupply / weights,
      },
    ]),
  );
}

/** Own error of a probe at `tC` after a zero, K. */
export function zeroedError(limits: Limits, zero: PlacedZero, tC: number): Uncertain {
  return awayError(limits, Math.abs(tC - zero.atC));
}

/** How far supply less return may be off after a zero, in the zero's own air: standard uncertainty, K. */
export function zeroedU(probes: readonly ZeroProbe[], error: Uncertain): number {
  let square = error.u ** 2;
  for (const { place, limits } of probes) {
    const n = probes.filter((p) => p.place === place).length;
    square += (awayError(limits, 0).u / n) ** 2;
  }
  return Math.sqrt(square);
}

/** Ends the zeros that these probes hold, for all probes that were in them. @returns whether any did */
export function liftZeros(ids: readonly string[], probes: ReadonlyMap<string, Holder>): boolean {
  const ended = new Set<string>();
  for (const id of ids) {
    const zero = probes.get(id)?.zero ?? null;
    if (zero !== null) ended.add(zero.shared.of);
  }
  if (ended.size === 0) return false;
  for (const probe of probes.values()) {
    if (probe.zero !== null && ended.has(probe.zero.shared.of)) probe.zero = null;
  }
  return true;
}

/** The zero that probes of a unit hold; null: none. */
export function zeroOf(...places: readonly { probes: readonly Holder[] }[]): PlacedZero | null {
  for (const { probes } of places) {
    for (const { zero } of probes) if (zero !== null) return zero;
  }
  return null;
}

/** A probe that may hold a zero. */
interface Holder {
  zero: PlacedZero | null;
}
