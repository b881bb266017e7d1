/** The thermodynamic wet bulb: eqs. 33 and 35 solved. */
import { type AirModel, DRY_AIR_HEAT, enthalpyJkg, MASS_RATIO, moistHeat } from './air-model.ts';
import {
  enhancement,
  lnEnhancementPerK,
  lnPressureOverIce,
  lnPressureOverWater,
  slopeOverIce,
  slopeOverWater,
  ZERO_CELSIUS_K,
} from './saturation.ts';

/** The water on a wet bulb's wick. */
interface Wick {
  readonly ice: boolean;
  /** Its enthalpy, J/kg, at 0 °C and per K: liquid as in eq. 33, ice as in eq. 35. */
  readonly at0: number;
  readonly perK: number;
  /** Fitted here, for the start only: d ln p/dt = r0 − r1 t_dew, and how its square counts. */
  readonly r0: number;
  readonly r1: number;
  readonly bend: number;
  readonly bendPerK: number;
}
const LIQUID: Wick = {
  ice: false,
  at0: 0,
  perK: 4186,
  r0: 0.072,
  r1: 3.5e-4,
  bend: 0.53,
  bendPerK: 0,
};
const ICE: Wick = {
  ice: true,
  at0: -329_000,
  perK: 2100,
  r0: 0.078,
  r1: 6e-4,
  bend: 0.53,
  bendPerK: 0.02,
};

/** The thermodynamic wet bulb's balance solved for one kind of wick: Halley's method. */
function wetBulbOn(
  wick: Wick,
  tC: number,
  W: number,
  h: number,
  dew: number,
  pPa: number,
  model: AirModel,
): number {
  const ice = wick.ice;
  // Start: what the air gives up = what evaporates W (e^{r x} − 1), x = t* − t_dew, to the second
  // order in x. Within 0.05 K in the middle case, so that one or two steps are left to do.
  const depression = tC - dew;
  const r = wick.r0 - wick.r1 * dew;
  const latent = (model.vapourEnthalpy - wick.at0) * W * r;
  const dryHeat = moistHeat(W, model);
  const both = latent + dryHeat;
  const square = 4 * latent * r * (wick.bend + wick.bendPerK * depression);
  const heat0 = dryHeat * depression;
  let t = dew + (2 * heat0) / (both + Math.sqrt(both * both + square * heat0));
  for (let i = 0; i < 8; i++) {
    const ps = Math.exp(ice ? lnPressureOverIce(t) : lnPressureOverWater(t));
    let slope = ice ? slopeOverIce(t) : slopeOverWater(t);
    let pw = ps;
    if (model.enhanced) {
      pw *= enhancement(t, pPa, ps);
      slope += lnEnhancementPerK(t, pPa, ps, slope);
    }
    const perDry = 1 / (pPa - pw);
    const Ws = MASS_RATIO * pw * perDry;
    const growth = slope * pPa * perDry;
    const Ws1 = Ws * growth;
    const wickEnthalpy = wick.at0 + wick.perK * t;
    const heat = model.vapourEnthalpy + model.vapourHeat * t - wickEnthalpy;
    const F = heat * Ws + DRY_AIR_HEAT * t + wickEnthalpy * W - h;
    const F1 = (model.vapourHeat - wick.perK) * Ws + heat * Ws1 + DRY_AIR_HEAT + wick.perK * W;
    // d slope/dt ≈ −2 slope/T
    const F2 =
      Ws1 *
      (heat * (2 * growth - slope - 2 / (t + ZERO_CELSIUS_K)) - 2 * (wick.perK - model.vapourHeat));
    const step = (F * F1) / (F1 * F1 - 0.5 * F * F2);
    t -= step;
    if (step < 0.04 && step > -0.04) break; // cubic: the error left is below 1e-6 K
  }
  return t;
}

/** p_ws over liquid water at 0 °C, Pa. */
const PS_0 = Math.exp(lnPressureOverWater(0));

/**
 * Wet bulb of air of temperature `tC`, humidity ratio `W` and dew point `dew`, °C, good to 1e-6 K.
 * Which wick: see `wetBulbC` in moist-air.ts.
 */
export function solveWetBulb(
  tC: number,
  W: number,
  dew: number,
  pPa: number,
  model: AirModel,
): number {
  const h = enthalpyJkg(tC, W, model);
  // The liquid wick's balance at 0 °C tells on which side of it its solution lies.
  const sat0 = model.enhanced ? PS_0 * enhancement(0, pPa, PS_0) : PS_0;
  const liquid = model.vapourEnthalpy * MASS_RATIO * sat0 <= h * (pPa - sat0);
  return wetBulbOn(liquid ? LIQUID : ICE, tC, W, h, dew, pPa, model);
}

/**
 * W of air of temperature `tC` whose wet bulb is `wetBulb`, kg/kg: eqs. 33 and 35 as they are printed, with
 * an iced wick below 0 °C. Negative where no air can be so dry.
 */
export function wetBulbHumidityRatio(
  tC: number,
  wetBulb: number,
  pPa: number,
  model: AirModel,
): number {
  const wick = wetBulb < 0 ? ICE : LIQUID;
  const ps = Math.exp(wick.ice ? lnPressureOverIce(wetBulb) : lnPressureOverWater(wetBulb));
  const pw = model.enhanced ? ps * enhancement(wetBulb, pPa, ps) : ps;
  const Ws = (MASS_RATIO * pw) / (pPa - pw);
  const wickEnthalpy = wick.at0 + wick.perK * wetBulb;
  const heat = model.vapourEnthalpy + model.vapourHeat * wetBulb - wickEnthalpy;
  return (
    (heat * Ws - DRY_AIR_HEAT * (tC - wetBulb)) /
    (model.vapourEnthalpy + model.vapourHeat * tC - wickEnthalpy)
  );
}
