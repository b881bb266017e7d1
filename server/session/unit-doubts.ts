/** What is doubtful about a unit as a whole, beside its single probes (place.ts). */
import type { Airflow, Mode } from '../../adapters/contract.ts';
import { FAN_TABLE, STANDARD_DENSITY } from '../measure/capacity.ts';
import type { Doubt } from '../protocol.ts';
import { type Correction, sameCheck, worth } from './correction.ts';
import { doubt } from './doubt.ts';
import { doubts } from './doubts.ts';
import type { PlaceAir } from './place.ts';
import { sent } from '../words/sent.ts';

/** From this share on it matters whether a standard flow is a mass or a fan's volume. */
const BASIS_MATTERS = 0.03;
/** A check that is worth less than this is old. */
const OLD = 0.9;
/** Sources of an airflow that looked at this very unit. */
const MEASURED = ['sweep', 'grid', 'condensate', 'heat', 'reference', 'measured'];

/** @param off by how much the figure would be too high if the fan moved this flow as a volume */
const basis = (off: number): Doubt =>
  doubt(
    'airflow-basis',
    sent`The airflow was entered as standard air, and the air of this unit is far from standard density.`,
    sent`If it was read off a fan table, the figure is ${Math.round(100 * Math.abs(off))} % too ${off > 0 ? sent`high` : sent`low`}: a fan moves the same volume of thin air as of dense.`,
    sent`Say where the airflow comes from: the fan table, or measured at this unit as standard air.`,
  );

/** Whether it was measured at this unit. */
export const isMeasured = (flow: Airflow | null): boolean =>
  flow !== null && MEASURED.includes(flow.source);

/** An airflow that nobody measured. */
export function airflowDoubts(flow: Airflow, found: Doubt[]): void {
  if (!isMeasured(flow)) found.push(doubts.airflowNotMeasured(flow.source));
}

/**
 * A standard flow of which nobody says whether it was measured or read off a fan table.
 * @param volumeM3kg of a kilogram of dry air at the flow's plane
 */
export function basisDoubt(flow: Airflow, volumeM3kg: number, found: Doubt[]): void {
  if (flow.basis === 'actual' || flow.source === FAN_TABLE || MEASURED.includes(flow.source))
    return;
  const off = STANDARD_DENSITY * volumeM3kg - 1;
  if (Math.abs(off) > BASIS_MATTERS) found.push(basis(off));
}

/**
 * Only probes of one check can be compared: all of both places must be of it. In heating, where humidity
 * is no heat, a zero in place does as well.
 */
export function checkDoubts(
  mode: Mode,
  ret: PlaceAir,
  sup: PlaceAir,
  t: number,
  found: Doubt[],
): void {
  const zeroed = [...ret.probes, ...sup.probes].every(({ zero }) => zero !== null);
  if (zeroed && mode === 'heating') return;
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
