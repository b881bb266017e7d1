/**
 * The way of the water from the coil into the bucket. The pan fills up to the sill of its outlet first
 * and keeps that; what is above runs off the more slowly the less it is, gathers at the end of the hose
 * and falls in drops. So what the coil takes out comes later, and some of it in the next half hour.
 */

export interface DrainParameters {
  /** Water that stays in the pan below the sill, kg. */
  readonly sillKg: number;
  /** What is above it runs off with this time constant, s. */
  readonly panS: number;
}

/** A drop at the end of a hose, kg. */
const DROP_KG = 0.0001;

export class Drain {
  #parameters: DrainParameters;
  #panKg = 0;
  #hoseKg = 0;
  #drainedKg = 0;

  constructor(parameters: DrainParameters) {
    this.#parameters = parameters;
  }

  become(parameters: DrainParameters): void {
    this.#parameters = parameters;
  }

  /** Water on its way, in pan and hose, and fallen since the start, kg. */
  get panKg(): number {
    return this.#panKg + this.#hoseKg;
  }
  get drainedKg(): number {
    return this.#drainedKg;
  }

  /** Moves on by `dtS` seconds in which so much has come from the coil. */
  step(dtS: number, inKg: number): void {
    const { sillKg, panS } = this.#parameters;
    const runsKg = Math.max(0, this.#panKg - sillKg) * (1 - Math.exp(-dtS / panS));
    this.#panKg += inKg - runsKg;
    this.#hoseKg += runsKg;
    const dropsKg = Math.floor(this.#hoseKg / DROP_KG) * DROP_KG;
    this.#hoseKg -= dropsKg;
    this.#drainedKg += dropsKg;
  }
}
