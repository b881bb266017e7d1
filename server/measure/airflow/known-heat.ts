/**
 * Airflow by a heater of known power that feeds the intake while the fan runs alone: the difference
 * between supply and the air before the heater rises by P/(ṁ c_p). What the probes are off by is there
 * with and without the heater, and cancels.
 */
import { moistHeat } from '../moist-air.ts';
import { NORMAL, statement } from '../gum.ts';
import { errorsOf, type MeasuredFlow } from './flow-error.ts';

export interface KnownHeatInputs {
  powerW: number;
  /** ± of the meter, %. */
  powerLimitPct?: number | undefined;
  /** Of the heat, the part that does not go through the unit, and ± of that part: both 0 to 1. */
  escape?: number | undefined;
  escapeLimit?: number | undefined;
  /** Supply less intake with the heater on, less the same without it, K, and its standard uncertainty. */
  riseK: number;
  riseU: number;
  humidityRatio: number;
  /** Volume per kg of dry air at the supply, m³/kg. */
  supplyVolumeM3kg: number;
}

/** A plug-in meter: ± so much of its reading, % (usual data sheets, no source). */
const METER_PCT = 1;
/** Nobody knows how much escapes beside the intake: 2 % ± 2 % (an assumption, no source). */
const ESCAPE = { part: 0.02, limit: 0.02 };

/** Works it out; null where the air does not get warmer by what could be told from nothing. */
export function knownHeatFlow(x: KnownHeatInputs): (MeasuredFlow & { dryAirKgs: number }) | null {
  if (!(x.riseK > 3 * x.riseU) || !(x.powerW > 0)) return null;
  const escape = x.escape ?? ESCAPE.part;
  const dryAirKgs = (x.powerW * (1 - escape)) / (moistHeat(x.humidityRatio) * x.riseK);
  return {
    flowM3s: dryAirKgs * x.supplyVolumeM3kg,
    dryAirKgs,
    errors: errorsOf([
      ['power', statement((x.powerLimitPct ?? METER_PCT) / 100), null],
      ['escape', statement((x.escapeLimit ?? ESCAPE.limit) / (1 - escape)), null],
      ['temperature', { u: x.riseU / x.riseK, shape: NORMAL }, null],
    ]),
  };
}
