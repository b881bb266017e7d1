/** What a device in the air is, apart from being heard or not: its server, its advertising. */
import type { ProbeReading } from '../probe.ts';
import type { Advertisement } from './advertisement.ts';
import { type Characteristic, PROPERTY, type Service } from './attributes.ts';
import { textBytes, u16 } from './bytes.ts';

export interface Device {
  /** Whether one can connect to it; else it only broadcasts. */
  readonly connectable: boolean;
  readonly services: readonly Service[];
  /** The longest ATT packet that it takes, bytes. */
  readonly mtu: number;
  /** What it says to all now. */
  advertisement(): Advertisement;
  /**
   * Takes what the physical simulation says of one of its sensors.
   * @returns the characteristics of which it tells whoever has subscribed
   */
  take(reading: ProbeReading): readonly Characteristic[];
}

export const LONG_MTU = 247;
const UNKNOWN_APPEARANCE = 0;

/** A characteristic that never changes. */
export function fixed(uuid: string, value: Uint8Array): Characteristic {
  return { uuid, properties: PROPERTY.read, value: () => value };
}

/** The two services that every device has. */
export function genericServices(name: string): Service[] {
  return [
    {
      uuid: '1800',
      characteristics: [
        fixed('2a00', textBytes(name)),
        fixed('2a01', Uint8Array.from(u16(UNKNOWN_APPEARANCE))),
      ],
    },
    {
      uuid: '1801',
      characteristics: [{ uuid: '2a05', properties: PROPERTY.indicate, value: () => null }],
    },
  ];
}
