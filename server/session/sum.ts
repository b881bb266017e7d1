/** All units of a visit together. */
import type { Snapshot, UnitSnapshot } from '../protocol.ts';

/**
 * Adds up the units' capacities. Null where one of them has no figure or another mode: part of a sum
 * is not the sum. The units' intervals are taken as independent.
 */
export function sumOf(units: readonly UnitSnapshot[]): Snapshot['sum'] {
  const none = { totalW: null, sensibleW: null, latentW: null, totalU95W: null };
  let totalW = 0;
  let sensibleW = 0;
  let latentW = 0;
  let square = 0;
  for (const { mode, capacity: c } of units) {
    if (c.totalW === null || c.sensibleW === null) return none;
    if (mode !== units[0]?.mode) return none;
    totalW += c.totalW;
    sensibleW += c.sensibleW;
    latentW += c.latentW ?? NaN;
    square += c.totalU95W === null ? NaN : c.totalU95W ** 2;
  }
  if (units.length === 0) return none;
  return {
    totalW,
    sensibleW,
    // In heating there is none.
    latentW: Number.isNaN(latentW) ? null : latentW,
    totalU95W: Number.isNaN(square) ? null : Math.sqrt(square),
  };
}
