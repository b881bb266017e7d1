/**
 * How sure a capacity is: first-order propagation by the GUM (JCGM 100:2008, 5.1 and 5.2) with
 * sensitivities in closed form.
 *
 * A data-sheet limit ±a is a rectangular distribution, u = a/√3 (4.3.7). At one place the errors of
 * temperature and humidity ratio are correlated (W comes from the same probe's temperature), which is
 * kept as a 2×2 covariance; different probes, the airflow and the pressure are independent.
 */
import { type AirModel, moistHeat, REAL_AIR, VOLUME_RATIO } from './air-model.ts';
import { type AirPoint, type Capacity, effectiveSupply, type Flow, type Mode } from './capacity.ts';
import { ZERO_CELSIUS_K } from './saturation.ts';

/** Coverage factor for 95 % of a normal distribution. */
export const K95 = 1.96;

/** Standard uncertainty of a quantity known within ±a: rectangular. */
export function rectangular(halfWidth: number): number {
  return halfWidth / Math.sqrt(3);
}

/** Covariance of temperature and humidity ratio at a place, K², K·kg/kg, (kg/kg)². */
export interface PointCovariance {
  tt: number;
  tw: number;
  ww: number;
}

/** One probe of a place: its readings, their standard uncertainties, and how W follows from them. */
export interface ProbeShare {
  temperatureC: number;
  /** Null for a probe that tells no humidity. */
  humidityRatio: number | null;
  /** u of the temperature, K. */
  uTemperature: number;
  /** u of the humidity reading: % RH or K of dew point. */
  uHumidity: number;
  /** ∂W/∂t and ∂W/∂(humidity reading). */
  wPerK: number;
  wPerHumidity: number;
}

/**
 * Covariance of the mean over the probes of one place: each probe's own limits, and the spread of
 * the probes among themselves (s²/n, type A; 4.2.3 and 5.2.3), which is what the air at the place
 * differs by: where it is warmer it is often also more humid, and that counts.
 */
export function meanCovariance(probes: readonly ProbeShare[]): PointCovariance {
  const n = probes.length;
  let nW = 0;
  let meanT = 0;
  let meanW = 0;
  for (const p of probes) {
    meanT += p.temperatureC / n;
    if (p.humidityRatio === null) continue;
    nW++;
    meanW += p.humidityRatio;
  }
  meanW /= nW;
  let tt = 0;
  let tw = 0;
  let ww = 0;
  let spreadT = 0;
  let spreadTW = 0;
  let spreadW = 0;
  for (const p of probes) {
    const t2 = p.uTemperature ** 2;
    tt += t2 / n ** 2;
    spreadT += (p.temperatureC - meanT) ** 2;
    if (p.humidityRatio === null) continue;
    tw += (t2 * p.wPerK) / (n * nW);
    ww += (t2 * p.wPerK ** 2 + (p.uHumidity * p.wPerHumidity) ** 2) / nW ** 2;
    spreadTW += (p.temperatureC - meanT) * (p.humidityRatio - meanW);
    spreadW += (p.humidityRatio - meanW) ** 2;
  }
  if (n > 1) tt += spreadT / (n - 1) / n;
  if (nW > 1) {
    tw += spreadTW / (nW - 1) / n;
    ww += spreadW / (nW - 1) / nW;
  }
  return { tt, tw, ww };
}

/** Standard uncertainties of a capacity, W. */
export interface CapacityUncertainty {
  totalW: number;
  sensibleW: number;
  latentW: number;
}

/** What the propagation needs beside the capacity itself. */
export interface UncertaintyInputs {
  mode: Mode;
  ret: AirPoint;
  supply: AirPoint;
  flow: Flow;
  pPa: number;
  retCovariance: PointCovariance;
  supplyCovariance: PointCovariance;
  /** Relative standard uncertainty of the flow. */
  uFlowRelative: number;
  /** Standard uncertainty of the pressure, Pa; it enters by the specific volume. */
  uPressurePa: number;
}

/** Propagates into total, sensible and latent. `result` is `capacity(...)` of the same inputs. */
export function capacityUncertainty(
  result: Capacity,
  x: UncertaintyInputs,
  model: AirModel = REAL_AIR,
): CapacityUncertainty {
  const { mode, ret, flow } = x;
  const sup = effectiveSupply(mode, ret, x.supply);
  const heating = mode === 'heating';
  const m = heating ? -result.dryAirKgs : result.dryAirKgs;
  const actual = flow.basis === 'actual';
  const atReturn = flow.plane === 'return';
  const at = atReturn ? ret : sup;
  // An actual flow makes ṁ = Q/v: relative sensitivity of 1/v to t and W of its plane.
  const perK = actual ? -1 / (at.temperatureC + ZERO_CELSIUS_K) : 0;
  const perW = actual ? -VOLUME_RATIO / (1 + VOLUME_RATIO * at.humidityRatio) : 0;

  /** u of y = ṁ (g1 − g2), given ∂g/∂t and ∂g/∂W on both sides. */
  const propagate = (y: number, t1: number, w1: number, t2: number, w2: number): number => {
    let a1 = m * t1;
    let b1 = m * w1;
    let a2 = -m * t2;
    let b2 = -m * w2;
    if (atReturn) {
      a1 += y * perK;
      b1 += y * perW;
    } else {
      a2 += y * perK;
      b2 += y * perW;
    }
    if (heating) {
      // The supply's humidity is the return's.
      b1 += b2;
      b2 = 0;
    }
    const c1 = x.retCovariance;
    const c2 = x.supplyCovariance;
    const pressure = actual ? (y * x.uPressurePa) / x.pPa : 0;
    return Math.sqrt(
      Math.max(
        0,
        a1 * a1 * c1.tt +
          2 * a1 * b1 * c1.tw +
          b1 * b1 * c1.ww +
          a2 * a2 * c2.tt +
          2 * a2 * b2 * c2.tw +
          b2 * b2 * c2.ww +
          (y * x.uFlowRelative) ** 2 +
          pressure ** 2,
      ),
    );
  };

  const c1 = moistHeat(ret.humidityRatio, model);
  const c2 = moistHeat(sup.humidityRatio, model);
  const v1 = model.vapourHeat * ret.temperatureC;
  const v2 = model.vapourHeat * sup.temperatureC;
  const h = model.vapourEnthalpy;
  return {
    totalW: propagate(result.totalW, c1, h + v1, c2, h + v2),
    sensibleW: propagate(result.sensibleW, c1, v1, c2, v2),
    latentW: heating ? 0 : propagate(result.latentW, 0, h, 0, h),
  };
}
