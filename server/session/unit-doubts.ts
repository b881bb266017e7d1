/** What is doubtful about a unit as a whole, beside its single probes (place.ts). */
import type { Airflow } from '../../adapters/contract.ts';
import type { Doubt } from '../protocol.ts';
import { type Correction, sameCheck, worth } from './correction.ts';
import { doubts } from './doubts.ts';
import type { PlaceAir } from './place.ts';
import type { Pressure } from './pressure.ts';

/** Fan tables without a footnote: how far from sea level the basis begins to matter. */
const BASIS_MATTERS = 0.03;
/** A check that is worth less than this is old. */
const OLD = 0.9;
/** Sources of an airflow that looked at this very unit. */
const MEASURED = ['sweep', 'grid'];

/** An airflow that nobody measured, or whose basis is not clear. */
export function airflowDoubts(flow: Airflow, pressure: Pressure, found: Doubt[]): void {
  if (MEASURED.includes(flow.source)) return;
  found.push(doubts.airflowNotMeasured());
  const apart = 1 - pressure.pa / 101_325;
  if (flow.source === 'fan-table' && flow.basis === 'actual' && apart > BASIS_MATTERS) {
    found.push(doubts.airflowBasis(100 * (1 / (1 - apart) - 1)));
  }
}

/** Only probes of one check can be compared: all of both places must be of it. */
export function checkDoubts(ret: PlaceAir, sup: PlaceAir, t: number, found: Doubt[]): void {
  const correction = (ret.probes[0] ?? sup.probes[0])?.correction ?? null;
  if (correction === null || !isOf(correction, ret) || !isOf(correction, sup)) {
    found.push(doubts.checkMissing());
    return;
  }
  const left = worth(correction, t);
  if (left < OLD) found.push(doubts.checkOld(t - correction.t, left));
}

function isOf(check: Correction, { probes }: PlaceAir): boolean {
  return probes.every(({ correction }) => sameCheck(check, correction));
}
