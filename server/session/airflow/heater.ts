/** A metered heater before the intake, with the fan alone: on from the start to the end. */
import type { HeatEvent } from '../../../adapters/contract.ts';
import { knownHeatFlow } from '../../measure/airflow/known-heat.ts';
import type { AirflowResult, Measuring } from '../../protocol.ts';
import { DRIES_S } from '../../measure/airflow/coil.ts';
import { type Settled, SettledMean } from '../../signal/settled-mean.ts';
import { resultOf, type Circumstances } from './results.ts';
import type { UnitAir } from './unit-air.ts';
import { otherMessage, type AirWork } from './work.ts';

const WANTED_S = 600;
/** So much of the rise may still be to come. */
const STILL = 0.01;

export class RunningHeat implements AirWork {
  readonly method = 'heat';
  readonly paused = false;
  from: number;
  readonly unit: string;
  readonly #start: HeatEvent;
  readonly #before: Settled | null;
  readonly #wetness: number;
  readonly #on = new SettledMean();
  #last: UnitAir | null = null;

  /**
   * @param wetness of the coil, 0 to 1: heat that dries it is missed in the air
   * @param before supply less return while the fan ran alone before it */
  constructor(line: HeatEvent, before: Settled | null, wetness: number) {
    this.#wetness = wetness;
    this.from = line.t;
    this.unit = line.unit;
    this.#start = line;
    this.#before = before;
  }

  second(air: UnitAir): void {
    this.#on.second(air.riseK ?? NaN);
    if (air.supplyVolumeM3kg !== null) this.#last = air;
  }

  message(t: number, phase: Measuring['phase'], said: string | null): Measuring {
    const rise = this.#rise();
    const passed = (t - this.from) / 1000;
    const settled = rise !== null && Math.abs(rise.ahead) <= STILL * Math.abs(rise.mean);
    const progress = settled ? Math.min(1, passed / WANTED_S) : Math.min(0.95, passed / WANTED_S);
    const wet = this.#wetness > 0;
    const text = wet
      ? this.#stillWet()
      : this.#before === null
        ? 'Nothing was known before the heater came on: cancel, let the fan run alone for 3 min, and begin again.'
        : progress < 1
          ? 'Stay with the heater. Leave it on until the rise has settled.'
          : 'Settled. Read the meter, tap End, and switch the heater off.';
    return otherMessage(this, t, phase, {
      ...{ text: said ?? text, warns: wet || this.#before === null, progress },
      difference: rise?.mean ?? null,
      differenceU95: rise === null ? null : 1.96 * rise.u,
    });
  }

  /** @returns the flow, or why there is none, as a sentence */
  end(line: HeatEvent, about: Circumstances): AirflowResult | string {
    if (this.#wetness > 0) return `${this.#stillWet()} No airflow.`;
    const powerW = line.powerW ?? this.#start.powerW;
    const rise = this.#rise();
    if (powerW === undefined) return 'The power of the heater was not given: no airflow.';
    if (this.#before === null) {
      return 'The fan did not run alone before the heater came on: no airflow. Let it run for 3 min first.';
    }
    const volume = this.#last?.supplyVolumeM3kg ?? null;
    if (rise === null || volume === null) {
      return 'Return or supply was not heard long enough: no airflow. Leave the heater on for 10 min.';
    }
    // What a probe is off by is not quite the same in the warmer air, as after a check.
    const scaleU = (this.#last?.risePerK ?? 0) * rise.mean;
    const flow = knownHeatFlow({
      powerW,
      powerLimitPct: line.powerLimitPct ?? this.#start.powerLimitPct,
      escape: line.escape ?? this.#start.escape,
      escapeLimit: line.escapeLimit ?? this.#start.escapeLimit,
      riseK: rise.mean,
      riseU: Math.hypot(rise.u, scaleU),
      humidityRatio: this.#last?.humidityRatio ?? 0.008,
      supplyVolumeM3kg: volume,
    });
    if (flow === null) {
      return 'The supply did not get warmer against the return. Hang the return probe before the heater, in the room’s air.';
    }
    const warnings: string[] = [];
    if (Math.abs(rise.ahead) > STILL * rise.mean) {
      warnings.push(
        `The rise had not settled: some ${Math.round(Math.abs(100 * rise.ahead) / rise.mean)} % of it was still to come.`,
      );
    }
    return resultOf('heat', 'supply', flow, about, { warnings });
  }

  clockSet(shiftMs: number): void {
    this.from += shiftMs;
  }

  #stillWet(): string {
    const minutes = Math.ceil((this.#wetness * DRIES_S) / 60);
    return `The coil is still wet, and heat that dries it would be missed: cancel, and let the fan run alone for ${minutes} min.`;
  }

  /** On less before, K. */
  #rise(): Settled | null {
    const on = this.#on.result();
    if (on === null || this.#before === null) return null;
    const { mean, u } = this.#before;
    return { ...on, mean: on.mean - mean, u: Math.hypot(on.u, u) };
  }
}
