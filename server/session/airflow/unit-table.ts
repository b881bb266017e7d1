/** The fan table of a unit in use: at the speed that is told, for a coil as wet as it is seen to be. */
import type { Airflow, FanTable, UnitLine } from '../../../adapters/contract.ts';
import { tableFlow } from '../../measure/airflow/fan-table.ts';
import { FAN_TABLE } from '../../measure/capacity.ts';
import type { CoilState } from '../../protocol.ts';
import { CoilWetness } from '../../signal/coil-wetness.ts';

/** The flow follows the coil in steps of this part of it, and to its ends. */
const STEP = 0.005;

export class UnitTable {
  table: FanTable | null = null;
  #said: 'dry' | 'wet' | null = null;
  readonly #coil = new CoilWetness();

  /** Takes what a line says of it. True where the flow may be another. */
  tell({ fanTable, coil }: UnitLine): boolean {
    if (fanTable !== undefined) this.table = fanTable;
    if (coil !== undefined) this.#said = coil;
    return fanTable !== undefined || coil !== undefined;
  }

  /** 0 dry, 1 wet: as a person says, or as it is seen. */
  get wetness(): number {
    if (this.#said !== null) return this.#said === 'wet' ? 1 : 0;
    return this.#coil.value;
  }

  /** Takes the second that ends at `t`. @param removes whether moisture is taken out; null: not known */
  second(t: number, removes: boolean | null): void {
    this.#coil.second(t, removes);
  }

  clockSet(shiftMs: number): void {
    this.#coil.clockSet(shiftMs);
  }

  /** What the table says of a speed; null where it does not know it. */
  at(fan: string | null): Airflow | null {
    if (this.table === null || fan === null) return null;
    const { basis, plane } = this.table;
    const found = tableFlow(this.table, fan, this.wetness);
    if (found === null) return null;
    const { flowM3s, limitPct } = found;
    const limit = limitPct === undefined ? {} : { limitPct };
    return { source: FAN_TABLE, flowM3s, basis, plane, ...limit };
  }

  /** The table's flow at that speed where it has moved away from the one in use with the coil. */
  moved(fan: string | null, inUse: Airflow | null): Airflow | null {
    if (inUse?.source !== FAN_TABLE) return null;
    const now = this.at(fan);
    if (now === null) return null;
    const step = this.wetness === 0 || this.wetness === 1 ? 0 : STEP * inUse.flowM3s;
    return Math.abs(now.flowM3s - inUse.flowM3s) > step ? now : null;
  }

  toState(): CoilState {
    return { ...this.#coil.seen, said: this.#said };
  }
}
