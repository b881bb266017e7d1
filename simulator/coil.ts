/**
 * The coil of an indoor unit, by contact factor and apparatus dew point: of the air that passes, a
 * part (the contact factor) leaves as if it had been brought to the surface's own state, the rest
 * (the bypass) leaves as it came. So the leaving state lies on the straight line from the entering
 * air to saturated air at the surface temperature (ASHRAE Handbook—Fundamentals and any textbook of
 * air conditioning).
 *
 * The surface is a lump of metal between air and refrigerant. Around its mean temperature it is
 * colder at one end and warmer at the other, so that it becomes wet bit by bit. Water that has
 * condensed stays on the fins up to a limit and then drains; what is left on a part of the coil that
 * is no longer cold enough goes back into the air (latent capacity turns negative when the
 * compressor stops and the fan runs on).
 */
import {
  dewPointC,
  saturationHumidityRatio,
  vapourPressurePa,
} from '../server/measure/moist-air.ts';
import { type Air, airOfEnthalpy, enthalpyOf, WATER_HEAT, withoutFog } from './air.ts';
import { Drain } from './drain.ts';

export interface CoilParameters {
  /** Contact factor at the reference flow, 0…1, and that flow, kg/s of dry air. */
  readonly contactFactor: number;
  readonly referenceKgS: number;
  /** Heat capacity of the metal and the refrigerant in it, J/K. */
  readonly heatJK: number;
  /** Water that the fins hold when all of the coil is wet, kg. */
  readonly holdUpKg: number;
  /** How far the ends of the surface are from its mean temperature, K. */
  readonly spreadK: number;
  /** The pan: what stays in it below the sill of its outlet, kg, and its time constant, s. */
  readonly sillKg: number;
  readonly panS: number;
}

/** What one kg of dry air does in passing. */
export interface Passage {
  readonly leaving: Air;
  /** Part of the coil that is cold enough to condense, 0…1. */
  readonly condensingShare: number;
  /** Water left on the coil, and taken from it, kg/kg of dry air. */
  readonly condensed: number;
  readonly evaporated: number;
}

/** Contact factor at another flow: transfer units ∝ flow^−0.4 (heat transfer ∝ flow^0.6). */
export function contactFactorAt(parameters: CoilParameters, dryAirKgS: number): number {
  const units = -Math.log(1 - parameters.contactFactor);
  return 1 - Math.exp(-units * (dryAirKgS / parameters.referenceKgS) ** -0.4);
}

/**
 * Air through a coil of a given surface temperature.
 * @param contactFactor 0…1
 * @param surface its mean temperature and spread
 * @param wetShare part of the coil that carries water, 0…1
 */
export function passCoil(
  entering: Air,
  contactFactor: number,
  surface: { temperatureC: number; spreadK: number },
  wetShare: number,
  pressurePa: number,
): Passage {
  const { temperatureC: surfaceC, spreadK } = surface;
  const W = entering.humidityRatio;
  const dewC = dewPointC(vapourPressurePa(W, pressurePa), pressurePa) ?? -60;

  // Surface temperatures are spread evenly from one end to the other; those below the dew point
  // condense, each end at its own mean temperature.
  const coldShare = (dewC - (surfaceC - spreadK)) / (2 * spreadK);
  const condensingShare = Math.min(Math.max(coldShare, 0), 1);
  const coldC = condensingShare < 1 ? (surfaceC - spreadK + dewC) / 2 : surfaceC;
  const warmC = condensingShare > 0 ? (dewC + surfaceC + spreadK) / 2 : surfaceC;
  const condensed =
    condensingShare > 0
      ? contactFactor * condensingShare * (W - saturationHumidityRatio(coldC, pressurePa))
      : 0;
  const stillWet = Math.max(wetShare - condensingShare, 0);
  const evaporated =
    stillWet > 0
      ? contactFactor * stillWet * Math.max(saturationHumidityRatio(warmC, pressurePa) - W, 0)
      : 0;

  const leaving = withoutFog(
    {
      temperatureC: entering.temperatureC + contactFactor * (surfaceC - entering.temperatureC),
      humidityRatio: W - condensed + evaporated,
    },
    pressurePa,
  );
  return {
    leaving,
    condensingShare,
    condensed: W + evaporated - leaving.humidityRatio, // fog that fell included
    evaporated,
  };
}

export class Coil {
  #parameters: CoilParameters;
  readonly #pressurePa: number;
  #surfaceC: number;
  readonly #drain: Drain;
  #holdUpKg = 0;

  constructor(parameters: CoilParameters, startC: number, pressurePa: number) {
    this.#parameters = parameters;
    this.#pressurePa = pressurePa;
    this.#surfaceC = startC;
    this.#drain = new Drain(parameters);
  }

  /** Is built, or dirty, otherwise from now on; its warmth and its water stay. */
  become(parameters: CoilParameters): void {
    this.#parameters = parameters;
    this.#drain.become(parameters);
  }

  /** Mean surface temperature, °C: the apparatus dew point where the coil is wet. */
  get surfaceC(): number {
    return this.#surfaceC;
  }

  /** Water on the fins, kg; it narrows the way of the air. */
  get holdUpKg(): number {
    return this.#holdUpKg;
  }

  /** Part of the coil that carries water, 0…1. */
  get wetShare(): number {
    return Math.min(this.#holdUpKg / this.#parameters.holdUpKg, 1);
  }

  /** Water in the pan and gone down the drain since the start, kg. */
  get panKg(): number {
    return this.#drain.panKg;
  }
  get drainedKg(): number {
    return this.#drain.drainedKg;
  }

  /** Energy in the metal, J above 0 °C. */
  get energyJ(): number {
    return this.#parameters.heatJK * this.#surfaceC;
  }

  /**
   * Moves the coil on by `dtS` seconds (a second or less).
   * @param refrigerantW heat that the refrigerant takes (negative: gives)
   * @returns the air as it leaves
   */
  step(dtS: number, entering: Air, dryAirKgS: number, refrigerantW: number): Air {
    const p = this.#parameters;
    const passage = passCoil(
      entering,
      contactFactorAt(p, dryAirKgS),
      { temperatureC: this.#surfaceC, spreadK: p.spreadK },
      this.wetShare,
      this.#pressurePa,
    );
    const condensedKg = passage.condensed * dryAirKgS * dtS;
    const evaporatedKg = Math.min(passage.evaporated * dryAirKgS * dtS, this.#holdUpKg);
    let { leaving } = passage;
    const missingKg = passage.evaporated * dryAirKgS * dtS - evaporatedKg;
    if (missingKg > 0) {
      // The last of the water is gone within the step: the air keeps the heat instead.
      leaving = airOfEnthalpy(
        enthalpyOf(leaving),
        leaving.humidityRatio - missingKg / (dryAirKgS * dtS),
      );
    }

    const netKg = condensedKg - evaporatedKg;
    const fromAirJ = dtS * dryAirKgS * (enthalpyOf(entering) - enthalpyOf(leaving));
    const withWaterJ = netKg * WATER_HEAT * this.#surfaceC;
    this.#surfaceC += (fromAirJ - withWaterJ - dtS * refrigerantW) / p.heatJK;
    this.#store(netKg, passage.condensingShare, dtS);
    return leaving;
  }

  /** The fins hold what fits on their cold part; more runs off, but what hangs there stays. */
  #store(netKg: number, condensingShare: number, dtS: number): void {
    const p = this.#parameters;
    const room = Math.max(p.holdUpKg * condensingShare, this.#holdUpKg);
    const water = this.#holdUpKg + netKg;
    const runsOffKg = Math.max(water - room, 0);
    this.#holdUpKg = Math.max(water - runsOffKg, 0);
    this.#drain.step(dtS, runsOffKg);
  }
}
