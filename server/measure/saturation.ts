/**
 * Saturation of water vapour, pure and in air: the ground that moist-air.ts stands on.
 *
 * Pressure over ice and over water: ASHRAE Handbook—Fundamentals, ch. 1, eqs. 5 and 6 (Hyland and
 * Wexler). The two meet at the triple point (0.01 °C) to 6e-9, so that is where they are switched.
 */

/** 0 °C in kelvin. */
export const ZERO_CELSIUS_K = 273.15;
/** Where eqs. 5 and 6 meet, °C. */
export const TRIPLE_POINT_C = 0.01;
/** 1/Pa: the pressure that the enhancement factor's first term is scaled by is 101 325 Pa. */
const PER_STANDARD = 1 / 101325;

/** ln of the saturation pressure (Pa) over ice; eq. 5. */
export function lnPressureOverIce(tC: number): number {
  const T = tC + ZERO_CELSIUS_K;
  return (
    -5.6745359e3 / T +
    6.3925247 +
    T * (-9.677843e-3 + T * (6.2215701e-7 + T * (2.0747825e-9 + T * -9.484024e-13))) +
    4.1635019 * Math.log(T)
  );
}

/** ln of the saturation pressure (Pa) over liquid water; eq. 6. */
export function lnPressureOverWater(tC: number): number {
  const T = tC + ZERO_CELSIUS_K;
  return (
    -5.8002206e3 / T +
    1.3914993 +
    T * (-4.8640239e-2 + T * (4.1764768e-5 + T * -1.4452093e-8)) +
    6.5459673 * Math.log(T)
  );
}

/** d ln p_ws/dt over ice, 1/K. */
export function slopeOverIce(tC: number): number {
  const T = tC + ZERO_CELSIUS_K;
  return (
    (5.6745359e3 / T + 4.1635019) / T -
    9.677843e-3 +
    T * (2 * 6.2215701e-7 + T * (3 * 2.0747825e-9 + T * 4 * -9.484024e-13))
  );
}

/** d ln p_ws/dt over liquid water, 1/K. */
export function slopeOverWater(tC: number): number {
  const T = tC + ZERO_CELSIUS_K;
  return (
    (5.8002206e3 / T + 6.5459673) / T -
    4.8640239e-2 +
    T * (2 * 4.1764768e-5 + T * 3 * -1.4452093e-8)
  );
}

/** Saturation pressure of water at `tC`, Pa: over ice below the triple point, else over water. */
export function saturationPressurePa(tC: number): number {
  return Math.exp(tC < TRIPLE_POINT_C ? lnPressureOverIce(tC) : lnPressureOverWater(tC));
}

/** d ln p_ws/dt, 1/K. */
export function saturationSlope(tC: number): number {
  return tC < TRIPLE_POINT_C ? slopeOverIce(tC) : slopeOverWater(tC);
}

/**
 * ln of the enhancement factor f = x_ws p/p_ws: by how much more vapour saturated *air* holds.
 *
 * Its form is that of the second-virial expansion,
 *   ln f = (1 − p_s/p) [ b(t) p/p0 + c(t) p_s ],
 * with b = (v_w + B_aa − 2 B_aw)/(R T) p0 and c = (2 B_aw − B_aa − B_ww)/(R T). c(t) is a straight
 * line through Greenspan's α/p_s (J. Res. NBS 80A, 1976; coefficients from memory), which only
 * shares out the two terms; b(t) is then fitted here to the Handbook's Table 2 (real gas,
 * 101.325 kPa, −20…50 °C), which it meets within 0.006 % in W.
 *
 * @param tC temperature, °C
 * @param pPa total pressure, Pa
 * @param psPa p_ws at `tC`, Pa
 */
export function lnEnhancement(tC: number, pPa: number, psPa: number): number {
  return (
    (1 - psPa / pPa) *
    ((3.857e-3 - 2.6e-5 * tC) * (pPa * PER_STANDARD) + (5.79e-7 - 5.75e-9 * tC) * psPa)
  );
}

/** The enhancement factor itself: ln f is below 0.006, so four terms of its series give 1e-11. */
export function enhancement(tC: number, pPa: number, psPa: number): number {
  const x = lnEnhancement(tC, pPa, psPa);
  return 1 + x * (1 + x * (0.5 + x * (1 / 6)));
}

/** Vapour pressure of saturated air, Pa; of pure vapour where `enhanced` is false. */
export function saturatedVapourPa(tC: number, pPa: number, enhanced: boolean): number {
  const ps = saturationPressurePa(tC);
  return enhanced ? ps * enhancement(tC, pPa, ps) : ps;
}

/** ∂ ln f/∂t at constant pressure, 1/K. `slope` is d ln p_ws/dt. */
export function lnEnhancementPerK(tC: number, pPa: number, psPa: number, slope: number): number {
  const perK = psPa * slope;
  const b = (3.857e-3 - 2.6e-5 * tC) * pPa * PER_STANDARD;
  const c = 5.79e-7 - 5.75e-9 * tC;
  return (
    (-perK / pPa) * (b + c * psPa) +
    (1 - psPa / pPa) * (-2.6e-5 * pPa * PER_STANDARD - 5.75e-9 * psPa + c * perK)
  );
}

/** ∂ ln f/∂p at constant temperature, 1/Pa. */
export function lnEnhancementPerPa(tC: number, pPa: number, psPa: number): number {
  const b = (3.857e-3 - 2.6e-5 * tC) * PER_STANDARD;
  const c = 5.79e-7 - 5.75e-9 * tC;
  return (psPa / (pPa * pPa)) * (b * pPa + c * psPa) + (1 - psPa / pPa) * b;
}
