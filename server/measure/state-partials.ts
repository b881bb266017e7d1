/** W, h and v of moist air with their partial derivatives: what uncertainty is propagated with. */
import { check, checkPressure, checkTemperature } from './air-limits.ts';
import {
  DRY_AIR_GAS_CONSTANT,
  DRY_AIR_HEAT,
  MASS_RATIO,
  PER_STANDARD,
  REAL_AIR,
  VOLUME_RATIO,
} from './air-model.ts';
import {
  enhancement,
  lnEnhancementPerK,
  lnEnhancementPerPa,
  saturationPressurePa,
  saturationSlope,
  ZERO_CELSIUS_K,
} from './saturation.ts';

/** W with its partial derivatives. */
export interface HumidityRatioPartials {
  humidityRatio: number;
  /** ∂/∂t (1/K), ∂/∂RH (1/%), ∂/∂p (1/Pa), each at constant others. */
  wPerK: number;
  wPerPct: number;
  wPerPa: number;
}

/** W, h and v with their partial derivatives: what uncertainty is propagated with. */
export interface StatePartials extends HumidityRatioPartials {
  enthalpyJkg: number;
  volumeM3kg: number;
  hPerK: number;
  hPerPct: number;
  hPerPa: number;
  vPerK: number;
  vPerPct: number;
  vPerPa: number;
}

/**
 * W from temperature and relative humidity, with its partial derivatives in closed form (eq. 20 and
 * `lnEnhancement` differentiated).
 */
export function humidityRatioPartials(
  tC: number,
  rhPct: number,
  pPa: number,
  model = REAL_AIR,
): HumidityRatioPartials {
  checkTemperature(tC);
  checkPressure(pPa);
  check(rhPct, 0, 100, 'relative humidity', '%');
  const ps = saturationPressurePa(tC);
  const slope = saturationSlope(tC);
  let sat = ps;
  let lnPerK = slope;
  let lnPerPa = 0;
  if (model.enhanced) {
    sat = ps * enhancement(tC, pPa, ps);
    lnPerK += lnEnhancementPerK(tC, pPa, ps, slope);
    lnPerPa = lnEnhancementPerPa(tC, pPa, ps);
  }
  const pw = rhPct * 0.01 * sat;
  check(pw, 0, pPa * 0.9, 'vapour pressure', 'Pa');
  const dry = pPa - pw;
  const W = (MASS_RATIO * pw) / dry;
  // dW = W p/(p − p_w) d ln p_w − W/(p − p_w) dp
  const gain = pPa / dry;
  return {
    humidityRatio: W,
    wPerK: W * gain * lnPerK,
    wPerPct: (MASS_RATIO * 0.01 * sat * gain) / dry,
    wPerPa: W * gain * lnPerPa - W / dry,
  };
}

/**
 * W, h and v from temperature and relative humidity, with all nine partial derivatives in closed
 * form (docs: eqs. 26 and 30 differentiated as well).
 */
export function statePartials(
  tC: number,
  rhPct: number,
  pPa: number,
  model = REAL_AIR,
): StatePartials {
  const { humidityRatio: W, wPerK, wPerPct, wPerPa } = humidityRatioPartials(tC, rhPct, pPa, model);
  const vapour = model.vapourEnthalpy + model.vapourHeat * tC;
  const perStandard = pPa * PER_STANDARD;
  const z = 1 - (model.compression - model.compressionPerK * tC) * perStandard;
  const T = tC + ZERO_CELSIUS_K;
  const mix = 1 + VOLUME_RATIO * W;
  const v = (z * DRY_AIR_GAS_CONSTANT * T * mix) / pPa;
  const vPerW = (v * VOLUME_RATIO) / mix;
  return {
    humidityRatio: W,
    enthalpyJkg: DRY_AIR_HEAT * tC + W * vapour,
    volumeM3kg: v,
    wPerK,
    wPerPct,
    wPerPa,
    hPerK: DRY_AIR_HEAT + W * model.vapourHeat + vapour * wPerK,
    hPerPct: vapour * wPerPct,
    hPerPa: vapour * wPerPa,
    vPerK: v / T + (v / z) * model.compressionPerK * perStandard + vPerW * wPerK,
    vPerPct: vPerW * wPerPct,
    vPerPa: -v / (z * pPa) + vPerW * wPerPa,
  };
}
