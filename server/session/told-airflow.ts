/** The airflow of a unit as it is told, and what another one makes of what was worked out before it. */
import type { Airflow, Mode } from '../../adapters/contract.ts';
import { type AirPoint, capacity, flowAtUnit } from '../measure/capacity.ts';

/**
 * Instruments that stay in the air and tell the airflow all along: a velocity probe in the outlet, a
 * flow station. What they tell is the fan's own doing. Every other airflow is one that a person told.
 */
const STAYING: readonly string[] = ['velocity', 'station'];
/** What such an instrument tells again within so long has the same error, ms. */
const FOLLOWS_MS = 120_000;
/** The same source with a flow that differs by more may mean another fan speed. */
const OTHER_SPEED = 0.1;

/**
 * - `none`: the same line again.
 * - `follows`: the fan's own doing, told by an instrument that stays.
 * - `better`: the machine is the same, but what is known of its airflow is not.
 * - `another`: the airflow itself may be another, or the figures before were wrong.
 */
export type AirflowChange = 'none' | 'follows' | 'better' | 'another';

export class ToldAirflow {
  /** The one in use; null before the first. */
  now: Airflow | null = null;
  /** Names its error: the same line told again has the same, and so has one that follows the fan. */
  name = '';
  /** The fan speed that had been told when it was. */
  fan: string | null = null;
  #t = -Infinity;
  /** The flow when settling last began, m³/s: small steps may add up. */
  #fromM3s = NaN;

  /**
   * Takes one that is told at `t`, ms, while the fan was last told to be at `fan`.
   * @param byItself nobody told it: the coil gets wet, and the same table says another flow
   */
  tell(airflow: Airflow, t: number, fan: string | null, byItself = false): AirflowChange {
    const last = this.now;
    const otherFan = fan !== this.fan;
    const soon = t - this.#t < FOLLOWS_MS;
    this.now = airflow;
    this.fan = fan;
    this.#t = t;
    if (JSON.stringify(airflow) === JSON.stringify(last)) return 'none';
    const alike = last !== null && isAlike(airflow, last);
    const near = this.#isNear(airflow.flowM3s, last?.flowM3s ?? NaN);
    const follows = alike && near && (byItself || (soon && STAYING.includes(airflow.source)));
    if (!follows) this.name = nameOf(airflow);
    if (!alike) this.#fromM3s = airflow.flowM3s;
    if (last === null || otherFan || (alike && !near)) return 'another';
    return follows ? 'follows' : 'better';
  }

  /** Settling begins anew with the present one. */
  begun(): void {
    this.#fromM3s = this.now?.flowM3s ?? NaN;
  }

  /** Near the one before, and the one that settling began with: neither at once nor little by little. */
  #isNear(flowM3s: number, lastM3s: number): boolean {
    return [lastM3s, this.#fromM3s].every((from) => Math.abs(flowM3s - from) <= OTHER_SPEED * from);
  }
}

/** With what air a figure was worked out. */
export interface WorkedAir {
  mode: Mode;
  points: { from: AirPoint; to: AirPoint };
  pPa: number;
}

/**
 * How many times as much dry air one airflow is as another, however both are stated, in the same air.
 * @param air null where none is known
 * @returns null where that cannot be said
 */
export function flowRatio(before: Airflow, after: Airflow, air: WorkedAir | null): number | null {
  if (air === null) return null;
  const { mode, points, pPa } = air;
  const dryAir = (flow: Airflow): number =>
    capacity(mode, points.from, points.to, flowAtUnit(flow), pPa).dryAirKgs;
  const ratio = dryAir(after) / dryAir(before);
  return ratio > 0 && Number.isFinite(ratio) ? ratio : null;
}

/** Whether two flows are of one source and stated alike, so that they can be compared. */
const isAlike = (a: Airflow, b: Airflow): boolean =>
  a.source === b.source && a.basis === b.basis && a.plane === b.plane;

const nameOf = (a: Airflow): string =>
  [a.source, a.flowM3s, a.basis, a.plane, a.limitPct, a.limitK].join(' ');
