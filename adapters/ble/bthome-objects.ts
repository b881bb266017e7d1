/**
 * The objects of a BTHome v2 payload: an id, then a number of that id's length, lowest byte first.
 * Every published id is listed with its length, since one of unknown length ends the reading: what
 * comes after it cannot be found.
 */
import { BYTES_OF, type NumberType, readNumber } from './numbers.ts';
import { isEmpty, put, type Quantity, type Values } from './quantities.ts';

/** An object that is a reading: count × `times` / `per` is in the quantity's unit. */
interface Measured {
  quantity: Quantity;
  type: NumberType;
  times: number;
  per: number;
}

const MEASURED: ReadonlyMap<number, Measured> = new Map([
  [0x01, measured('batteryPct', 'uint8')],
  [0x02, measured('temperatureC', 'int16', 1, 100)],
  [0x03, measured('humidityPct', 'uint16', 1, 100)],
  // 0.01 hPa
  [0x04, measured('pressurePa', 'uint24')],
  [0x08, measured('dewPointC', 'int16', 1, 100)],
  [0x0b, measured('powerW', 'uint24', 1, 100)],
  [0x2e, measured('humidityPct', 'uint8')],
  [0x44, measured('velocityMs', 'uint16', 1, 100)],
  [0x45, measured('temperatureC', 'int16', 1, 10)],
  [0x57, measured('temperatureC', 'int8')],
  [0x58, measured('temperatureC', 'int8', 35, 100)],
  [0x5c, measured('powerW', 'int32', 1, 100)],
  [0x62, measured('velocityMs', 'int32', 1, 1e6)],
]);

function measured(quantity: Quantity, type: NumberType, times = 1, per = 1): Measured {
  return { quantity, type, times, per };
}

const PACKET = 0x00;
const TIME_STAMP = 0x50;
/** Text and raw bytes: a byte says how many follow. */
const COUNTED: ReadonlySet<number> = new Set([0x53, 0x54]);

/** Lengths of the objects that are passed over, by length: energies, gases, counts, switches, … */
const PASSED_OVER: ReadonlyMap<number, number> = new Map(
  [
    [0x09, 0x0f, 0x10, 0x11, ...upTo(0x15, 0x2d), 0x2f, 0x3a, 0x46, 0x59, 0x60, 0x64],
    [
      ...[0x06, 0x07, 0x0c, 0x0d, 0x0e, 0x12, 0x13, 0x14, 0x3c, 0x3d, 0x3f, 0x40, 0x41, 0x43],
      ...[0x47, 0x48, 0x49, 0x4a, 0x51, 0x52, 0x56, 0x5a, 0x5d, 0x5e, 0x5f, 0x61, 0xf0],
    ],
    [0x05, 0x0a, 0x42, 0x4b, 0xf2],
    [0x3e, 0x4c, 0x4d, 0x4e, 0x4f, 0x55, 0x5b, 0x63, 0xf1],
  ].flatMap((ids, i) => ids.map((id): [number, number] => [id, i + 1])),
);
function upTo(first: number, last: number): number[] {
  return Array.from({ length: last - first + 1 }, (_, i) => first + i);
}

/** The first and the last second that a time stamp can mean: the format is of 2022. */
const EARLIEST_S = Date.UTC(2022, 0) / 1000;
const LATEST_S = Date.UTC(2100, 0) / 1000;

/** What a payload says. */
export interface Objects {
  /**
   * One entry for the first of each quantity, one for the second, …: a probe with two temperatures has
   * two. A figure that is out of range is left out and the others keep their places, so an entry may
   * be empty; the last one is not.
   */
  values: Values[];
  /** The packet's number, 0 to 255, by which repeats are known; null: it has none. */
  packet: number | null;
  /** When it was measured by the probe's own clock, ms since the epoch, to the second; null: not said. */
  t: number | null;
}

/** The objects up to the end, or to the first that is cut or of unknown length. */
export function readObjects(payload: Uint8Array): Objects {
  const objects: Objects = { values: [], packet: null, t: null };
  const seen = new Map<Quantity, number>();
  let at = 0;
  while (at < payload.length) {
    const id = payload[at] ?? 0;
    const start = at + (COUNTED.has(id) ? 2 : 1);
    const end = start + (lengthAt(payload, at, id) ?? Infinity);
    if (end > payload.length) break;
    const object = MEASURED.get(id);
    if (object !== undefined) {
      const nth = seen.get(object.quantity) ?? 0;
      seen.set(object.quantity, nth + 1);
      const count = readNumber(payload, start, object.type) ?? NaN;
      // Divided, not multiplied by a fraction: 25.06 stays 25.06.
      const value = (count * object.times) / object.per;
      while (objects.values.length <= nth) objects.values.push({});
      const values = objects.values[nth];
      if (values !== undefined) put(values, object.quantity, value);
    } else if (id === PACKET) {
      objects.packet = readNumber(payload, start, 'uint8');
    } else if (id === TIME_STAMP) {
      const seconds = readNumber(payload, start, 'uint32') ?? 0;
      // A clock that was never set counts from 1970, or 2000.
      if (seconds >= EARLIEST_S && seconds < LATEST_S) objects.t = seconds * 1000;
    }
    at = end;
  }
  while (objects.values.length > 0 && isEmpty(objects.values.at(-1) ?? {})) objects.values.pop();
  return objects;
}

/** Length of the object at `at`, without its id; null: not known. */
function lengthAt(payload: Uint8Array, at: number, id: number): number | null {
  const object = MEASURED.get(id);
  if (object !== undefined) return BYTES_OF[object.type];
  if (id === PACKET) return 1;
  if (id === TIME_STAMP) return 4;
  if (COUNTED.has(id)) return payload[at + 1] ?? null;
  return PASSED_OVER.get(id) ?? null;
}
