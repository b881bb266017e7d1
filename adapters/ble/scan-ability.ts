/**
 * Whether the computer's adapter scans in the way of Bluetooth 5. Where it does, the other way hears
 * only a part of what is advertised, and some adapters refuse it once the system has used the new one.
 * The library does not say; it is asked by its inner parts. Where they are not, the answer is no.
 */
import { inner, isEmitter } from './inner-parts.ts';
import { once } from './once.ts';

/** An answer of the adapter: event 0x0E, for the command "Read Local Supported Commands" (0x1002). */
const COMPLETE = [0x04, 0x0e];
const COMMAND = 0x1002;
const COMMAND_AT = 4;
const STATUS_AT = 6;
/** Octet 37 of the answer: bit 5, set extended scan parameters; bit 6, enable extended scan. */
const OCTET_AT = 7 + 37;
const BOTH = 0x60;
const LIMIT_MS = 1000;

/** @param noble the library's central, powered on */
export async function scansExtended(noble: unknown): Promise<boolean> {
  const hci = inner(inner(noble, '_bindings'), '_hci');
  const socket = inner(hci, '_socket');
  const read: unknown = hci === null ? null : Reflect.get(hci, 'readSupportedCommands');
  if (hci === null || socket === null || typeof read !== 'function' || !isEmitter(socket)) {
    return false;
  }
  const before: unknown = Reflect.get(hci, '_isExtended');
  const options = { what: 'asking the adapter', limitMs: LIMIT_MS, isAnswer };
  try {
    const [answer] = await once(socket, 'data', options, () => void Reflect.apply(read, hci, []));
    return answer instanceof Uint8Array && ((answer[OCTET_AT] ?? 0) & BOTH) === BOTH;
  } catch {
    return false;
  } finally {
    // It takes the answer for a wish, and reads the wrong bits of it.
    Reflect.set(hci, '_isExtended', before);
  }
}

function isAnswer([packet]: readonly unknown[]): boolean {
  return (
    Buffer.isBuffer(packet) &&
    packet.length > OCTET_AT &&
    COMPLETE.every((byte, i) => packet[i] === byte) &&
    packet.readUInt16LE(COMMAND_AT) === COMMAND &&
    packet[STATUS_AT] === 0
  );
}
