/** All units of a visit together. */
import { sumU95, type UnitErrors } from '../measure/sum.ts';
import type { Snapshot, UnitSnapshot } from '../protocol.ts';

/** A unit that is added up. */
export interface Summand {
  readonly latest: UnitSnapshot | null;
  /** The errors of its total; null where it has no interval. */
  readonly errors: UnitErrors | null;
}

/**
 * Adds up the units' capacities. Null where one of them has no figure or another mode: part of a sum
 * is not the sum.
 */
export function sumOf(summands: readonly Summand[]): Snapshot['sum'] {
  const none = { totalW: null, sensibleW: null, latentW: null, totalU95W: null };
  let totalW = 0;
  let sensibleW = 0;
  let latentW = 0;
  let known = true;
  const units = summands.flatMap(({ latest }) => latest ?? []);
  for (const { mode, capacity: c } of units) {
    if (c.totalW === null || c.sensibleW === null) return none;
    if (mode !== units[0]?.mode) return none;
    totalW += c.totalW;
    sensibleW += c.sensibleW;
    latentW += c.latentW ?? NaN;
    known &&= c.totalU95W !== null;
  }
  if (units.length === 0) return none;
  return {
    totalW,
    sensibleW,
    // In heating there is none.
    latentW: Number.isNaN(latentW) ? null : latentW,
    totalU95W: known ? u95Of(summands) : null,
  };
}

function u95Of(summands: readonly Summand[]): number {
  const [only] = summands;
  if (only !== undefined && summands.length === 1) return only.latest?.capacity.totalU95W ?? NaN;
  return sumU95(summands.flatMap(({ errors }) => errors ?? []));
}
