/**
 * Eqs. 33 and 35 of the ASHRAE Handbook—Fundamentals 2021 (SI), ch. 1, as they are printed: humidity
 * ratio from dry and wet bulb. For its figures the product never goes this way (it solves the balance for
 * the wet bulb), so the equation written out here checks it, and turns the wet bulbs of published examples
 * into humidity ratios.
 */
import { type AirModel, humidityRatioFromVapourPressure } from '../../server/measure/moist-air.ts';
import {
  enhancement,
  lnPressureOverIce,
  lnPressureOverWater,
} from '../../server/measure/saturation.ts';

/**
 * W of air at `tC` with a thermodynamic wet bulb `wetC` (liquid wick from 0 °C up, else ice), kg/kg.
 * With the printed constants: (2501 − 2.326 t*) W_s* and (2830 − 0.24 t*) W_s*, in kJ/kg.
 */
export function humidityRatioFromWetBulb(
  tC: number,
  wetC: number,
  pPa: number,
  model: AirModel,
): number {
  const liquid = wetC >= 0;
  const ps = Math.exp(liquid ? lnPressureOverWater(wetC) : lnPressureOverIce(wetC));
  const vapour = model.enhanced ? ps * enhancement(wetC, pPa, ps) : ps;
  const saturated = humidityRatioFromVapourPressure(vapour, pPa);
  const wickAt0 = liquid ? 0 : -329_000;
  const wickPerK = liquid ? 4186 : 2100;
  const h0 = model.vapourEnthalpy - wickAt0;
  const onWick = h0 + (model.vapourHeat - wickPerK) * wetC;
  const inAir = h0 + model.vapourHeat * tC - wickPerK * wetC;
  return (onWick * saturated - 1006 * (tC - wetC)) / inAir;
}
