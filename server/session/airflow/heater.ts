/** A metered heater before the intake, with the fan alone: on from the start to the end. */
import type { HeatEvent } from '../../../adapters/contract.ts';
import { knownHeatFlow } from '../../measure/airflow/known-heat.ts';
import type { AirflowResult, Measuring } from '../../protocol.ts';
import { DRIES_S } from '../../measure/airflow/coil.ts';
import { type Settled, SettledMean } from '../../signal/settled-mean.ts';
import { resultOf, type Circumstances } from './results.ts';
import type { UnitAir } from './unit-air.ts';
import { otherMessage, waited, type AirWork } from './work.ts';
import { sent } from '../../words/sent.ts';

const WANTED_S = 600;
/** So much of the rise may still be to come. */
const STILL = 0.01;
/** The fan alone makes no more difference, K: else the compressor ran (an assumption, no source). */
const FAN_ALONE_K = 2;

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
  #wetNow: number;

  /**
   * @param wetness of the coil by then, 0 to 1: heat that dries it is missed in the air
   * @param before supply less return while the fan ran alone before it */
  constructor(line: HeatEvent, before: Settled | null, wetness: number) {
    this.#wetness = wetness;
    this.#wetNow = wetness;
    this.from = line.t;
    this.unit = line.unit;
    this.#start = line;
    this.#before = before;
  }

  second(air: UnitAir): void {
    this.#wetNow = air.wetness;
    this.#on.second(air.riseK ?? NaN);
    if (air.supplyVolumeM3kg !== null) this.#last = air;
  }

  message(t: number, phase: Measuring['phase'], said: string | null): Measuring {
    const rise = this.#rise();
    const settled = rise !== null && Math.abs(rise.ahead) <= STILL * Math.abs(rise.mean);
    const now = waited(rise, settled, (t - this.from) / 1000, WANTED_S);
    const why = this.#why();
    const text =
      why ??
      (now.progress < 1
        ? sent`Stay with the heater. Leave it on until the rise has settled.`
        : sent`Settled. Read the meter, tap End, and switch the heater off.`);
    return otherMessage(this, t, phase, { text: said ?? text, warns: why !== null, ...now });
  }

  /** @returns the flow, or why there is none, as a sentence */
  end(line: HeatEvent, about: Circumstances): AirflowResult | string {
    const why = this.#why();
    if (why !== null) return sent`${why} No airflow.`;
    const powerW = line.powerW ?? this.#start.powerW;
    const rise = this.#rise();
    if (powerW === undefined) return sent`The power of the heater was not given: no airflow.`;
    const volume = this.#last?.supplyVolumeM3kg ?? null;
    if (rise === null || volume === null) {
      return sent`Return or supply was not heard long enough: no airflow. Leave the heater on for 10 min.`;
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
      return sent`The supply did not get warmer against the return. Hang the return probe before the heater, in the room’s air.`;
    }
    const warnings: string[] = [];
    if (Math.abs(rise.ahead) > STILL * rise.mean) {
      warnings.push(
        sent`The rise had not settled: some ${Math.round(Math.abs(100 * rise.ahead) / rise.mean)} % of it was still to come.`,
      );
    }
    return resultOf('heat', 'supply', flow, about, { warnings });
  }

  clockSet(shiftMs: number): void {
    this.from += shiftMs;
  }

  /** Why nothing can come of it, and what to do; null: something can. It began wrong, and goes on so. */
  #why(): string | null {
    if (this.#wetness > 0) {
      const was = sent`The coil was wet when the heater came on, and heat that dries it is missed.`;
      const minutes = Math.ceil((this.#wetNow * DRIES_S) / 60);
      return minutes > 0
        ? sent`${was} Cancel, switch the heater off, and let the fan run alone for ${minutes} min more.`
        : sent`${was} It is dry now: cancel, let the fan run for 3 min with the heater off, and begin again.`;
    }
    if (this.#before === null) {
      return sent`The fan did not run alone before the heater came on: cancel, let it run for 3 min with the heater off, and begin again.`;
    }
    if (Math.abs(this.#before.mean) > FAN_ALONE_K) {
      return sent`The compressor ran before the heater came on: cancel, let the fan run alone for 3 min with both off, and begin again.`;
    }
    return null;
  }

  /** On less before, K. */
  #rise(): Settled | null {
    const on = this.#on.result();
    if (on === null || this.#before === null) return null;
    const { mean, u } = this.#before;
    return { ...on, mean: on.mean - mean, u: Math.hypot(on.u, u) };
  }
}
