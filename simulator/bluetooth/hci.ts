/**
 * The packets between a host and its controller: the few of the Host Controller Interface (Bluetooth
 * Core, volume 4, part E) that a central of Low Energy needs. Each begins with its type, as on a
 * serial line: 1 command, 2 data, 4 event.
 */
import { addressBytes, joined, type Piece, readU16, u16 } from './bytes.ts';

export const PACKET = { command: 0x01, data: 0x02, event: 0x04 } as const;

export const OPCODE = {
  disconnect: 0x0406,
  setEventMask: 0x0c01,
  reset: 0x0c03,
  readLeHostSupported: 0x0c6c,
  writeLeHostSupported: 0x0c6d,
  readLocalVersion: 0x1001,
  readSupportedCommands: 0x1002,
  readBufferSize: 0x1005,
  readAddress: 0x1009,
  readRssi: 0x1405,
  leSetEventMask: 0x2001,
  leReadBufferSize: 0x2002,
  leSetRandomAddress: 0x2005,
  leSetScanParameters: 0x200b,
  leSetScanEnable: 0x200c,
  leCreateConnection: 0x200d,
  leCancelConnection: 0x200e,
  leConnectionUpdate: 0x2013,
  leStartEncryption: 0x2019,
  leSetDefaultPhy: 0x2031,
  leSetExtendedScanParameters: 0x2041,
  leSetExtendedScanEnable: 0x2042,
  leExtendedCreateConnection: 0x2043,
} as const;

/** Why something did not work, or has ended (volume 1, part F). */
export const STATUS = {
  ok: 0x00,
  unknownCommand: 0x01,
  unknownConnection: 0x02,
  timeout: 0x08,
  connectionLimit: 0x09,
  connectionExists: 0x0b,
  disallowed: 0x0c,
  remoteEnded: 0x13,
  localEnded: 0x16,
  failedToEstablish: 0x3e,
} as const;

/** What an advertising report says of the packet: legacy event types. */
export const REPORT = {
  connectable: 0x00,
  scannable: 0x02,
  broadcast: 0x03,
  response: 0x04,
} as const;
/** The same as the flags of an extended report of a legacy packet. */
const EXTENDED_TYPE: Readonly<Record<number, number>> = {
  [REPORT.connectable]: 0x13,
  [REPORT.scannable]: 0x12,
  [REPORT.broadcast]: 0x10,
  [REPORT.response]: 0x1b,
};
const META = 0x3e;
/** Subevents of Low Energy; their mask has bit 0 for the first. */
export const SUBEVENT = {
  connectionComplete: 0x01,
  advertisingReport: 0x02,
  connectionUpdate: 0x03,
  enhancedConnectionComplete: 0x0a,
  extendedAdvertisingReport: 0x0d,
} as const;

/** A command, taken apart; null where the packet is none, or is shorter than it says. */
export function readCommand(packet: Uint8Array): { opcode: number; given: Uint8Array } | null {
  const length = packet[3] ?? Infinity;
  if (packet[0] !== PACKET.command || packet.length < 4 + length) return null;
  return { opcode: readU16(packet, 1), given: packet.subarray(4, 4 + length) };
}

function event(code: number, ...pieces: readonly Piece[]): Uint8Array {
  const body = joined(...pieces);
  return joined(PACKET.event, code, body.length, body);
}

/** How many commands the controller would take now: as many as there are. */
const COMMANDS_FREE = 1;

export function commandComplete(opcode: number, status: number, ...result: Piece[]): Uint8Array {
  return event(0x0e, COMMANDS_FREE, u16(opcode), status, ...result);
}

export function commandStatus(opcode: number, status: number): Uint8Array {
  return event(0x0f, status, COMMANDS_FREE, u16(opcode));
}

export function disconnectionComplete(handle: number, reason: number): Uint8Array {
  return event(0x05, STATUS.ok, u16(handle), reason);
}

/** Says that so many data packets of a connection have gone out. */
export function completedPackets(handle: number, count: number): Uint8Array {
  return event(0x13, 1, u16(handle), u16(count));
}

export interface ConnectionParameters {
  /** In units of 1.25 ms. */
  readonly interval: number;
  readonly latency: number;
  /** Of supervision, in units of 10 ms. */
  readonly timeout: number;
}

export interface Peer {
  readonly address: string;
  readonly addressType: 'public' | 'random';
}
const typeByte = ({ addressType }: Peer): number => (addressType === 'random' ? 1 : 0);

export interface Connection {
  readonly handle: number;
  readonly peer: Peer;
  readonly parameters: ConnectionParameters;
}
const NO_CONNECTION: Connection = {
  handle: 0,
  peer: { address: '00:00:00:00:00:00', addressType: 'public' },
  parameters: { interval: 0, latency: 0, timeout: 0 },
};

/**
 * A connection is there, or could not be made (`status` other than ok: all else is zero).
 * @param enhanced in the form of Bluetooth 4.2 and later, with the resolved addresses
 */
export function connectionComplete(
  enhanced: boolean,
  status: number,
  { handle, peer, parameters }: Connection = NO_CONNECTION,
): Uint8Array {
  const central = 0;
  const { interval, latency, timeout } = parameters;
  return event(
    META,
    enhanced ? SUBEVENT.enhancedConnectionComplete : SUBEVENT.connectionComplete,
    ...[status, u16(handle), central, typeByte(peer), addressBytes(peer.address)],
    enhanced ? new Uint8Array(12) : [],
    ...[u16(interval), u16(latency), u16(timeout), 0],
  );
}

export function connectionUpdated(handle: number, given: ConnectionParameters): Uint8Array {
  const { interval, latency, timeout } = given;
  const figures = [...u16(interval), ...u16(latency), ...u16(timeout)];
  return event(META, SUBEVENT.connectionUpdate, STATUS.ok, u16(handle), figures);
}

/** One report of one packet that was heard. */
export function advertisingReport(
  extended: boolean,
  type: number,
  peer: Peer,
  data: Uint8Array,
  rssiDbm: number,
): Uint8Array {
  const from = joined(typeByte(peer), addressBytes(peer.address));
  if (!extended) {
    const report = joined(type, from, data.length, data, rssiDbm & 0xff);
    return event(META, SUBEVENT.advertisingReport, 1, report);
  }
  const ONE_M = 1;
  const NO_SECOND_PHY = 0;
  const NO_SET = 0xff;
  const NO_POWER = 127;
  return event(
    META,
    SUBEVENT.extendedAdvertisingReport,
    ...[1, u16(EXTENDED_TYPE[type] ?? 0), from, ONE_M, NO_SECOND_PHY, NO_SET, NO_POWER],
    ...[rssiDbm & 0xff, u16(0), new Uint8Array(7), data.length, data],
  );
}
