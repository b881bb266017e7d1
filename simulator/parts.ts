/** The parts that scenarios are put together from: plausible figures for a small ductless system. */
import { pressureAtAltitudePa } from '../server/measure/moist-air.ts';
import type { AnemometerParameters } from './anemometer.ts';
import type { IndoorUnitParameters } from './indoor-unit.ts';
import type { OutdoorUnitParameters } from './outdoor-unit.ts';
import { EVEN, type OpeningParameters } from './outlet-field.ts';
import type { Place, ProbeParameters, Sensor } from './probe.ts';
import type { RoomParameters } from './room.ts';
import type { UnitParameters } from './system.ts';
import type { ThermostatParameters } from './thermostat.ts';

export const TEMPERATURE_SENSOR: Sensor = { lagS: 6, limit: 0.3, noise: 0.02, resolution: 0.01 };
export const HUMIDITY_SENSOR: Sensor = { lagS: 10, limit: 2, noise: 0.15, resolution: 0.1 };
/** Its noise is the stream's: some 8 % of 3 m/s from second to second (common practice, no source). */
const VELOCITY_SENSOR: Sensor = { lagS: 2, limit: 0.1, noise: 0.25, resolution: 0.01 };
const VANE_SENSOR: Sensor = { lagS: 1, limit: 0.1, limitPct: 2, noise: 0.01, resolution: 0.01 };
const PRESSURE_SENSOR: Sensor = { lagS: 1, limit: 100, noise: 4, resolution: 1 };
const POWER_SENSOR: Sensor = { lagS: 1, limit: 10, limitPct: 1, noise: 2, resolution: 1 };

/** A probe for temperature and humidity that speaks once a second. */
export function airProbe(
  id: string,
  name: string,
  unit: string,
  place: Place,
  unevenK = 0,
): ProbeParameters {
  return {
    id,
    name,
    unit,
    place,
    sensors: { temperatureC: TEMPERATURE_SENSOR, humidityPct: HUMIDITY_SENSOR },
    intervalS: 1,
    unevenK,
    dropoutsPerH: 0,
    dropoutS: 0,
    spikesPerH: 0,
    batteryPct: 93,
    batteryPctPerH: 0.6,
  };
}

/** A probe outdoors: temperature and barometric pressure. */
export function outdoorProbe(id: string, name: string): ProbeParameters {
  return {
    ...airProbe(id, name, '', 'outdoor'),
    unit: null,
    sensors: { temperatureC: { ...TEMPERATURE_SENSOR, lagS: 20 }, pressurePa: PRESSURE_SENSOR },
    intervalS: 5,
    batteryPct: 71,
  };
}

/** A meter at the outdoor unit's supply: its electrical power. */
export function powerProbe(id: string, name: string): ProbeParameters {
  return { ...outdoorProbe(id, name), sensors: { powerW: POWER_SENSOR } };
}

/** A probe for velocity in the outlet: what one spot tells in a turbulent stream. */
export function outletProbe(id: string, name: string, unit: string): ProbeParameters {
  return { ...airProbe(id, name, unit, 'outlet'), sensors: { velocityMs: VELOCITY_SENSOR } };
}

/** A vane on a stick, with a thermometer behind its wheel. It hangs nowhere. */
export function vane(id: string, name: string): AnemometerParameters {
  return {
    probe: {
      ...airProbe(id, name, '', 'outlet'),
      unit: null,
      sensors: { temperatureC: { ...TEMPERATURE_SENSOR, limit: 0.5 }, velocityMs: VANE_SENSOR },
      intervalS: 0.25,
    },
    headM: 0.06,
    turbulence: 0.12,
    eddyS: 0.4,
  };
}

/**
 * The outlet of the large head: a slot that a support parts in the middle. More air comes at the left than at
 * the right, it is slower near the ends, and the louver presses it down.
 */
export const LARGE_OUTLET: OpeningParameters = {
  sections: [
    { widthM: 0.0625, lengthM: 0.36 },
    { widthM: 0.0625, lengthM: 0.36 },
  ],
  freeArea: 1,
  shape: {
    ...EVEN,
    endPower: 0.12,
    sidePower: 0.05,
    deadM: 0.004,
    jets: [{ section: 0, at: 0.6, width: 0.25, strength: 0.3 }],
    louverDeg: 20,
    shares: [1.05, 0.95],
    slopeK: 0.6,
  },
};

/** The room of the larger head: books, people, a tall window. */
export const READING_ROOM: RoomParameters = {
  volumeM3: 120,
  temperatureC: 25.4,
  humidityPct: 52,
  massTemperatureC: 25.1,
  contentsJK: 350_000,
  massJK: 9e6,
  massAirWK: 150,
  massOutdoorWK: 45,
  glazingWK: 30,
  infiltrationPerH: 0.5,
  sensibleW: 1750,
  sensibleDriftWPerH: 0,
  moistureKgH: 0.75,
  bufferKg: 700,
  bufferKgS: 0.01,
};

/** The room of the smaller head: less of everything, and a leaky door. */
export const WORKSHOP: RoomParameters = {
  volumeM3: 85,
  temperatureC: 25.6,
  humidityPct: 50,
  massTemperatureC: 25.3,
  contentsJK: 260_000,
  massJK: 6e6,
  massAirWK: 110,
  massOutdoorWK: 35,
  glazingWK: 25,
  infiltrationPerH: 0.8,
  sensibleW: 1050,
  sensibleDriftWPerH: 0,
  moistureKgH: 0.25,
  bufferKg: 300,
  bufferKgS: 0.006,
};

/** An indoor unit of about 3.5 kW. */
export const LARGE_HEAD: IndoorUnitParameters = {
  fanSpeeds: [
    { name: 'quiet', flowM3s: 0.092, powerW: 12 },
    { name: 'low', flowM3s: 0.116, powerW: 17 },
    { name: 'medium', flowM3s: 0.146, powerW: 25 },
    { name: 'high', flowM3s: 0.176, powerW: 37 },
  ],
  coil: {
    contactFactor: 0.88,
    referenceKgS: 0.18,
    heatJK: 5000,
    holdUpKg: 0.25,
    spreadK: 1.5,
    sillKg: 0.03,
    panS: 90,
  },
  maxW: 3800,
  fouling: 0,
  filterLoading: 0,
  coilFouling: 0,
  wetLoss: 0.03,
  recirculation: 0.03,
  reheat: 0,
  duct: null,
  outletM2: 0.045,
};

/** An indoor unit of about 2.5 kW. */
export const SMALL_HEAD: IndoorUnitParameters = {
  ...LARGE_HEAD,
  fanSpeeds: [
    { name: 'quiet', flowM3s: 0.074, powerW: 9 },
    { name: 'low', flowM3s: 0.093, powerW: 13 },
    { name: 'medium', flowM3s: 0.118, powerW: 19 },
    { name: 'high', flowM3s: 0.141, powerW: 28 },
  ],
  coil: { ...LARGE_HEAD.coil, referenceKgS: 0.142, heatJK: 3800, holdUpKg: 0.18 },
  maxW: 2700,
  outletM2: 0.038,
};

export const THERMOSTAT: ThermostatParameters = {
  base: 0.35,
  gainPerK: 0.28,
  integralS: 0,
  onK: 0.5,
  offK: 0.9,
  sensorS: 25,
};

/** An outdoor unit for the two heads above. */
export const OUTDOOR_UNIT: OutdoorUnitParameters = {
  maxW: 5600,
  minW: 1100,
  risePerS: 0.01,
  fallPerS: 0.025,
  deadTimeS: 15,
  minOffS: 180,
  hunting: { amplitude: 0.006, periodS: 140 },
  frost: {
    dryAirKgS: 0.55,
    contactFactor: 0.55,
    belowK: 3,
    belowMoreK: 6,
    limitKg: 1,
    loss: 0.25,
    meltW: 2200,
    betweenS: 1800,
  },
  frostKg: 0,
  defrostPull: 0.25,
  efficiency: 3.6,
  standbyW: 12,
  chargeError: 0,
  othersW: 0,
};

/** The large head in the reading room. */
export const READING_ROOM_UNIT: UnitParameters = {
  id: 'u1',
  name: 'Reading room',
  room: READING_ROOM,
  head: LARGE_HEAD,
  thermostat: THERMOSTAT,
  setpointC: 24,
  fan: 'medium',
};

/** The small head in the workshop. */
export const WORKSHOP_UNIT: UnitParameters = {
  id: 'u2',
  name: 'Workshop',
  room: WORKSHOP,
  head: SMALL_HEAD,
  thermostat: THERMOSTAT,
  setpointC: 24.5,
  fan: 'low',
};

/** The pressure at the library: 240 m above the sea. */
export const SITE_PRESSURE_PA = Math.round(pressureAtAltitudePa(240));
