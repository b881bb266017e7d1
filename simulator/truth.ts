/** What is so, as against what the probes say: for tests and benchmarks. */
import { moistHeat, REAL_AIR } from '../server/measure/air-model.ts';
import { type Air, enthalpyOf } from './air.ts';
import type { IndoorUnit } from './indoor-unit.ts';
import type { Room } from './room.ts';
import type { Thermostat } from './thermostat.ts';

/** The truth of one unit, of the latest inner step. */
export interface UnitTruth {
  readonly return: Air;
  readonly supply: Air;
  readonly room: Air;
  /** What comes into the room: the supply, but for a duct in between. */
  readonly register: Air;
  readonly dryAirKgS: number;
  /** Actual flow at the supply, m³/s. */
  readonly flowM3s: number;
  /** Delivered capacity, W: positive is what the mode asks for. Sensible and latent add up to it. */
  readonly totalW: number;
  readonly sensibleW: number;
  readonly latentW: number;
  /** Water that leaves the air (negative: goes back into it), kg/s. */
  readonly condensateKgS: number;
  readonly surfaceC: number;
  readonly wetShare: number;
  readonly calling: boolean;
}

/**
 * The truth of a unit, from the states of its air.
 * @param sign 1 when cooling, −1 when heating
 */
export function unitTruth(
  parts: { readonly unit: IndoorUnit; readonly room: Room; readonly thermostat: Thermostat },
  sign: number,
): UnitTruth {
  const { unit, room, thermostat } = parts;
  const { dryAirKgS, return: a, supply: b } = unit;
  const flow = sign * dryAirKgS;
  const sensible = (air: Air): number => moistHeat(air.humidityRatio) * air.temperatureC;
  return {
    return: a,
    supply: b,
    room: room.air,
    register: unit.register,
    dryAirKgS,
    flowM3s: unit.flowM3s,
    totalW: flow * (enthalpyOf(a) - enthalpyOf(b)),
    sensibleW: flow * (sensible(a) - sensible(b)),
    latentW: flow * REAL_AIR.vapourEnthalpy * (a.humidityRatio - b.humidityRatio),
    condensateKgS: dryAirKgS * (a.humidityRatio - b.humidityRatio),
    surfaceC: unit.coil.surfaceC,
    wetShare: unit.coil.wetShare,
    calling: thermostat.calling && !unit.fanAlone,
  };
}
