/**
 * Tables 1, 2 and 3 of the ASHRAE Handbook—Fundamentals 2021 (SI), ch. 1 "Psychrometrics": the rows
 * that the tests use, as printed. They were read in a machine conversion of the printed pages, not in
 * the print itself.
 */

/** Table 1, standard atmosphere (NASA 1976): altitude, m; pressure, kPa. */
export const STANDARD_ATMOSPHERE: readonly (readonly [altitudeM: number, pressureKPa: number])[] = [
  [-500, 107.478],
  [0, 101.325],
  [500, 95.461],
  [1000, 89.875],
  [1500, 84.556],
  [2000, 79.495],
  [2500, 74.682],
  [3000, 70.108],
  [4000, 61.64],
];

/** A row of Tables 2 and 3. */
export interface SaturationRow {
  tC: number;
  /** Table 3: saturation pressure of water, over ice below 0 °C, kPa. */
  psKPa: number;
  /** Table 2 (real gas, 101.325 kPa): humidity ratio of saturated air, kg/kg of dry air. */
  W: number;
  /** Specific volume of dry and of saturated air, m³/kg of dry air. */
  vDry: number;
  v: number;
  /** Enthalpy of dry and of saturated air, kJ/kg of dry air. */
  hDry: number;
  h: number;
}

function row(
  tC: number,
  psKPa: number,
  W: number,
  vDry: number,
  v: number,
  hDry: number,
  h: number,
): SaturationRow {
  return { tC, psKPa, W, vDry, v, hDry, h };
}

/** Tables 2 and 3. */
export const SATURATION: readonly SaturationRow[] = [
  row(-20, 0.10324, 0.0006373, 0.7165, 0.7172, -20.111, -18.542),
  row(-10, 0.25987, 0.0016062, 0.7449, 0.7468, -10.056, -6.0705),
  row(-5, 0.40174, 0.0024863, 0.7591, 0.7622, -5.0282, 1.1643),
  row(0, 0.6112, 0.00379, 0.7733, 0.778, 0, 9.4744),
  row(5, 0.8726, 0.0054247, 0.7875, 0.7944, 5.0285, 18.639),
  row(10, 1.2282, 0.0076627, 0.8017, 0.8116, 10.058, 29.354),
  row(12, 1.4028, 0.0087677, 0.8074, 0.8188, 12.069, 34.18),
  row(15, 1.7057, 0.010694, 0.8159, 0.8299, 15.087, 42.114),
  row(19, 2.1982, 0.013851, 0.8273, 0.8457, 19.111, 54.218),
  row(20, 2.3392, 0.014761, 0.8301, 0.8498, 20.117, 57.558),
  row(24, 2.9856, 0.018965, 0.8415, 0.8671, 24.142, 72.387),
  row(25, 3.1697, 0.020173, 0.8443, 0.8716, 25.148, 76.503),
  row(27, 3.5679, 0.022802, 0.85, 0.8811, 27.161, 85.288),
  row(30, 4.2467, 0.027333, 0.8585, 0.8961, 30.18, 100.01),
  row(35, 5.6286, 0.03676, 0.8727, 0.9241, 35.213, 129.46),
  row(40, 7.3844, 0.049145, 0.8869, 0.9567, 40.247, 166.68),
  row(45, 9.5944, 0.065416, 0.9011, 0.9955, 45.282, 214.17),
  row(50, 12.3513, 0.086863, 0.9153, 1.0425, 50.319, 275.34),
];

/** Table 3: enthalpy of liquid water, kJ/kg, by temperature, °C. */
export const LIQUID_ENTHALPY: readonly (readonly [tC: number, kJkg: number])[] = [
  [5, 21.02],
  [10, 42.02],
  [12, 50.41],
  [15, 62.98],
  [20, 83.92],
  [25, 104.84],
];
