/**
 * A room: one well mixed air node with the things that follow its temperature at once, a heavy mass
 * (walls, floor, books) behind it, and a store of moisture (paper, plaster, wood).
 *
 * It keeps account in energy and water, not in temperature and humidity, so that what goes in is in
 * it to the last joule and gram. Energy counts from 0 °C, dry air and liquid water.
 */
import { DRY_AIR_HEAT, REAL_AIR, volumeM3kg } from '../server/measure/air-model.ts';
import { humidityRatio } from '../server/measure/moist-air.ts';
import { type Air, enthalpyOf, vapourEnthalpyJkg } from './air.ts';

export interface RoomParameters {
  readonly volumeM3: number;
  /** Air at the start, °C and %. */
  readonly temperatureC: number;
  readonly humidityPct: number;
  /** The heavy mass at the start, °C. */
  readonly massTemperatureC: number;
  /** Heat capacity of what follows the air at once: furniture, surfaces, J/K. */
  readonly contentsJK: number;
  /** Heat capacity of the heavy mass, J/K, and its conductances to the air and outdoors, W/K. */
  readonly massJK: number;
  readonly massAirWK: number;
  readonly massOutdoorWK: number;
  /** Air to outdoors without mass: windows, doors, W/K. */
  readonly glazingWK: number;
  /** Outdoor air that leaks in, air changes an hour. */
  readonly infiltrationPerH: number;
  /** Sensible gains of people, sun and machines at the start, W, and their drift, W/h. */
  readonly sensibleW: number;
  readonly sensibleDriftWPerH: number;
  /** Moisture given off by people, kg/h. */
  readonly moistureKgH: number;
  /** The moisture store, as the dry air that would hold as much, kg; its exchange with the air, kg/s. */
  readonly bufferKg: number;
  readonly bufferKgS: number;
}

/** What passes through the room's borders in one step, beside its own gains. */
export interface RoomInflow {
  readonly outdoor: Air;
  /** Heat and water that the indoor unit puts into the air (negative: takes out), W and kg/s. */
  readonly unitW: number;
  readonly unitKgS: number;
}

export class Room {
  /** Dry air in the room, kg. */
  readonly dryAirKg: number;
  #parameters: RoomParameters;
  #air: Air;
  #energyJ: number;
  #massC: number;
  #bufferRatio: number;
  #bufferJ = 0; // since the start

  constructor(parameters: RoomParameters, pressurePa: number) {
    const { temperatureC, humidityPct, volumeM3, massTemperatureC } = parameters;
    const W = humidityRatio(temperatureC, humidityPct, pressurePa);
    this.#parameters = parameters;
    this.#air = { temperatureC, humidityRatio: W };
    this.dryAirKg = volumeM3 / volumeM3kg(temperatureC, W, pressurePa);
    this.#energyJ = this.dryAirKg * enthalpyOf(this.#air) + parameters.contentsJK * temperatureC;
    this.#massC = massTemperatureC;
    this.#bufferRatio = W;
  }

  get air(): Air {
    return this.#air;
  }

  /** Has other gains, walls or contents from now on; air and mass stay as warm and as damp as they are. */
  become(parameters: RoomParameters): void {
    const moreJK = parameters.contentsJK - this.#parameters.contentsJK;
    this.#energyJ += moreJK * this.#air.temperatureC;
    this.#parameters = parameters;
  }

  /** All the energy in the room: air, contents, mass and stored moisture, J. */
  get energyJ(): number {
    return this.#energyJ + this.#bufferJ + this.#parameters.massJK * this.#massC;
  }

  /** All the water in the room: vapour and stored moisture, kg. */
  get waterKg(): number {
    const { bufferKg } = this.#parameters;
    return this.dryAirKg * this.#air.humidityRatio + bufferKg * this.#bufferRatio;
  }

  /**
   * Moves the room on by `dtS` seconds (a second or less).
   * @param elapsedS seconds since the start, for the drift of the gains
   */
  step(dtS: number, elapsedS: number, inflow: RoomInflow): void {
    const p = this.#parameters;
    const { temperatureC: t, humidityRatio: W } = this.#air;
    const { outdoor } = inflow;
    const vapour = vapourEnthalpyJkg(t);

    const infiltrationKgS = (p.infiltrationPerH / 3600) * this.dryAirKg;
    const fromBufferKgS = p.bufferKgS * (this.#bufferRatio - W);
    const peopleKgS = p.moistureKgH / 3600;
    const toMassW = p.massAirWK * (t - this.#massC);
    const airW =
      inflow.unitW +
      infiltrationKgS * (enthalpyOf(outdoor) - enthalpyOf(this.#air)) +
      p.glazingWK * (outdoor.temperatureC - t) +
      p.sensibleW +
      (p.sensibleDriftWPerH * elapsedS) / 3600 +
      (fromBufferKgS + peopleKgS) * vapour -
      toMassW;
    const waterKgS =
      inflow.unitKgS + infiltrationKgS * (outdoor.humidityRatio - W) + fromBufferKgS + peopleKgS;

    const newW = Math.max(W + (dtS * waterKgS) / this.dryAirKg, 0);
    this.#energyJ += dtS * airW;
    this.#bufferJ -= dtS * fromBufferKgS * vapour;
    this.#massC +=
      (dtS * (toMassW + p.massOutdoorWK * (outdoor.temperatureC - this.#massC))) / p.massJK;
    if (p.bufferKg > 0) this.#bufferRatio -= (dtS * fromBufferKgS) / p.bufferKg;
    this.#air = { temperatureC: this.#temperatureAt(newW), humidityRatio: newW };
  }

  /** The temperature at which air and contents together hold their energy. */
  #temperatureAt(W: number): number {
    const kg = this.dryAirKg;
    return (
      (this.#energyJ - kg * W * REAL_AIR.vapourEnthalpy) /
      (kg * (DRY_AIR_HEAT + W * REAL_AIR.vapourHeat) + this.#parameters.contentsJK)
    );
  }
}
