/** The water of a drain, from the moment when the bucket is put under it until it is weighed. */
import type { CondensateEvent } from '../../../adapters/contract.ts';
import { condensateFlow } from '../../measure/airflow/condensate.ts';
import type { AirflowResult, Measuring } from '../../protocol.ts';
import { resultOf, type Circumstances } from './results.ts';
import type { UnitAir } from './unit-air.ts';
import { otherMessage, type AirWork } from './work.ts';
import { sent } from '../../words/sent.ts';

/** So long it should run, s. */
const WANTED_S = 1800;
/** A coil that is wet to so much holds all the water that it will. */
const WET = 0.95;
const TOO_DRY = sent`The coil was not wet yet when the bucket went under it: it keeps water that the bucket lacks, and the airflow comes out too low.`;

export class RunningDrain implements AirWork {
  readonly method = 'condensate';
  from: number;
  readonly unit: string;
  /** Sums over the seconds in which the moisture was known. */
  #n = 0;
  #drop = 0;
  #u = 0;
  #volume = 0;
  #dryS = 0;
  /** The probes that told the moisture. */
  readonly #by = new Set<string>();
  /** When the bucket was taken away, ms; null while it is there. */
  #awayT: number | null = null;

  readonly #isTooDry: boolean;

  /** @param wetness of the coil by then, 0 to 1 */
  constructor({ t, unit }: CondensateEvent, wetness: number) {
    this.#isTooDry = wetness < WET;
    this.from = t;
    this.unit = unit;
  }

  get paused(): boolean {
    return this.#awayT !== null;
  }

  /** The bucket is taken away at `t`: it is still to be weighed. */
  pause(t: number): void {
    this.#awayT ??= t;
  }

  second(air: UnitAir, seconds: number): void {
    if (this.#awayT !== null) return;
    if (air.dropW === null || air.supplyVolumeM3kg === null) return;
    this.#n += seconds;
    this.#drop += seconds * air.dropW;
    this.#u += seconds * air.dropU;
    this.#volume += seconds * air.supplyVolumeM3kg;
    for (const { probe } of air.probes) this.#by.add(probe.id);
    if (air.dropW < air.dropU) this.#dryS += seconds;
  }

  message(t: number, phase: Measuring['phase'], said: string | null): Measuring {
    const passed = ((this.#awayT ?? t) - this.from) / 1000;
    const progress = Math.min(1, passed / WANTED_S);
    const drop = this.#n === 0 ? null : this.#drop / this.#n;
    const dropU = this.#n === 0 ? null : this.#u / this.#n;
    const minutes = Math.max(1, Math.ceil((WANTED_S - passed) / 60));
    const still = drop !== null && dropU !== null && drop < 2 * dropU;
    const text =
      this.#awayT !== null
        ? sent`Weigh the water, enter it, and tap End.`
        : still
          ? sent`The air loses too little moisture to tell. Wait until the coil is wet and cooling is steady, then begin again.`
          : this.#isTooDry
            ? sent`${TOO_DRY} Cancel, let it cool steadily for 15 min, empty the bucket, and begin again.`
            : progress < 1
              ? sent`Leave the bucket under the drain for ${minutes} min more, with the unit cooling steadily.`
              : sent`Enough. Take the bucket away, and tap that it is.`;
    return otherMessage(this, t, phase, {
      ...{ text: said ?? text, warns: still || (this.#isTooDry && this.#awayT === null), progress },
      difference: drop,
      differenceU95: dropU === null ? null : 1.96 * dropU,
    });
  }

  /** @returns the flow, or why there is none, as a sentence */
  end(line: CondensateEvent, about: Circumstances): AirflowResult | string {
    const seconds = ((this.#awayT ?? line.t) - this.from) / 1000;
    if (this.#n === 0) {
      return sent`Return or supply had no humidity meanwhile: no airflow. Hang probes that measure it.`;
    }
    const flow = condensateFlow({
      massKg: line.massKg ?? NaN,
      scaleLimitKg: line.scaleLimitKg,
      holdUpLimitKg: line.holdUpLimitKg,
      seconds,
      humidityRatioDrop: this.#drop / this.#n,
      dropU: this.#u / this.#n,
      dropBy: this.#by.size === 0 ? null : [...this.#by].toSorted().join(' '),
      supplyVolumeM3kg: this.#volume / this.#n,
    });
    if (flow === null) {
      return sent`The air lost too little moisture to tell the airflow. Use another method, or a more humid day.`;
    }
    const warnings = this.#isTooDry ? [TOO_DRY] : [];
    if (seconds < 0.8 * WANTED_S) {
      warnings.push(
        sent`Only ${Math.round(seconds / 60)} min: over half an hour the water in pan and drain matters less.`,
      );
    }
    if (this.#n < 0.9 * seconds) {
      warnings.push(
        sent`The moisture was known for ${Math.round((100 * this.#n) / seconds)} % of the time only.`,
      );
    }
    if (this.#dryS > 0.1 * seconds) {
      warnings.push(
        sent`For part of the time no moisture was taken out: steady cooling is needed.`,
      );
    }
    return resultOf('condensate', 'supply', flow, about, {
      ...{ latentW: flow.latentW, latentU95W: flow.latentU95W, warnings },
    });
  }

  clockSet(shiftMs: number): void {
    this.from += shiftMs;
    if (this.#awayT !== null) this.#awayT += shiftMs;
  }
}
