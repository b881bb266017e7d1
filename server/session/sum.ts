/** All units of a visit together. */
import { sumU95, type UnitErrors } from '../measure/sum.ts';
import type { Snapshot, UnitSnapshot } from '../protocol.ts';

/** A unit that is added up. */
export interface Summand {
  readonly latest: UnitSnapshot | null;
  /** The errors of its total; null where it has no interval. */
  readonly errors: UnitErrors | null;
}

const none = (): Snapshot['sum'] => ({
  totalW: null,
  sensibleW: null,
  latentW: null,
  totalU95W: null,
});

/**
 * Adds up the units' capacities. Null where one of them has no figure or another mode: part of a sum
 * is not the sum.
 */
export function sumOf(summands: Iterable<Summand>): Snapshot['sum'] {
  let n = 0;
  let first: UnitSnapshot | null = null;
  let totalW = 0;
  let sensibleW = 0;
  let latentW = 0;
  let known = true;
  const errors: UnitErrors[] = [];
  for (const unit of summands) {
    const { latest, errors: own } = unit;
    n++;
    if (latest === null) continue;
    first ??= latest;
    const { mode, capacity: c } = latest;
    if (c.totalW === null || c.sensibleW === null || mode !== first.mode) return none();
    totalW += c.totalW;
    sensibleW += c.sensibleW;
    latentW += c.latentW ?? NaN;
    known &&= c.totalU95W !== null;
    if (own !== null) errors.push(own);
  }
  if (first === null) return none();
  return {
    totalW,
    sensibleW,
    // In heating there is none.
    latentW: Number.isNaN(latentW) ? null : latentW,
    totalU95W: !known ? null : n === 1 ? first.capacity.totalU95W : sumU95(errors),
  };
}
