/** The dew (or frost) point: the saturation curve turned round. */
import {
  lnEnhancement,
  lnEnhancementPerK,
  lnPressureOverIce,
  lnPressureOverWater,
  slopeOverIce,
  slopeOverWater,
  TRIPLE_POINT_C,
  ZERO_CELSIUS_K,
} from './saturation.ts';

/** Air with less vapour than this counts as dry: a frost point of about −70 °C. */
export const DRY_PA = 0.3;
export const DRY_C = -70;

/** ln of the pressure at the triple point, by eq. 6. */
const LN_TRIPLE = lnPressureOverWater(TRIPLE_POINT_C);
/** A first dew (or frost) point from ln of the saturation pressure, °C. */
function start(ln: number): number {
  const x = ln - 6.415_0; // 610.94 Pa
  if (x >= 0.0005) return (243.04 * x) / (17.625 - x);
  const xIce = ln - 6.415_44; // 611.21 Pa
  return (273.86 * xIce) / (22.587 - xIce);
}

/** Dew point of a vapour pressure of at least `DRY_PA`, °C, good to 1e-6 K (5e-6 K over 45 °C). */
export function solveDewPoint(vapourPa: number, pPa: number, enhanced: boolean): number {
  // Magnus-type start (constants of Alduchov and Eskridge 1996, from memory), 0.02 K off at most,
  // then one step of Halley's method on ln p + ln f. p_ws at the dew point is the vapour pressure
  // over f, and with that given ln f is nearly straight in t: no exponential is needed.
  let ln = Math.log(vapourPa);
  let t = start(enhanced ? ln - 0.0041 : ln);
  let perK = 0;
  if (enhanced) {
    const ps = vapourPa * (1 - lnEnhancement(t, pPa, vapourPa));
    ln -= lnEnhancement(t, pPa, ps);
    perK = lnEnhancementPerK(t, pPa, ps, 0);
  }
  const water = ln >= LN_TRIPLE;
  const r = (water ? slopeOverWater(t) : slopeOverIce(t)) + perK;
  const step = ((water ? lnPressureOverWater(t) : lnPressureOverIce(t)) - ln) / r;
  // r falls with temperature nearly as 1/T²: d r/dt ≈ −2 r/T
  t -= step * (1 - step / (t + ZERO_CELSIUS_K));
  return t;
}
