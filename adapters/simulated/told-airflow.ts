/** What the set-up of a simulated visit says of a unit's airflow, and what it says when the fan speed is changed. */
import type { SystemParameters, UnitParameters } from '../../simulator/system.ts';
import type { Airflow, FanTable } from '../contract.ts';
import { fanTable } from './fan-table.ts';

/**
 * How the airflow becomes known:
 * - `looked-up`: each speed's figure is entered from the table as the fan is set;
 * - `fan-table`: the set-up holds the whole table, printed at standard density;
 * - `entered`: a person typed that of the first speed times a factor, and nobody types again;
 * - `none`: it is left to be measured.
 */
export type AirflowSource =
  | { readonly source: 'looked-up' }
  | { readonly source: 'fan-table' }
  | { readonly source: 'entered'; readonly factor: number }
  | { readonly source: 'none' };

export interface ToldAirflow {
  /** Entered for the first speed; null: nothing. */
  readonly first: Airflow | null;
  /** The table that the set-up holds. */
  readonly table?: FanTable;
  /** Entered when the fan takes this speed; null: nothing. */
  at(speed: string): Airflow | null;
}

/** @param seed of how far the machine is off its printed table */
export function toldAirflow(
  unit: UnitParameters,
  mode: SystemParameters['mode'],
  seed: number,
  how: AirflowSource,
): ToldAirflow {
  const lookUp = fanTable(unit, mode, seed);
  const none = (): null => null;
  switch (how.source) {
    case 'looked-up':
      return { first: lookUp(unit.fan), at: lookUp };
    case 'none':
      return { first: null, at: none };
    case 'entered': {
      const right = lookUp(unit.fan);
      if (right === null) return { first: null, at: none };
      const flowM3s = Math.round(right.flowM3s * how.factor * 1e4) / 1e4;
      return { first: { ...right, source: 'entered', flowM3s }, at: none };
    }
    case 'fan-table':
      return { first: null, table: printed(unit, seed), at: none };
  }
}

/** The table as it stands in a submittal: dry and wet, at standard density. */
function printed(unit: UnitParameters, seed: number): FanTable {
  const [dry, wet] = [fanTable(unit, 'heating', seed), fanTable(unit, 'cooling', seed)];
  const limitPct = dry(unit.fan)?.limitPct;
  const speeds = unit.head.fanSpeeds.map(({ name }) => {
    return { name, dryM3s: dry(name)?.flowM3s, wetM3s: wet(name)?.flowM3s };
  });
  return { speeds, basis: 'standard', plane: 'supply', limitPct };
}
