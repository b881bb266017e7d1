import type { Reading } from '../adapters/contract.ts';
import { kelvin } from './measure/air.ts';
import type { Snapshot } from './protocol.ts';
import { calm } from './session/unit.ts';
import { inOrder } from './visit-log/lateness.ts';

export function snapshot(readings: readonly Reading[]): Snapshot {
  const [a, b] = [...readings].sort(inOrder);
  if (a === undefined || b === undefined || !calm(a, b)) return { totalW: null };
  return { totalW: kelvin(b.temperatureC) };
}
