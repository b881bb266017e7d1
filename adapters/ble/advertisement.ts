/**
 * What a probe says of itself before anybody connects: a list of structures, each a length, a type and
 * data (Core Specification, supplement, part A). Nothing in it can be trusted, its lengths included.
 */
import { readNumber } from './numbers.ts';
import { decodeText } from './text.ts';
import { normalUuid } from './uuid.ts';

/** An advertisement, as far as it is of use. */
export interface Advertisement {
  localName: string | null;
  /** In the spelling of `normalUuid`. */
  serviceUuids: string[];
  serviceData: { uuid: string; data: Uint8Array }[];
  /** `company`: a number that the Bluetooth SIG gives out. */
  manufacturerData: { company: number; data: Uint8Array }[];
  /** The strength at which it is sent, dBm. */
  txPowerDbm: number | null;
}

/** Lists of service UUIDs, and service data: the type, and the bytes of one UUID. */
const UUID_LISTS: ReadonlyMap<number, number> = new Map([
  [0x02, 2],
  [0x03, 2],
  [0x04, 4],
  [0x05, 4],
  [0x06, 16],
  [0x07, 16],
]);
const SERVICE_DATA: ReadonlyMap<number, number> = new Map([
  [0x16, 2],
  [0x20, 4],
  [0x21, 16],
]);
const SHORT_NAME = 0x08;
const NAME = 0x09;
const TX_POWER = 0x0a;
const MANUFACTURER = 0xff;

/** Takes an advertisement apart. What is cut, or is not what its type says, is left out. */
export function parseAdvertisement(bytes: Uint8Array): Advertisement {
  const parsed: Advertisement = {
    localName: null,
    serviceUuids: [],
    serviceData: [],
    manufacturerData: [],
    txPowerDbm: null,
  };
  let at = 0;
  while (at < bytes.length) {
    const length = bytes[at] ?? 0;
    const end = at + 1 + length;
    // A length of zero: the rest is filled up.
    if (length === 0 || end > bytes.length) break;
    take(parsed, bytes[at + 1] ?? 0, bytes.slice(at + 2, end));
    at = end;
  }
  return parsed;
}

function take(parsed: Advertisement, type: number, data: Uint8Array): void {
  const listed = UUID_LISTS.get(type);
  const keyed = SERVICE_DATA.get(type);
  if (listed !== undefined) {
    for (let at = 0; at + listed <= data.length; at += listed) {
      const uuid = uuidOf(data.subarray(at, at + listed));
      if (uuid !== null && !parsed.serviceUuids.includes(uuid)) parsed.serviceUuids.push(uuid);
    }
  } else if (keyed !== undefined && data.length >= keyed) {
    const uuid = uuidOf(data.subarray(0, keyed));
    if (uuid !== null) parsed.serviceData.push({ uuid, data: data.subarray(keyed) });
  } else if (type === NAME || (type === SHORT_NAME && parsed.localName === null)) {
    parsed.localName = decodeText(data);
  } else if (type === TX_POWER && data.length === 1) {
    parsed.txPowerDbm = readNumber(data, 0, 'int8');
  } else if (type === MANUFACTURER) {
    const company = readNumber(data, 0, 'uint16');
    if (company !== null) parsed.manufacturerData.push({ company, data: data.subarray(2) });
  }
}

/** UUIDs are sent backwards. */
function uuidOf(bytes: Uint8Array): string | null {
  return normalUuid(Buffer.from(bytes).reverse().toString('hex'));
}
