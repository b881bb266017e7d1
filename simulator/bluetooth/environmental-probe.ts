/**
 * A probe with the Environmental Sensing Service (0x181A), Battery (0x180F) and Device Information
 * (0x180A). It may hold several instances of its sensors: then each characteristic carries a user
 * description and the measurement descriptor that tell them apart.
 */
import { name, packet, services, flags } from './advertisement.ts';
import { type Characteristic, type Descriptor, PROPERTY, type Service } from './attributes.ts';
import { joined, textBytes, whole } from './bytes.ts';
import { type Device, fixed, genericServices, LONG_MTU } from './device.ts';
import type { EnvironmentalPlan, Measure } from './plan.ts';

/** How each travels (GATT Specification Supplement): UUID, bytes, steps per unit, what says `not known`. */
const FORMAT: Readonly<
  Record<Measure, { uuid: string; bytes: number; perUnit: number; notKnown: number | null }>
> = {
  temperatureC: { uuid: '2a6e', bytes: 2, perUnit: 100, notKnown: -32_768 },
  humidityPct: { uuid: '2a6f', bytes: 2, perUnit: 100, notKnown: 0xffff },
  velocityMs: { uuid: '2a72', bytes: 2, perUnit: 100, notKnown: null },
  pressurePa: { uuid: '2a6d', bytes: 4, perUnit: 10, notKnown: null },
};
/** What its sensors are made for; outside of it a reading is a fault. */
const VALID: Readonly<Record<Measure, readonly [number, number]>> = {
  temperatureC: [-30, 80],
  humidityPct: [0, 100],
  velocityMs: [0, 30],
  pressurePa: [60_000, 110_000],
};

const INSTANTANEOUS = 1;
const UNCERTAINTY_UNKNOWN = 0xff;

/** A value of a measure in its own format; null: `not known`, if there is a way to say so. */
export function encodeMeasure(measure: Measure, value: number | null): Uint8Array | null {
  const { bytes, perUnit, notKnown } = FORMAT[measure];
  const figure = value === null ? notKnown : Math.round(value * perUnit);
  return figure === null ? null : Uint8Array.from(whole(figure, bytes));
}

/** One sensor of one instance. */
interface Sensor {
  readonly probe: string;
  readonly measure: Measure;
  readonly characteristic: Characteristic;
  value: number | null;
}

export function environmentalProbe(plan: EnvironmentalPlan): Device {
  const { instances, notify = true, mtu = LONG_MTU, secured = false } = plan;
  const properties = PROPERTY.read | (notify ? PROPERTY.notify : 0);
  const several = instances.length > 1;
  let batteryPct: number | null = null;

  const sensors = instances.flatMap((instance) =>
    instance.measures.map((measure): Sensor => {
      const sensor: Sensor = {
        probe: instance.probe,
        measure,
        value: null,
        characteristic: {
          uuid: FORMAT[measure].uuid,
          properties,
          secured,
          value: () => encodeMeasure(measure, sensor.value),
          descriptors: descriptorsOf(measure, several ? instance : null, instance.intervalS),
        },
      };
      return sensor;
    }),
  );
  const battery: Characteristic = {
    uuid: '2a19',
    properties,
    value: () => (batteryPct === null ? null : Uint8Array.of(batteryPct)),
  };
  const all: Service[] = [
    ...genericServices(plan.name),
    { uuid: '180a', characteristics: deviceInformation(plan) },
    { uuid: '180f', characteristics: [battery] },
    { uuid: '181a', characteristics: sensors.map(({ characteristic }) => characteristic) },
  ];

  const data = packet(flags(), services(['181a', '180f']));
  const advertisement = { data, response: packet(name(plan.name, 0)) };
  return {
    connectable: true,
    services: all,
    mtu,
    advertisement: () => advertisement,
    take(reading) {
      const told: Characteristic[] = [];
      for (const sensor of sensors) {
        const value = sensor.probe === reading.probe ? reading[sensor.measure] : undefined;
        if (value === undefined) continue;
        sensor.value = value;
        told.push(sensor.characteristic);
      }
      if (reading.batteryPct !== undefined && reading.probe === instances[0]?.probe) {
        batteryPct = reading.batteryPct;
        told.push(battery);
      }
      return told;
    },
  };
}

function descriptorsOf(
  measure: Measure,
  instance: { description?: string | undefined; application?: number | undefined } | null,
  intervalS: number,
): Descriptor[] {
  const [low, high] = VALID[measure];
  const ends = [encodeMeasure(measure, low), encodeMeasure(measure, high)];
  const measured = joined(
    ...[whole(0, 2), INSTANTANEOUS, whole(0, 3), whole(Math.round(intervalS), 3)],
    ...[instance?.application ?? 0, UNCERTAINTY_UNKNOWN],
  );
  return [
    { uuid: '290c', value: measured },
    ...(instance?.description === undefined
      ? []
      : [{ uuid: '2901', value: textBytes(instance.description) }]),
    { uuid: '2906', value: joined(...ends.map((end) => end ?? [])) },
  ];
}

function deviceInformation({ address }: EnvironmentalPlan): Characteristic[] {
  return [
    fixed('2a29', textBytes('Plateau, simulated')),
    fixed('2a24', textBytes('Air probe')),
    fixed('2a25', textBytes(address.replaceAll(':', ''))),
    fixed('2a26', textBytes('1.0')),
  ];
}
