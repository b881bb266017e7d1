/**
 * Conversions between SI, in which everything is computed and stored, and the units that people
 * read: at the screen and in the report, nowhere else. Pure factors; no rounding, no text.
 *
 * The factors are built from definitions that are exact by international agreement, so that each
 * can be checked by hand. Source: NIST Special Publication 811 (2008), appendix B; the definitions
 * are from memory, and the tests compare the products with the figures printed there.
 */

/** The international foot, exact. */
const METRES_PER_FOOT = 0.3048;
/** The international inch, exact. */
const METRES_PER_INCH = 0.0254;
/** One cubic foot a minute in m³/s, exact: 4.719474432e-4. */
const M3S_PER_CFM = METRES_PER_FOOT ** 3 / 60;
/** The International Table Btu in joules, exact. */
const JOULES_PER_BTU = 1055.05585262;
/** One Btu(IT) an hour in watts: 0.29307107… */
const WATTS_PER_BTUH = JOULES_PER_BTU / 3600;
/** The US liquid pint, 1/8 gallon of 231 cubic inches, in m³, exact: 4.73176473e-4. */
const M3_PER_US_PINT = (231 * METRES_PER_INCH ** 3) / 8;
/** Water at 20 °C, kg/m³ (from memory; 998.2 in any table). Condensate is near enough to it. */
const WATER_KGM3 = 998.2;
const KG_PER_US_PINT = M3_PER_US_PINT * WATER_KGM3;
/** The conventional inch of mercury (13 595.1 kg/m³, 9.80665 m/s²) in Pa: 3386.388… */
const PA_PER_INHG = METRES_PER_INCH * 13_595.1 * 9.80665;

/** Temperature, °C to °F. */
export const fahrenheitFromCelsius = (temperatureC: number): number => temperatureC * 1.8 + 32;
/** Temperature, °F to °C. */
export const celsiusFromFahrenheit = (temperatureF: number): number => (temperatureF - 32) / 1.8;

/** Temperature difference, K to Fahrenheit degrees: no offset. */
export const fahrenheitDegreesFromKelvin = (differenceK: number): number => differenceK * 1.8;
/** Temperature difference, Fahrenheit degrees to K: no offset. */
export const kelvinFromFahrenheitDegrees = (differenceF: number): number => differenceF / 1.8;

/** Volume flow, m³/s to cubic feet a minute. */
export const cfmFromM3s = (flowM3s: number): number => flowM3s / M3S_PER_CFM;
/** Volume flow, cubic feet a minute to m³/s. */
export const m3sFromCfm = (flowCfm: number): number => flowCfm * M3S_PER_CFM;

/** Volume flow, m³/s to m³/h. */
export const m3hFromM3s = (flowM3s: number): number => flowM3s * 3600;
/** Volume flow, m³/h to m³/s. */
export const m3sFromM3h = (flowM3h: number): number => flowM3h / 3600;

/** Power, W to kW. */
export const kilowattsFromWatts = (powerW: number): number => powerW / 1000;
/** Power, kW to W. */
export const wattsFromKilowatts = (powerKw: number): number => powerKw * 1000;

/** Power, W to Btu(IT)/h. */
export const btuhFromWatts = (powerW: number): number => powerW / WATTS_PER_BTUH;
/** Power, Btu(IT)/h to W. */
export const wattsFromBtuh = (powerBtuh: number): number => powerBtuh * WATTS_PER_BTUH;

/** Condensate, kg/h to US pints an hour, as water at 20 °C. */
export const pintshFromKgh = (flowKgh: number): number => flowKgh / KG_PER_US_PINT;
/** Condensate, US pints an hour to kg/h, as water at 20 °C. */
export const kghFromPintsh = (flowPintsh: number): number => flowPintsh * KG_PER_US_PINT;

/** One Btu(IT) a pound in J/kg, exact. */
const JKG_PER_BTULB = 2326;
/** Tables in IP units count dry air from 0 °F on, those in SI from 0 °C: this much apart, Btu/lb. */
const IP_ZERO_BTULB = 7.686;
/**
 * Enthalpy of moist air, J/kg of dry air to Btu/lb (ASHRAE Handbook—Fundamentals, ch. 1, eq. 30 of its two
 * editions: dry air has another zero, water the same). Of a difference only the factor counts.
 */
export const btulbFromJkg = (enthalpyJkg: number): number =>
  enthalpyJkg / JKG_PER_BTULB + IP_ZERO_BTULB;
/** Enthalpy of moist air, Btu/lb to J/kg of dry air. */
export const jkgFromBtulb = (enthalpyBtulb: number): number =>
  (enthalpyBtulb - IP_ZERO_BTULB) * JKG_PER_BTULB;

/** Pressure, Pa to conventional inches of mercury. */
export const inhgFromPa = (pressurePa: number): number => pressurePa / PA_PER_INHG;
/** Pressure, conventional inches of mercury to Pa. */
export const paFromInhg = (pressureInhg: number): number => pressureInhg * PA_PER_INHG;

/** Length, m to international feet (a site's altitude). */
export const feetFromMetres = (lengthM: number): number => lengthM / METRES_PER_FOOT;
/** Length, international feet to m. */
export const metresFromFeet = (lengthFt: number): number => lengthFt * METRES_PER_FOOT;

/** m/s in feet a minute: 1 ft is 0.3048 m exactly. */
export const fpmFromMs = (velocityMs: number): number => (velocityMs * 60) / METRES_PER_FOOT;
/** feet a minute in m/s */
export const msFromFpm = (velocityFpm: number): number => (velocityFpm * METRES_PER_FOOT) / 60;
/** m in inches */
export const inchesFromMetres = (lengthM: number): number => (lengthM / METRES_PER_FOOT) * 12;
/** inches in m */
export const metresFromInches = (lengthIn: number): number => (lengthIn / 12) * METRES_PER_FOOT;
