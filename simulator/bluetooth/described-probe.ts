/**
 * A probe with a layout of its own, invented: a weather vane that tells the velocity in feet a minute
 * and the temperature in tenths of a degree Fahrenheit, and its battery in half per cents to whoever
 * asks. It is that of the example of a description file.
 */
import { flags, name, packet, services } from './advertisement.ts';
import { type Characteristic, PROPERTY } from './attributes.ts';
import { joined, u16 } from './bytes.ts';
import { type Device, genericServices } from './device.ts';
import type { DescribedPlan } from './plan.ts';

const SERVICE = '5f1c0001-7b52-4d0e-9a36-2c8e41d9b7a0';
const WIND = '5f1c0002-7b52-4d0e-9a36-2c8e41d9b7a0';
const BATTERY = '5f1c0003-7b52-4d0e-9a36-2c8e41d9b7a0';
const NOT_KNOWN = 0xffff;
/** Shorter packets than others take: it is a small device. */
const MTU = 23;

export function describedProbe({ name: ownName, probe }: DescribedPlan): Device {
  let wind: Uint8Array | null = null;
  let battery: Uint8Array | null = null;
  const told: Characteristic = {
    uuid: WIND,
    properties: PROPERTY.read | PROPERTY.notify,
    value: () => wind,
  };
  const asked: Characteristic = { uuid: BATTERY, properties: PROPERTY.read, value: () => battery };
  const data = packet(flags(), services([SERVICE]));
  const advertisement = { data, response: packet(name(ownName, 0)) };
  return {
    connectable: true,
    services: [...genericServices(ownName), { uuid: SERVICE, characteristics: [told, asked] }],
    mtu: MTU,
    advertisement: () => advertisement,
    take(reading) {
      if (reading.probe !== probe) return [];
      const { temperatureC, velocityMs, batteryPct } = reading;
      if (batteryPct !== undefined) battery = Uint8Array.of(0, Math.round(batteryPct * 2));
      if (temperatureC === undefined) return [];
      const feetPerMinute = velocityMs === undefined ? NOT_KNOWN : Math.round(velocityMs / 0.00508);
      const tenthsF = Math.round((temperatureC * 9) / 5 / 0.1 + 320);
      wind = joined(u16(feetPerMinute), u16(tenthsF));
      return [told];
    },
  };
}
