/**
 * A probe that broadcasts in BTHome v2 (service data of 0xFCD2), plain or encrypted: nobody connects
 * to it. Several sensors of a kind stand in one frame in the order of its probes.
 */
import { createCipheriv } from 'node:crypto';
import type { ProbeReading } from '../probe.ts';
import { flags, name, packet, serviceData } from './advertisement.ts';
import { addressBytes, hexBytes, joined, u16, whole } from './bytes.ts';
import { type Device, LONG_MTU } from './device.ts';
import type { BeaconPlan } from './plan.ts';

const UUID = 0xfcd2;
const PLAIN = 0x40;
const ENCRYPTED = 0x41;
const TAG_BYTES = 4;
/** The counter follows time, so that it also goes on in a sender that was started again. */
const COUNTER_STEP_MS = 100;

/** Objects in rising order of their ids, as the format wants them. */
const OBJECTS = [
  { id: 0x01, quantity: 'batteryPct', bytes: 1, perUnit: 1 },
  { id: 0x02, quantity: 'temperatureC', bytes: 2, perUnit: 100 },
  { id: 0x03, quantity: 'humidityPct', bytes: 2, perUnit: 100 },
  { id: 0x04, quantity: 'pressurePa', bytes: 3, perUnit: 1 }, // in hundredths of a hPa
  { id: 0x0b, quantity: 'powerW', bytes: 3, perUnit: 100 },
  { id: 0x44, quantity: 'velocityMs', bytes: 2, perUnit: 100 },
] as const;
const PACKET_ID = 0x00;

export function beacon(plan: BeaconPlan): Device {
  const key = plan.key === undefined ? null : hexBytes(plan.key);
  const latest = new Map<string, ProbeReading>();
  let counter = 0;
  let frame: Uint8Array | null = null;

  function compose(): Uint8Array {
    const readings = plan.probes.flatMap((probe) => latest.get(probe) ?? []);
    const objects = OBJECTS.flatMap(({ id, quantity, bytes, perUnit }) =>
      readings.flatMap((reading) => {
        const value = reading[quantity];
        return value === undefined ? [] : [joined(id, whole(Math.round(value * perUnit), bytes))];
      }),
    );
    const plain = joined(PACKET_ID, counter & 0xff, ...objects);
    return key === null ? joined(PLAIN, plain) : seal(key, plan.address, plain, counter);
  }

  return {
    connectable: false,
    services: [],
    mtu: LONG_MTU,
    advertisement() {
      const pieces = frame === null ? [flags()] : [flags(), serviceData(UUID, frame)];
      const taken = pieces.reduce((sum, each) => sum + each.length, 0);
      return { data: packet(...pieces, name(plan.name, taken)), response: null };
    },
    take(reading) {
      if (!plan.probes.includes(reading.probe)) return [];
      // The battery comes once a minute, and stands in every frame.
      const { batteryPct = latest.get(reading.probe)?.batteryPct } = reading;
      latest.set(reading.probe, batteryPct === undefined ? reading : { ...reading, batteryPct });
      counter = Math.max(counter + 1, Math.floor(reading.t / COUNTER_STEP_MS) % 2 ** 32);
      frame = compose();
      return [];
    },
  };
}

/**
 * An encrypted frame: AES-128-CCM; the nonce is the address as it is written, the UUID, the
 * device-information byte and the counter.
 * @param key 16 bytes
 */
export function seal(
  key: Uint8Array,
  address: string,
  plain: Uint8Array,
  counter: number,
): Uint8Array {
  const count = whole(counter, 4);
  const written = addressBytes(address).reverse();
  const nonce = joined(written, u16(UUID), ENCRYPTED, count);
  const cipher = createCipheriv('aes-128-ccm', key, nonce, { authTagLength: TAG_BYTES });
  const sealed = cipher.update(plain);
  cipher.final();
  return joined(ENCRYPTED, sealed, count, cipher.getAuthTag());
}
