/**
 * Named scenarios: a library's reading room and workshop in Wrenfold Lane, invented for the
 * purpose, on days of many kinds. Each is the plain one with something changed.
 */
import { pressureAtAltitudePa } from '../server/measure/moist-air.ts';
import { type Fault, withFaults } from './faults.ts';
import {
  airProbe,
  LARGE_OUTLET,
  OUTDOOR_UNIT,
  outdoorProbe,
  outletProbe,
  powerProbe,
  READING_ROOM_UNIT,
  SITE_PRESSURE_PA,
  vane,
  WORKSHOP_UNIT,
} from './parts.ts';
import { QUANTITIES, type ProbeParameters, type Quantity, type Sensor } from './probe.ts';
import type { SystemParameters, UnitParameters } from './system.ts';

const PLAIN: SystemParameters = {
  title: 'Wrenfold Lane library',
  mode: 'cooling',
  pressurePa: SITE_PRESSURE_PA,
  outdoorAir: { temperatureC: 31, humidityPct: 45, driftKPerH: 0.3 },
  outdoorUnit: { ...OUTDOOR_UNIT, maxW: 3900, minW: 900 },
  units: [READING_ROOM_UNIT],
  probes: [
    airProbe('p1', 'Return', 'u1', 'return'),
    airProbe('p2', 'Supply', 'u1', 'supply'),
    outdoorProbe('p3', 'Yard'),
  ],
  warmUpS: 35,
};

const DEMO: SystemParameters = {
  ...PLAIN,
  outdoorUnit: OUTDOOR_UNIT,
  units: [{ ...READING_ROOM_UNIT, outletK: 0.6, opening: LARGE_OUTLET }, WORKSHOP_UNIT],
  probes: [
    airProbe('p1', 'Reading room return', 'u1', 'return'),
    { ...airProbe('p2', 'Reading room return, second', 'u1', 'return'), intervalS: 2 },
    airProbe('p3', 'Reading room supply, left', 'u1', 'supply', -0.15),
    airProbe('p4', 'Reading room supply, right', 'u1', 'supply', 0.15),
    airProbe('p5', 'Workshop return', 'u2', 'return'),
    airProbe('p6', 'Workshop supply', 'u2', 'supply'),
    outdoorProbe('p7', 'Yard'),
  ],
  anemometer: vane('v1', 'Vane'),
};

/** The plain scenario with changes to the unit, the room and the probes. */
function changed(changes: {
  system?: Partial<SystemParameters>;
  unit?: Partial<UnitParameters>;
  room?: Partial<UnitParameters['room']>;
  probe?: (probe: ProbeParameters) => ProbeParameters;
}): SystemParameters {
  const base = { ...PLAIN, ...changes.system };
  return {
    ...base,
    units: base.units.map((unit) => ({
      ...unit,
      ...changes.unit,
      room: { ...unit.room, ...changes.unit?.room, ...changes.room },
    })),
    probes: base.probes.map(changes.probe ?? ((probe) => probe)),
  };
}

function withSensors(probe: ProbeParameters, change: (sensor: Sensor) => Sensor): ProbeParameters {
  const sensors: Partial<Record<Quantity, Sensor>> = {};
  for (const quantity of QUANTITIES) {
    const sensor = probe.sensors[quantity];
    if (sensor !== undefined) sensors[quantity] = change(sensor);
  }
  return { ...probe, sensors };
}

/** A cold day: the room would fall to what the machine must make up for. */
const HEATING: SystemParameters = changed({
  system: {
    mode: 'heating',
    outdoorAir: { temperatureC: 7, humidityPct: 80, driftKPerH: -0.2 },
  },
  unit: { setpointC: 21.5 },
  room: {
    temperatureC: 20,
    humidityPct: 42,
    massTemperatureC: 19.5,
    sensibleW: -1500, // a wing of the building that is not heated draws on it
    moistureKgH: 0.2,
  },
});

/** The compressor gives all it has, and the fan on auto slows down as the room comes near the setpoint. */
const AUTO_FAN: SystemParameters = changed({
  unit: {
    setpointC: 20.5,
    fan: 'high',
    head: {
      ...READING_ROOM_UNIT.head,
      autoFan: [
        { fromK: -Infinity, speed: 'low' },
        { fromK: 4, speed: 'high' },
      ],
    },
  },
});

const SCENARIOS: Readonly<Record<string, SystemParameters>> = {
  demo: DEMO,
  plain: PLAIN,
  'two-heads': { ...DEMO, outdoorUnit: { ...OUTDOOR_UNIT, maxW: 3800 } },
  humid: changed({
    system: { outdoorAir: { temperatureC: 30, humidityPct: 75, driftKPerH: 0 } },
    room: { humidityPct: 66, moistureKgH: 1.5, infiltrationPerH: 1 },
  }),
  dry: changed({
    system: { outdoorAir: { temperatureC: 35, humidityPct: 12, driftKPerH: 0 } },
    room: { humidityPct: 25, moistureKgH: 0.1, temperatureC: 26.5 },
  }),
  'high-altitude': changed({ system: { pressurePa: Math.round(pressureAtAltitudePa(2100)) } }),
  'small-unit': changed({
    system: { outdoorUnit: { ...OUTDOOR_UNIT, maxW: 2400, minW: 500 } },
    unit: { ...WORKSHOP_UNIT, id: 'u1' },
  }),
  slow: changed({
    system: { outdoorUnit: { ...PLAIN.outdoorUnit, risePerS: 0.0015, fallPerS: 0.002 } },
    probe: (probe) => withSensors(probe, (sensor) => ({ ...sensor, lagS: sensor.lagS * 6 })),
  }),
  noisy: changed({
    probe: (probe) => withSensors(probe, (sensor) => ({ ...sensor, noise: sensor.noise * 8 })),
  }),
  dropouts: changed({ probe: (probe) => ({ ...probe, dropoutsPerH: 20, dropoutS: 25 }) }),
  spikes: changed({ probe: (probe) => ({ ...probe, spikesPerH: 30 }) }),
  'five-seconds': changed({ probe: (probe) => ({ ...probe, intervalS: 5 }) }),
  'drifting-room': changed({ room: { sensibleW: 1000, sensibleDriftWPerH: 900 } }),
  hunting: changed({
    system: {
      outdoorUnit: { ...PLAIN.outdoorUnit, hunting: { amplitude: 0.06, periodS: 180 } },
    },
  }),
  cycling: changed({
    system: { outdoorAir: { temperatureC: 24, humidityPct: 60, driftKPerH: 0 } },
    unit: { fan: 'quiet', thermostat: { ...READING_ROOM_UNIT.thermostat, onK: 0.25, offK: 0.3 } },
    room: {
      sensibleW: 450,
      moistureKgH: 0.5,
      temperatureC: 24.6,
      humidityPct: 60,
      massTemperatureC: 24.2,
      contentsJK: 100_000,
    },
  }),
  // One probe, at three quarters of an outlet that is 4 K warmer at its right end.
  'uneven-outlet': changed({
    unit: { outletK: 4 },
    probe: (probe) => (probe.place === 'supply' ? { ...probe, unevenK: 1 } : probe),
  }),
  fouled: changed({
    unit: { head: { ...READING_ROOM_UNIT.head, fouling: 0.6, filterLoading: 0.3 } },
  }),
  /** It dries the air and warms it again. */
  reheat: changed({
    unit: { fan: 'medium', setpointC: 20, head: { ...READING_ROOM_UNIT.head, reheat: 0.65 } },
    room: {
      temperatureC: 24,
      humidityPct: 65,
      massTemperatureC: 24,
      sensibleW: -300, // a cool day, and people come in out of the rain
      moistureKgH: 1.8,
    },
  }),
  /** The intake breathes a part of the supply, and a probe in the room tells. */
  'short-circuit': changed({
    system: { probes: [...PLAIN.probes, airProbe('p4', 'Room', 'u1', 'room')] },
    unit: { head: { ...READING_ROOM_UNIT.head, recirculation: 0.25 } },
  }),
  /** A duct through a hot attic, and the supply probe at its end. */
  ducted: changed({
    unit: { head: { ...READING_ROOM_UNIT.head, duct: { conductanceWK: 25, spaceC: 42 } } },
  }),
  /** One of two supply probes lies where something warms it. */
  astray: changed({
    system: {
      probes: [
        ...PLAIN.probes.map((probe) => (probe.id === 'p2' ? { ...probe, name: 'Left' } : probe)),
        airProbe('p4', 'Right', 'u1', 'supply', 19.5),
      ],
    },
  }),
  'auto-fan': AUTO_FAN,
  'outlet-velocity': {
    ...AUTO_FAN,
    probes: [...AUTO_FAN.probes, outletProbe('p4', 'Outlet', 'u1')],
  },
  'louvre-swings': changed({
    unit: { head: { ...READING_ROOM_UNIT.head, louvre: { periodS: 14, away: 0.5 } } },
  }),
  heating: HEATING,
  defrost: {
    ...HEATING,
    outdoorAir: { temperatureC: 1, humidityPct: 92, driftKPerH: 0 },
    outdoorUnit: { ...HEATING.outdoorUnit, frostKg: 0.6 },
  },
};

/** The demo with a fault of its reading room's unit, or of the outdoor unit: what there is to find. */
const FAULTY: readonly Fault[] = [
  { kind: 'dirty-wheel', size: 0.7 },
  { kind: 'clogged-filter', size: 0.8 },
  { kind: 'dirty-coil', size: 0.9 },
  { kind: 'low-charge', size: 0.4 },
  { kind: 'other-heads', size: 0.6 },
  { kind: 'turned-down', size: 0.5 },
  { kind: 'recirculation', size: 0.3 },
];
const METERED: SystemParameters = {
  ...DEMO,
  probes: [
    ...DEMO.probes,
    airProbe('p8', 'Reading room, middle', 'u1', 'room'),
    powerProbe('p9', 'Outdoor unit meter'),
  ],
};
const ALL: Readonly<Record<string, SystemParameters>> = {
  ...SCENARIOS,
  ...Object.fromEntries(FAULTY.map((fault) => [fault.kind, withFaults(METERED, 'u1', [fault])])),
};

/** The names of all scenarios. */
export const SCENARIO_NAMES: readonly string[] = Object.keys(ALL);

/**
 * The parameters of a named scenario.
 * @throws RangeError that lists the names there are
 */
export function scenario(name: string): SystemParameters {
  const found = Object.hasOwn(ALL, name) ? ALL[name] : undefined;
  if (found === undefined) {
    throw new RangeError(
      `there is no scenario "${name}"; the scenarios are ${SCENARIO_NAMES.join(', ')}`,
    );
  }
  return found;
}
