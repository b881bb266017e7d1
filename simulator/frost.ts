/** Frost on the outdoor coil when heating: how fast it grows, what it costs, when it is melted. */
import { saturationHumidityRatio } from '../server/measure/moist-air.ts';
import type { Air } from './air.ts';

export interface FrostParameters {
  /** Outdoor airflow, kg/s of dry air, and the contact factor of that coil. */
  readonly dryAirKgS: number;
  readonly contactFactor: number;
  /** How far the coil is below the outdoor air: with hardly any load, and more at full load, K. */
  readonly belowK: number;
  readonly belowMoreK: number;
  /** Frost at which a defrost begins, kg, and the part of capacity that is lost by then. */
  readonly limitKg: number;
  readonly loss: number;
  /** Heat that melts it, W. Ends when all is gone. */
  readonly meltW: number;
  /** The machine heats for at least this long between defrosts, s. */
  readonly betweenS: number;
}

/** Heat of fusion of ice, J/kg. */
const FUSION_JKG = 334_000;

export class Frost {
  #parameters: FrostParameters;
  readonly #pressurePa: number;
  #kg: number;

  constructor(parameters: FrostParameters, pressurePa: number, startKg: number) {
    this.#parameters = parameters;
    this.#pressurePa = pressurePa;
    this.#kg = startKg;
  }

  /** Grows and melts otherwise from now on; what is there stays. */
  become(parameters: FrostParameters): void {
    this.#parameters = parameters;
  }

  get kg(): number {
    return this.#kg;
  }
  /** Whether there is so much that it should be melted. */
  get full(): boolean {
    return this.#kg >= this.#parameters.limitKg;
  }
  /** What is left of the capacity, as a factor. */
  get factor(): number {
    const { loss, limitKg } = this.#parameters;
    return 1 - loss * Math.min(this.#kg / limitKg, 1.5);
  }

  /** Frost that settles in `dtS` seconds of heating at a part of full load. */
  grow(dtS: number, outdoor: Air, load: number): void {
    const p = this.#parameters;
    const coilC = outdoor.temperatureC - p.belowK - p.belowMoreK * load;
    if (coilC >= 0) return;
    const excess = outdoor.humidityRatio - saturationHumidityRatio(coilC, this.#pressurePa);
    this.#kg += dtS * p.dryAirKgS * p.contactFactor * Math.max(excess, 0);
  }

  /** Melts for `dtS` seconds. @returns true when none is left */
  melt(dtS: number): boolean {
    this.#kg = Math.max(this.#kg - (dtS * this.#parameters.meltW) / FUSION_JKG, 0);
    return this.#kg === 0;
  }
}
