/**
 * Probes that speak the standard services: Environmental Sensing, Battery, Device Information.
 * Formats: GATT specification supplement; all numbers have their lowest byte first.
 */
import { BYTES_OF, type NumberType, readNumber } from './numbers.ts';
import { put, type Quantity, type Values } from './quantities.ts';
import { decodeText } from './text.ts';
import { normalUuid } from './uuid.ts';

export { describeInstance } from './descriptors.ts';

/** The services that are read, by UUID. */
export const SERVICES: ReadonlyMap<string, string> = new Map([
  ['181a', 'Environmental Sensing'],
  ['180f', 'Battery'],
  ['180a', 'Device Information'],
]);

/** The bytes of a measured value. */
interface Format {
  type: NumberType;
  /** So many counts are one of the quantity's unit. */
  per: number;
}

/** A characteristic that is known. */
export interface Characteristic {
  name: string;
  /** UUID of the service that it belongs to. */
  service: string;
  /** What it measures; null: it holds text about the probe. */
  quantity: Quantity | null;
  format: Format | null;
}

/**
 * The characteristics that are read, by UUID. The codes for "not known" (0x8000 of a temperature, 0xFFFF
 * of a humidity) need no entry: as figures they are beyond all that can be.
 */
export const CHARACTERISTICS: ReadonlyMap<string, Characteristic> = new Map([
  ['2a6e', sensed('Temperature', 'temperatureC', 'int16', 100)],
  ['2a6f', sensed('Humidity', 'humidityPct', 'uint16', 100)],
  ['2a6d', sensed('Pressure', 'pressurePa', 'uint32', 10)],
  ['2a70', sensed('True Wind Speed', 'velocityMs', 'uint16', 100)],
  ['2a72', sensed('Apparent Wind Speed', 'velocityMs', 'uint16', 100)],
  ['2a7b', sensed('Dew Point', 'dewPointC', 'int8', 1)],
  ['2a19', { ...sensed('Battery Level', 'batteryPct', 'uint8', 1), service: '180f' }],
  ['2a24', text('Model')],
  ['2a25', text('Serial Number')],
  ['2a26', text('Firmware')],
  ['2a27', text('Hardware')],
  ['2a28', text('Software')],
  ['2a29', text('Maker')],
]);

function sensed(name: string, quantity: Quantity, type: NumberType, per: number): Characteristic {
  return { name, service: '181a', quantity, format: { type, per } };
}
function text(name: string): Characteristic {
  return { name, service: '180a', quantity: null, format: null };
}

function characteristicOf(uuid: string): Characteristic | null {
  return CHARACTERISTICS.get(normalUuid(uuid) ?? '') ?? null;
}

/**
 * The value of a characteristic.
 * @param uuid in any spelling
 * @param validRange the bytes of its Valid Range descriptor (0x2906), where it has one: what is beyond
 *   is no reading. One that cannot be a range is left out of account.
 * @returns null: not one of ours, of another length, "not known", beyond its own or the physical range
 */
export function decodeCharacteristic(
  uuid: string,
  bytes: Uint8Array,
  validRange: Uint8Array | null,
): Values | null {
  const characteristic = characteristicOf(uuid);
  if (characteristic === null) return null;
  const { quantity, format } = characteristic;
  if (quantity === null || format === null || bytes.length !== BYTES_OF[format.type]) return null;
  const count = readNumber(bytes, 0, format.type);
  if (count === null) return null;
  if (validRange !== null && !isWithin(count, validRange, format.type)) return null;
  const values: Values = {};
  // Divided, not multiplied by a fraction: 21.48 stays 21.48.
  return put(values, quantity, count / format.per) ? values : null;
}

/** Valid Range: the lowest, then the highest count, in the characteristic's own format. */
function isWithin(count: number, validRange: Uint8Array, type: NumberType): boolean {
  if (validRange.length !== 2 * BYTES_OF[type]) return true;
  const low = readNumber(validRange, 0, type) ?? -Infinity;
  const high = readNumber(validRange, BYTES_OF[type], type) ?? Infinity;
  return low >= high || (count >= low && count <= high);
}

/** The standard's codes for kinds of number in a Presentation Format. */
const FORMAT_CODES: ReadonlyMap<number, NumberType> = new Map([
  [0x04, 'uint8'],
  [0x06, 'uint16'],
  [0x07, 'uint24'],
  [0x08, 'uint32'],
  [0x0c, 'int8'],
  [0x0e, 'int16'],
  [0x0f, 'int24'],
  [0x10, 'int32'],
  [0x14, 'float32'],
]);

/**
 * Whether a probe's own Presentation Format (0x2904: format u8, exponent s8, unit u16, name space u8,
 * description u16) agrees with the standard. Where it does not, either of the two may be wrong, by a
 * power of ten or a sign, and a person should compare the figure with another probe's.
 * @returns true also where there is nothing to compare
 */
export function presentationAgrees(uuid: string, presentation: Uint8Array): boolean {
  const format = characteristicOf(uuid)?.format ?? null;
  const type = FORMAT_CODES.get(presentation[0] ?? 0) ?? null;
  if (format === null || type === null || presentation.length !== 7) return true;
  const exponent = readNumber(presentation, 1, 'int8') ?? 0;
  return type === format.type && 10 ** -exponent === format.per;
}

/**
 * A text of the Device Information Service.
 * @returns what it is ("Model") and the text; null where it is none
 */
export function decodeInformation(
  uuid: string,
  bytes: Uint8Array,
): { name: string; text: string } | null {
  const characteristic = characteristicOf(uuid);
  if (characteristic === null || characteristic.quantity !== null) return null;
  const decoded = decodeText(bytes);
  return decoded === null ? null : { name: characteristic.name, text: decoded };
}
