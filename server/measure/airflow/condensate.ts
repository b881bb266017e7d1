/**
 * Airflow by the water that the drain gives: what leaves the air is in the bucket, so with the
 * difference of moisture between return and supply it says how much dry air went through. The latent
 * capacity needs neither: water times its heat.
 */
import { REAL_AIR } from '../air-model.ts';
import { RECTANGULAR, statement, type Uncertain } from '../gum.ts';
import { errorsOf, type MeasuredFlow } from './flow-error.ts';

export interface CondensateInputs {
  massKg: number;
  /** ± of the scale, kg. */
  scaleLimitKg?: number | undefined;
  /** ± by which pan, drain and coil may hold more or less at the end than at the start, kg. */
  holdUpLimitKg?: number | undefined;
  seconds: number;
  /** Means over that time: return less supply, kg/kg, and its standard uncertainty. */
  humidityRatioDrop: number;
  dropU: number;
  /** Names the probes that told it: flows by the same ones share their error. Null: nobody knows. */
  dropBy: string | null;
  /** Mean volume per kg of dry air at the supply, m³/kg. */
  supplyVolumeM3kg: number;
}

export interface CondensateFlow extends MeasuredFlow {
  dryAirKgs: number;
  latentW: number;
  latentU95W: number;
}

/** A kitchen scale or a measuring jug: ± so much, kg. */
const SCALE_KG = 0.005;
/** Pan, coil and drain: ± so much more or less at the end, kg (an assumption, no source). */
const HOLD_UP_KG = 0.015;

/** Return's and supply's humidity are each as good as a data sheet says: the kurtosis of two such. */
const TWO_RECTANGLES = RECTANGULAR / 2;

/** Errors of the water as parts of it. */
export function waterErrors(x: CondensateInputs): { scale: Uncertain; holdUp: Uncertain } {
  return {
    scale: statement((x.scaleLimitKg ?? SCALE_KG) / x.massKg),
    holdUp: statement((x.holdUpLimitKg ?? HOLD_UP_KG) / x.massKg),
  };
}

/** Works it out; null where the air loses no moisture that could be told from nothing. */
export function condensateFlow(x: CondensateInputs): CondensateFlow | null {
  if (!(x.humidityRatioDrop > 2 * x.dropU) || !(x.massKg > 0) || !(x.seconds > 0)) return null;
  const waterKgs = x.massKg / x.seconds;
  const dryAirKgs = waterKgs / x.humidityRatioDrop;
  const { scale, holdUp } = waterErrors(x);
  const latentW = waterKgs * REAL_AIR.vapourEnthalpy;
  return {
    flowM3s: dryAirKgs * x.supplyVolumeM3kg,
    dryAirKgs,
    latentW,
    latentU95W: latentW * 1.96 * Math.hypot(scale.u, holdUp.u),
    errors: errorsOf([
      ['water', scale, null],
      ['pan', holdUp, null],
      [
        'moisture',
        { u: x.dropU / x.humidityRatioDrop, shape: TWO_RECTANGLES },
        x.dropBy === null ? null : `probes ${x.dropBy}`,
      ],
    ]),
  };
}
