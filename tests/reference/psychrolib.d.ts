/** What these tests and the benchmark call of the package `psychrolib` (MIT), which has no types. */
declare module 'psychrolib' {
  interface Psychrolib {
    SI: number;
    /** Relative humidities are 0…1; temperatures °C, pressures Pa, enthalpies J/kg, m³/kg. */
    SetUnitSystem(system: number): void;
    GetSatVapPres(tC: number): number;
    GetSatHumRatio(tC: number, pPa: number): number;
    GetHumRatioFromRelHum(tC: number, rh: number, pPa: number): number;
    GetRelHumFromHumRatio(tC: number, W: number, pPa: number): number;
    GetMoistAirEnthalpy(tC: number, W: number): number;
    GetMoistAirVolume(tC: number, W: number, pPa: number): number;
    GetTDewPointFromRelHum(tC: number, rh: number): number;
    GetTWetBulbFromHumRatio(tC: number, W: number, pPa: number): number;
    GetHumRatioFromTWetBulb(tC: number, wetBulbC: number, pPa: number): number;
    GetStandardAtmPressure(altitudeM: number): number;
    /** Humidity ratio, wet bulb, dew point, vapour pressure, enthalpy, volume, saturation. */
    CalcPsychrometricsFromRelHum(tC: number, rh: number, pPa: number): number[];
  }
  const psychrolib: Psychrolib;
  export default psychrolib;
}
