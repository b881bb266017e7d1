/** What the adapter answers when it is asked how it scans, and what the library makes of that. */
import { EventEmitter } from 'node:events';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { scansExtended } from '../../adapters/ble/scan-ability.ts';

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

/** The answer to "Read Local Supported Commands", with an octet 37. */
function answer(octet: number, status = 0): Buffer {
  const commands = Buffer.alloc(64);
  commands[37] = octet;
  return Buffer.concat([Buffer.from([4, 14, 68, 1, 0x02, 0x10, status]), commands]);
}

/** A library as it is inside; like the real one it takes the answer for a wish. */
function libraryOf(...packets: Buffer[]) {
  const socket = new EventEmitter();
  const hci = {
    _socket: socket,
    _isExtended: false,
    readSupportedCommands() {
      for (const packet of packets) {
        hci._isExtended = true;
        socket.emit('data', packet);
      }
    },
  };
  return { noble: { _bindings: { _hci: hci } }, hci, socket };
}

it.each([
  [0xff, true],
  [0x60, true],
  [0x20, false],
  [0x40, false],
  [0x30, false],
  [0x00, false],
])('octet 37 of %i', async (octet, expected) => {
  const { noble, hci, socket } = libraryOf(Buffer.from([4, 14, 4, 1, 3, 12, 0]), answer(octet));
  expect(await scansExtended(noble)).toBe(expected);
  expect(hci._isExtended).toBe(false);
  expect(socket.listenerCount('data')).toBe(0);
});

it('no answer, a refusal, one that is cut, or none of these inner parts: no', async () => {
  for (const packets of [
    [],
    [answer(0xff, 1)],
    [answer(0xff).subarray(0, 40)],
    [Buffer.alloc(0)],
  ]) {
    const asked = scansExtended(libraryOf(...packets).noble);
    await vi.advanceTimersByTimeAsync(1000);
    expect(await asked).toBe(false);
  }
  for (const noble of [{}, { _bindings: null }, { _bindings: { _hci: { _socket: {} } } }, null]) {
    expect(await scansExtended(noble)).toBe(false);
  }
});
