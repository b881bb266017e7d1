/**
 * The socket that the radio library opens to its controller: the interface of
 * `@abandonware/bluetooth-hci-socket`, with the virtual controller behind it.
 */
import { EventEmitter } from 'node:events';
import type { Radio } from './radio.ts';

interface ErrorCode {
  readonly code: string;
  readonly errno: number;
  readonly text: string;
}
const NOT_SUPPORTED: ErrorCode = {
  code: 'EAFNOSUPPORT',
  errno: 97,
  text: 'Address family not supported by protocol',
};
const DOWN: ErrorCode = { code: 'ENETDOWN', errno: 100, text: 'Network is down' };
const FORBIDDEN: ErrorCode = { code: 'EPERM', errno: 1, text: 'Operation not permitted' };
const GONE: ErrorCode = { code: 'EBADFD', errno: 77, text: 'File descriptor in bad state' };
const NO_SUCH: ErrorCode = { code: 'ENODEV', errno: 19, text: 'No such device' };

function failure({ code, errno, text }: ErrorCode, syscall: string): Error {
  return Object.assign(new Error(text), { code, errno: -errno, syscall });
}

/** One controller of the list. */
interface Listed {
  readonly devId: number;
  readonly devUp: boolean;
  readonly idVendor: null;
  readonly idProduct: null;
  readonly busNumber: null;
  readonly deviceAddress: null;
}

/**
 * Makes the class that stands in for the library's: it is constructed without arguments.
 * @param radio the controller that all of its sockets reach
 */
export function socketClass(radio: Radio) {
  const { missing } = radio.world.controller;

  return class VirtualHciSocket extends EventEmitter {
    #raw = false;
    #open = false;

    /** @throws Error (EAFNOSUPPORT) where the kernel is to have no Bluetooth */
    constructor() {
      super();
      if (missing === 'kernel') throw failure(NOT_SUPPORTED, 'socket');
    }

    bindRaw(devId = 0): number {
      this.#raw = true;
      return this.#bind(devId);
    }
    bindUser(devId = 0): number {
      this.#raw = false;
      return this.#bind(devId);
    }
    bindControl(): number {
      return this.#bind(0);
    }

    start(): void {
      this.#open = true;
      radio.receive = (packet) => {
        if (this.#open) this.emit('data', Buffer.from(packet));
      };
    }
    stop(): void {
      this.#open = false;
    }
    reset(): void {}
    cleanup(): void {}

    isDevUp(): boolean {
      return missing === undefined || missing === 'permission' ? radio.isUp : false;
    }

    getDeviceList(): Listed[] {
      const unknown = { idVendor: null, idProduct: null, busNumber: null, deviceAddress: null };
      return missing === 'adapter' ? [] : [{ devId: 0, devUp: radio.isUp, ...unknown }];
    }

    /** All that this controller sends is wanted: nothing is filtered. */
    setFilter(filter: Uint8Array): void {
      if (missing === 'permission' && filter.length > 0) this.#fail(FORBIDDEN, 'setsockopt');
    }

    write(packet: Uint8Array): void {
      if (missing === 'permission') this.#fail(FORBIDDEN, 'write');
      else if (radio.isDead) this.#fail(GONE, 'write');
      else if (!radio.isUp) this.#fail(DOWN, 'write');
      else radio.write(Uint8Array.from(packet), this.#raw);
    }

    #bind(devId: number): number {
      if (missing === 'adapter' || devId !== 0) throw failure(NO_SUCH, 'bind');
      return devId;
    }

    #fail(code: ErrorCode, syscall: string): void {
      this.emit('error', failure(code, syscall));
    }
  };
}
