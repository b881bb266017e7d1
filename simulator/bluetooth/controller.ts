/**
 * A Bluetooth controller for a host that scans and connects: takes commands and data, gives events
 * and data, as a real one would over its wire. It hears what is in the air.
 */
import { randomStream } from '../random.ts';
import type { Agenda } from './agenda.ts';
import type { Air } from './air.ts';
import { addressBytes, addressText, joined, readU16, u16, whole } from './bytes.ts';
import * as hci from './hci.ts';
import { OPCODE, STATUS } from './hci.ts';
import { readDataPacket } from './l2cap.ts';
import { Link } from './link.ts';
import type { Peripheral } from './peripheral.ts';
import { type Heard, Scanner } from './scanner.ts';

export interface ControllerOptions {
  readonly address: string;
  /** The longest data packet, bytes, and how many it takes at once. */
  readonly dataLength: number;
  readonly dataPackets: number;
  readonly mostLinks: number;
  /** The share of advertisements that are not heard, %. */
  readonly lossPct: number;
  /** How long it tries to connect, ms. */
  readonly connectLimitMs: number;
  readonly seed: number;
}

export const CONTROLLER: ControllerOptions = {
  address: '00:aa:01:00:00:00',
  dataLength: 27,
  dataPackets: 8,
  mostLinks: 64,
  lossPct: 0,
  connectLimitMs: 5000,
  seed: 1,
};

/** Core 5.0; nobody's company identifier. */
const VERSION = [0x09, 0x00, 0x00, 0x09, 0xff, 0xff, 0x00, 0x00];
const FIRST_HANDLE = 0x40;
/** With the bits of octet 37 for extended scanning. */
const COMMANDS = Uint8Array.from({ length: 64 }, (_, i) => (i === 37 ? 0x30 : 0xff));

interface Attempt {
  readonly address: string;
  readonly parameters: hci.ConnectionParameters;
  readonly giveUp: () => void;
}

export class Controller {
  readonly #agenda: Agenda;
  readonly #options: ControllerOptions;
  readonly #toHost: (packet: Uint8Array) => void;
  readonly #heard: (heard: Heard) => void;
  readonly #scanner: Scanner;
  readonly #links = new Map<number, { link: Link; peripheral: Peripheral }>();
  #attempt: Attempt | null = null;
  #leMask = 0x1f;

  constructor(
    air: Air,
    agenda: Agenda,
    toHost: (packet: Uint8Array) => void,
    options: ControllerOptions = CONTROLLER,
    heard: (heard: Heard) => void = () => undefined,
  ) {
    this.#agenda = agenda;
    this.#options = options;
    this.#toHost = toHost;
    this.#heard = heard;
    this.#scanner = new Scanner({
      ...{ toHost, heard, lossPct: options.lossPct },
      random: randomStream(options.seed, 'scanner'),
      wanted: (subevent) => this.#wanted(subevent),
    });
    air.heard = (peripheral) => this.#hear(peripheral);
  }

  /** Whether it is trying to connect. */
  get connecting(): boolean {
    return this.#attempt !== null;
  }
  get scanning(): boolean {
    return this.#scanner.on;
  }

  /** Takes a packet of the host. What is neither a command nor data is passed over. */
  receive(packet: Uint8Array): void {
    const command = hci.readCommand(packet);
    if (command !== null) this.#command(command.opcode, command.given);
    const data = readDataPacket(packet);
    if (data !== null) this.#links.get(data.handle)?.link.fromHost(data.first, data.piece);
  }

  /**
   * All that it was doing ends, as when it loses power.
   * @param politely whether it tells the host which links have ended
   */
  clear(politely: boolean): void {
    for (const [handle, { link }] of this.#links) {
      link.end();
      if (politely) this.#toHost(hci.disconnectionComplete(handle, STATUS.remoteEnded));
    }
    this.#links.clear();
    this.#attempt?.giveUp();
    this.#attempt = null;
    this.#scanner.stop();
  }

  #command(opcode: number, given: Uint8Array): void {
    const complete = (...result: (number | readonly number[] | Uint8Array)[]): void =>
      this.#toHost(hci.commandComplete(opcode, STATUS.ok, ...result));
    const { dataLength, dataPackets, address } = this.#options;
    switch (opcode) {
      case OPCODE.reset:
        this.clear(false);
        return complete();
      case OPCODE.leSetEventMask:
        this.#leMask = readU16(given, 0);
        return complete();
      case OPCODE.setEventMask:
      case OPCODE.writeLeHostSupported:
      case OPCODE.leSetRandomAddress:
      case OPCODE.leSetDefaultPhy:
        return complete();
      case OPCODE.readLeHostSupported:
        return complete(1, 0);
      case OPCODE.readLocalVersion:
        return complete(VERSION);
      case OPCODE.readSupportedCommands:
        return complete(COMMANDS);
      case OPCODE.readBufferSize:
        return complete(u16(dataLength), 0, u16(dataPackets), u16(0));
      case OPCODE.leReadBufferSize:
        return complete(u16(dataLength), dataPackets);
      case OPCODE.readAddress:
        return complete(addressBytes(address));
      case OPCODE.readRssi:
        return this.#readRssi(readU16(given, 0));
      case OPCODE.leSetScanParameters:
        return this.#scanParameters(opcode, given[0] === 1);
      case OPCODE.leSetExtendedScanParameters:
        return this.#scanParameters(opcode, given[3] === 1);
      case OPCODE.leSetScanEnable:
      case OPCODE.leSetExtendedScanEnable:
        if (given[0] === 1) {
          this.#scanner.start(opcode === OPCODE.leSetExtendedScanEnable, given[1] === 1);
        } else {
          this.#scanner.stop();
        }
        return complete();
      case OPCODE.leCreateConnection:
        return this.#connect(opcode, given.subarray(6, 12), given.subarray(15));
      case OPCODE.leExtendedCreateConnection:
        return this.#connect(opcode, given.subarray(3, 9), given.subarray(16));
      case OPCODE.leCancelConnection:
        return this.#cancel();
      case OPCODE.leConnectionUpdate:
        return this.#update(readU16(given, 0), parametersAt(given.subarray(4)));
      case OPCODE.disconnect:
        return this.#disconnect(readU16(given, 0));
      default:
        this.#toHost(hci.commandStatus(opcode, STATUS.unknownCommand));
    }
  }

  #scanParameters(opcode: number, active: boolean): void {
    const status = this.#scanner.set(active) ? STATUS.ok : STATUS.disallowed;
    this.#toHost(hci.commandComplete(opcode, status));
  }

  #hear(peripheral: Peripheral): void {
    const attempt = this.#attempt;
    if (attempt?.address === peripheral.address && peripheral.answers) {
      this.#establish(peripheral, attempt);
    } else {
      this.#scanner.hear(peripheral);
    }
  }

  #wanted(subevent: number): boolean {
    return (this.#leMask & (1 << (subevent - 1))) !== 0;
  }

  #connect(opcode: number, peer: Uint8Array, parameters: Uint8Array): void {
    const address = addressText(peer);
    let status: number = STATUS.ok;
    const linked = [...this.#links.values()].some((each) => each.peripheral.address === address);
    if (this.#attempt !== null) status = STATUS.disallowed;
    else if (linked) status = STATUS.connectionExists;
    else if (this.#links.size >= this.#options.mostLinks) status = STATUS.connectionLimit;
    this.#toHost(hci.commandStatus(opcode, status));
    if (status !== STATUS.ok) return;
    const giveUp = this.#agenda.after(this.#options.connectLimitMs, () => {
      this.#attempt = null;
      this.#tellConnection(STATUS.failedToEstablish);
    });
    this.#attempt = { address, parameters: parametersAt(parameters), giveUp };
  }

  #cancel(): void {
    const attempt = this.#attempt;
    const status = attempt === null ? STATUS.disallowed : STATUS.ok;
    this.#toHost(hci.commandComplete(OPCODE.leCancelConnection, status));
    if (attempt === null) return;
    attempt.giveUp();
    this.#attempt = null;
    this.#tellConnection(STATUS.unknownConnection);
  }

  #tellConnection(status: number, made?: hci.Connection): void {
    const enhanced = this.#wanted(hci.SUBEVENT.enhancedConnectionComplete);
    this.#toHost(hci.connectionComplete(enhanced, status, made));
  }

  #establish(peripheral: Peripheral, { parameters, giveUp }: Attempt): void {
    giveUp();
    this.#attempt = null;
    let handle = FIRST_HANDLE;
    while (this.#links.has(handle)) handle++;
    const link = new Link({
      ...{ handle, parameters, agenda: this.#agenda, toHost: this.#toHost },
      dataLength: this.#options.dataLength,
      delivered: (_, bytes) => this.#heard({ what: 'frame', address: peripheral.address, bytes }),
      ended: (reason) => {
        this.#links.delete(handle);
        this.#toHost(hci.disconnectionComplete(handle, reason));
      },
    });
    link.open(peripheral);
    this.#links.set(handle, { link, peripheral });
    this.#tellConnection(STATUS.ok, { handle, peer: peripheral, parameters });
    if (!peripheral.connect(link)) link.fail();
  }

  #update(handle: number, parameters: hci.ConnectionParameters): void {
    const found = this.#links.get(handle);
    const status = found === undefined ? STATUS.unknownConnection : STATUS.ok;
    this.#toHost(hci.commandStatus(OPCODE.leConnectionUpdate, status));
    if (found === undefined) return;
    found.link.update(parameters);
    this.#toHost(hci.connectionUpdated(handle, parameters));
  }

  #disconnect(handle: number): void {
    const found = this.#links.get(handle);
    const status = found === undefined ? STATUS.unknownConnection : STATUS.ok;
    this.#toHost(hci.commandStatus(OPCODE.disconnect, status));
    if (found === undefined) return;
    found.link.end();
    this.#links.delete(handle);
    this.#toHost(hci.disconnectionComplete(handle, STATUS.localEnded));
  }

  #readRssi(handle: number): void {
    const found = this.#links.get(handle);
    const status = found === undefined ? STATUS.unknownConnection : STATUS.ok;
    const rssi = whole(found?.peripheral.rssiDbm() ?? 0, 1);
    this.#toHost(hci.commandComplete(OPCODE.readRssi, status, joined(u16(handle), rssi)));
  }
}

/** Longest interval, latency and supervision time-out, one after another. */
function parametersAt(bytes: Uint8Array): hci.ConnectionParameters {
  return {
    interval: Math.max(readU16(bytes, 0), 6),
    latency: readU16(bytes, 2),
    timeout: readU16(bytes, 4),
  };
}
