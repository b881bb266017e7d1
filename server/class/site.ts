/** Where a lesson takes place: the library's reading room, as large and as warm as the lesson has it, with its unit. */
import { type Fault, FAULT_SIZES, withFaults } from '../../simulator/faults.ts';
import {
  airProbe,
  LARGE_OUTLET,
  OUTDOOR_UNIT,
  outdoorProbe,
  powerProbe,
  READING_ROOM,
  READING_ROOM_UNIT,
  vane,
} from '../../simulator/parts.ts';
import type { RoomParameters } from '../../simulator/room.ts';
import type { SystemParameters } from '../../simulator/system.ts';
import { pressureAtAltitudePa } from '../measure/moist-air.ts';
import type { Lesson } from './lesson.ts';

/** The unit of a lesson. */
export const UNIT = READING_ROOM_UNIT.id;
/** The machine has been on for so long when a lesson begins, s. */
const WARM_UP_S = 120;
/** A defrost is to be seen within a lesson. */
const FROST = { ...OUTDOOR_UNIT.frost, betweenS: 900 };
/** What warms the room where the lesson does not say, W: in heating an unheated wing draws on it. */
const SENSIBLE_W = { cooling: 1750, heating: -500 } as const;
/** People and their breath, where the lesson does not say, kg/h. */
const MOISTURE_KG_H = { cooling: 0.75, heating: 0.3 } as const;

/** The system with which a lesson begins. */
export function systemOf(lesson: Lesson): SystemParameters {
  return withFaults(healthySystemOf(lesson), UNIT, faultsAt(lesson, 0));
}

/** What the system becomes in the course of a lesson, and so long after its beginning, s. */
export function changesOf(lesson: Lesson): { afterS: number; parameters: SystemParameters }[] {
  const times = [...new Set(lesson.faults.map(({ afterS = 0 }) => afterS))];
  return times
    .filter((afterS) => afterS > 0)
    .sort((a, b) => a - b)
    .map((afterS) => ({
      afterS,
      parameters: withFaults(healthySystemOf(lesson), UNIT, faultsAt(lesson, afterS)),
    }));
}

/** The faults that are there by then. */
function faultsAt({ faults }: Lesson, elapsedS: number): Fault[] {
  return faults
    .filter(({ afterS = 0 }) => afterS <= elapsedS)
    .sort((a, b) => (a.afterS ?? 0) - (b.afterS ?? 0))
    .map(({ kind, size = FAULT_SIZES[kind][0] }) => ({ kind, size }));
}

/** The same with nothing wrong. */
export function healthySystemOf(lesson: Lesson): SystemParameters {
  const { title, mode, altitudeM, outdoor, setpointC, fan } = lesson;
  return {
    title,
    mode,
    pressurePa: Math.round(pressureAtAltitudePa(altitudeM)),
    outdoorAir: { ...outdoor, driftKPerH: 0 },
    outdoorUnit: { ...OUTDOOR_UNIT, maxW: 3900, minW: 900, frost: FROST },
    units: [
      {
        ...READING_ROOM_UNIT,
        room: roomOf(lesson),
        ...{ setpointC, fan, outletK: 0.6, opening: LARGE_OUTLET },
      },
    ],
    probes: [
      airProbe('p1', 'Return', UNIT, 'return'),
      airProbe('p2', 'Supply', UNIT, 'supply'),
      outdoorProbe('p3', 'Yard'),
      airProbe('p4', 'Room', UNIT, 'room'),
      powerProbe('p5', 'Outdoor unit meter'),
    ],
    anemometer: vane('v1', 'Vane'),
    warmUpS: WARM_UP_S,
  };
}

/** The reading room with all of it in proportion to its volume, but for those who are in it. */
function roomOf({ room, mode }: Lesson): RoomParameters {
  const { temperatureC, humidityPct, volumeM3 } = room;
  const times = volumeM3 / READING_ROOM.volumeM3;
  const scaled = (what: ScaledQuantity): number => times * READING_ROOM[what];
  return {
    ...READING_ROOM,
    ...{ volumeM3, temperatureC, humidityPct },
    massTemperatureC: temperatureC,
    contentsJK: scaled('contentsJK'),
    massJK: scaled('massJK'),
    massAirWK: scaled('massAirWK'),
    massOutdoorWK: scaled('massOutdoorWK'),
    glazingWK: scaled('glazingWK'),
    bufferKg: scaled('bufferKg'),
    bufferKgS: scaled('bufferKgS'),
    sensibleW: room.sensibleW ?? SENSIBLE_W[mode],
    moistureKgH: room.moistureKgH ?? MOISTURE_KG_H[mode],
  };
}

type ScaledQuantity =
  'contentsJK' | 'massJK' | 'massAirWK' | 'massOutdoorWK' | 'glazingWK' | 'bufferKg' | 'bufferKgS';
