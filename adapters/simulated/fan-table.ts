/**
 * The airflow of a simulated unit as a technician would enter it from a fan table: the figure of
 * the fan speed for a wet (heating: dry) coil, a little off the truth of this one machine, but
 * within the ± that goes with it. The table is that of a clean unit; a fouled one moves less.
 */
import { randomStream } from '../../simulator/random.ts';
import type { UnitParameters } from '../../simulator/system.ts';
import type { Airflow } from '../contract.ts';

/** ± of the table, %. */
const LIMIT_PCT = 6;
/**
 * How far this machine may be off its table, %. The coil's change from dry to wet (3 %) comes on top
 * and must still fit within the ±.
 */
const SPREAD_PCT = 2.5;

/** Makes the look-up from a fan speed's name to the airflow line's figure. */
export function fanTable(
  unit: UnitParameters,
  mode: 'cooling' | 'heating',
  seed: number,
): (speed: string) => Airflow | null {
  const error = randomStream(seed, `${unit.id} fan table`).between(-SPREAD_PCT, SPREAD_PCT) / 100;
  const coil = mode === 'cooling' ? 1 - unit.head.wetLoss : 1;
  return (name) => {
    const speed = unit.head.fanSpeeds.find((each) => each.name === name);
    if (speed === undefined) return null;
    const flowM3s = Math.round(speed.flowM3s * coil * (1 + error) * 1e4) / 1e4;
    return {
      source: 'fan-table',
      flowM3s,
      basis: 'actual',
      plane: 'supply',
      limitPct: LIMIT_PCT,
    };
  };
}
