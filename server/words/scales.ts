/**
 * The units a person has chosen, as scales between SI and the shown number. Every figure on the
 * screen, every chart axis and every entry field goes through one of these.
 */
import * as units from '../units.ts';
import { t } from './language.ts';

export interface UnitChoice {
  temperature: 'C' | 'F';
  flow: 'm3h' | 'cfm';
  power: 'kW' | 'Btuh';
}

/** How one quantity is shown and entered. */
export interface Scale {
  /** The unit's sign as printed after a number. */
  sign: string;
  /** From SI to the shown number. */
  show: (si: number) => number;
  /** From an entered number to SI. */
  read: (shown: number) => number;
  /** The finest decimal place worth showing, in shown units: a live figure has no more in it. */
  finest: number;
}

const KILOWATT: Scale = {
  sign: 'kW',
  show: units.kilowattsFromWatts,
  read: units.wattsFromKilowatts,
  finest: 0.01,
};
const BTU_AN_HOUR: Scale = {
  sign: 'Btu/h',
  show: units.btuhFromWatts,
  read: units.wattsFromBtuh,
  finest: 10,
};
const CELSIUS: Scale = { sign: '°C', show: (c) => c, read: (c) => c, finest: 0.1 };
const FAHRENHEIT: Scale = {
  sign: '°F',
  show: units.fahrenheitFromCelsius,
  read: units.celsiusFromFahrenheit,
  finest: 0.1,
};
const KELVIN: Scale = { sign: 'K', show: (k) => k, read: (k) => k, finest: 0.1 };
const FAHRENHEIT_DEGREES: Scale = {
  sign: '°F',
  show: units.fahrenheitDegreesFromKelvin,
  read: units.kelvinFromFahrenheitDegrees,
  finest: 0.1,
};
/** What a side-by-side check finds is smaller than what a live figure shows. */
const FINE_KELVIN: Scale = { ...KELVIN, finest: 0.01 };
const FINE_FAHRENHEIT_DEGREES: Scale = { ...FAHRENHEIT_DEGREES, finest: 0.01 };
/** Humidity and its differences: the same in every choice of units. */
export const HUMIDITY: Scale = { sign: t`% RH`, show: (h) => h, read: (h) => h, finest: 0.1 };
/** The ± of an airflow. */
export const PERCENT: Scale = { sign: '%', show: (p) => p, read: (p) => p, finest: 0.1 };
const CUBIC_METRES_AN_HOUR: Scale = {
  sign: 'm³/h',
  show: units.m3hFromM3s,
  read: units.m3sFromM3h,
  finest: 1,
};
const CUBIC_FEET_A_MINUTE: Scale = {
  sign: 'cfm',
  show: units.cfmFromM3s,
  read: units.m3sFromCfm,
  finest: 1,
};
const KILOGRAMS_AN_HOUR: Scale = { sign: 'kg/h', show: (k) => k, read: (k) => k, finest: 0.01 };
const PINTS_AN_HOUR: Scale = {
  sign: 'pints/h',
  show: units.pintshFromKgh,
  read: units.kghFromPintsh,
  finest: 0.01,
};
const HECTOPASCAL: Scale = {
  sign: 'hPa',
  show: (pa) => pa / 100,
  read: (hpa) => hpa * 100,
  finest: 1,
};
const INCHES_OF_MERCURY: Scale = {
  sign: 'inHg',
  show: units.inhgFromPa,
  read: units.paFromInhg,
  finest: 0.01,
};
const METRES: Scale = { sign: 'm', show: (m) => m, read: (m) => m, finest: 1 };
const FEET: Scale = {
  sign: 'ft',
  show: units.feetFromMetres,
  read: units.metresFromFeet,
  finest: 1,
};

/** Lengths of pipe are known closer than heights above the sea. */
const PIPE_METRES: Scale = { ...METRES, finest: 0.1 };
const PIPE_FEET: Scale = { ...FEET, finest: 0.1 };

/** The scales that belong to a choice. Condensate follows power; pressure and height, temperature. */
export interface Scales {
  power: Scale;
  temperature: Scale;
  difference: Scale;
  /** Differences between probes in the same air. */
  offset: Scale;
  flow: Scale;
  condensate: Scale;
  pressure: Scale;
  height: Scale;
  /** Of refrigerant lines. */
  length: Scale;
  /** Of air in an outlet, and of the outlet's sides. */
  velocity: Scale;
  side: Scale;
  /** Of moisture in the air. */
  moisture: Scale;
  /** Of moist air, per mass of dry air. */
  enthalpy: Scale;
}

const METRES_A_SECOND: Scale = { sign: 'm/s', show: (v) => v, read: (v) => v, finest: 0.01 };
const FEET_A_MINUTE: Scale = {
  sign: 'fpm',
  show: units.fpmFromMs,
  read: units.msFromFpm,
  finest: 1,
};
const MILLIMETRES: Scale = {
  sign: 'mm',
  show: (m) => m * 1000,
  read: (mm) => mm / 1000,
  finest: 1,
};
const INCHES: Scale = {
  sign: 'in',
  show: units.inchesFromMetres,
  read: units.metresFromInches,
  finest: 0.01,
};
/** Water in a bucket: a gram is a milliliter. */
export const GRAMS: Scale = {
  sign: 'g',
  show: (kg) => kg * 1000,
  read: (g) => g / 1000,
  finest: 1,
};
export const WATTS: Scale = { sign: 'W', show: (w) => w, read: (w) => w, finest: 1 };
/** A part that is typed as a number between 0 and 1.5: a free-area factor. */
export const FACTOR: Scale = { sign: '', show: (f) => f, read: (f) => f, finest: 0.01 };

const GRAMS_A_KILOGRAM: Scale = {
  sign: 'g/kg',
  show: (w) => 1000 * w,
  read: (w) => w / 1000,
  finest: 0.01,
};
/** 7000 grains are a pound, exactly. */
const GRAINS: Scale = { sign: 'gr/lb', show: (w) => 7000 * w, read: (w) => w / 7000, finest: 0.1 };

const KILOJOULES_A_KILOGRAM: Scale = {
  sign: 'kJ/kg',
  show: (h) => h / 1000,
  read: (h) => 1000 * h,
  finest: 0.1,
};
const BTU_A_POUND: Scale = {
  sign: 'Btu/lb',
  show: units.btulbFromJkg,
  read: units.jkgFromBtulb,
  finest: 0.1,
};

/** All scales for a choice of units. */
export function scalesFor(choice: UnitChoice): Scales {
  const fahrenheit = choice.temperature === 'F';
  const btu = choice.power === 'Btuh';
  return {
    power: btu ? BTU_AN_HOUR : KILOWATT,
    temperature: fahrenheit ? FAHRENHEIT : CELSIUS,
    difference: fahrenheit ? FAHRENHEIT_DEGREES : KELVIN,
    offset: fahrenheit ? FINE_FAHRENHEIT_DEGREES : FINE_KELVIN,
    flow: choice.flow === 'cfm' ? CUBIC_FEET_A_MINUTE : CUBIC_METRES_AN_HOUR,
    condensate: btu ? PINTS_AN_HOUR : KILOGRAMS_AN_HOUR,
    pressure: fahrenheit ? INCHES_OF_MERCURY : HECTOPASCAL,
    height: fahrenheit ? FEET : METRES,
    length: fahrenheit ? PIPE_FEET : PIPE_METRES,
    velocity: choice.flow === 'cfm' ? FEET_A_MINUTE : METRES_A_SECOND,
    side: choice.flow === 'cfm' ? INCHES : MILLIMETRES,
    moisture: fahrenheit ? GRAINS : GRAMS_A_KILOGRAM,
    enthalpy: fahrenheit ? BTU_A_POUND : KILOJOULES_A_KILOGRAM,
  };
}
