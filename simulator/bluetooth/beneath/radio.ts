/**
 * The virtual controller at work: given the clock, and a host's end like that of the operating system.
 * It behaves as Linux does on its raw channel, as far as a library can tell: connecting ends the scan
 * and blocks the process until the device answers or time is up.
 */
import { performance } from 'node:perf_hooks';
import { Agenda } from '../agenda.ts';
import { Air } from '../air.ts';
import { hexBytes } from '../bytes.ts';
import { Controller, CONTROLLER } from '../controller.ts';
import { OPCODE, readCommand, PACKET } from '../hci.ts';
import { type ControllerOrder, isForDevice, type Order } from '../orders.ts';
import type { Heard } from '../scanner.ts';
import type { ProbeReading } from '../../probe.ts';
import type { World } from './line.ts';

/** How long it sleeps at a time while the process is blocked, ms. */
const NAP_MS = 2;
const SCAN_OFF = Uint8Array.of(PACKET.command, 0x0c, 0x20, 2, 0, 0);
const CONNECTS: readonly number[] = [OPCODE.leCreateConnection, OPCODE.leExtendedCreateConnection];

export class Radio {
  readonly world: World;
  readonly #agenda: Agenda;
  readonly #air: Air;
  readonly #controller: Controller;
  readonly #wallStart = performance.now();
  readonly #waiting: Uint8Array[] = [];
  #timer: NodeJS.Timeout | null = null;
  #flushing = false;
  #up: boolean;
  /** Once it was unplugged, a host that had it open has it no more. */
  #dead = false;
  /** Takes what the host receives; set by the socket that is open. */
  receive: ((packet: Uint8Array) => void) | null = null;

  /**
   * @param world what there is in the air
   * @param heard is told what has got as far as the host
   * @throws RangeError where a plan cannot be
   */
  constructor(world: World, heard: (heard: Heard) => void) {
    this.world = world;
    this.#up = world.controller.up;
    this.#agenda = new Agenda(0);
    this.#air = new Air(world.plans, this.#agenda, world.seed);
    const toHost = (packet: Uint8Array): void => this.#send(packet);
    const { lossPct, connectLimitMs } = world.controller;
    const options = { ...CONTROLLER, lossPct, connectLimitMs, seed: world.seed };
    this.#controller = new Controller(this.#air, this.#agenda, toHost, options, heard);
    for (const reading of world.readings) this.take(reading);
    for (const order of world.orders) this.follow(order);
    this.#pump();
  }

  get isUp(): boolean {
    return this.#up && !this.#dead;
  }
  get isDead(): boolean {
    return this.#dead;
  }

  /** Takes what the physical simulation says of a probe. */
  take(reading: ProbeReading): void {
    this.#advance();
    this.#air.take(reading);
    this.#pump();
  }

  /** @throws RangeError where the order cannot be followed */
  follow(order: Order): void {
    this.#advance();
    if (isForDevice(order)) this.#air.follow(order);
    else this.#followSelf(order);
    this.#pump();
  }

  /**
   * Takes a packet of the host.
   * @param raw whether it comes over the kernel's raw channel
   */
  write(packet: Uint8Array, raw: boolean): void {
    this.#advance();
    const connects = CONNECTS.includes(readCommand(packet)?.opcode ?? 0);
    if (connects && raw && this.#controller.scanning) this.#endScan();
    this.#controller.receive(packet);
    if (connects && raw && this.world.controller.blocks) this.#block();
    this.#pump();
  }

  #followSelf(order: ControllerOrder): void {
    switch (order.do) {
      case 'power':
        if (order.on === this.#up) return;
        if (!order.on) this.#controller.clear(order.politely === true);
        this.#up = order.on;
        return;
      case 'unplug':
        this.#controller.clear(false);
        this.#up = false;
        this.#dead = true;
        return;
      case 'plug':
        this.#up = true;
        return;
      case 'stop-scan':
        return this.#endScan();
      case 'packet':
        return this.#send(hexBytes(order.hex));
    }
  }

  /** The kernel, or another program, ends the scan: the host sees the command, and what comes of it. */
  #endScan(): void {
    this.#send(SCAN_OFF);
    this.#controller.receive(SCAN_OFF);
  }

  /** Nothing else runs in this process until the connection is there, or has failed. */
  #block(): void {
    const cell = new Int32Array(new SharedArrayBuffer(4));
    while (this.#controller.connecting) {
      Atomics.wait(cell, 0, 0, NAP_MS);
      this.#advance();
    }
  }

  #advance(): void {
    this.#agenda.advance((performance.now() - this.#wallStart) * this.world.speed);
  }

  /** Lets happen what is due, and wakes up for the next. */
  #pump(): void {
    this.#advance();
    if (this.#timer !== null) clearTimeout(this.#timer);
    const { next } = this.#agenda;
    const inMs = next / this.world.speed - (performance.now() - this.#wallStart);
    this.#timer = Number.isFinite(inMs) ? setTimeout(() => this.#pump(), Math.max(inMs, 0)) : null;
    this.#timer?.unref(); // the world does not keep a process going that nobody needs
  }

  /** The host reads later, as it would from a socket: never within what it is just doing. */
  #send(packet: Uint8Array): void {
    this.#waiting.push(packet);
    if (this.#flushing) return;
    this.#flushing = true;
    setImmediate(() => this.#flush());
  }

  #flush(): void {
    this.#flushing = false;
    for (let packet = this.#waiting.shift(); packet !== undefined; packet = this.#waiting.shift()) {
      let handed = false;
      try {
        this.receive?.(packet);
        handed = true;
      } finally {
        // What the host throws is its own affair; if it lives on, it still gets the rest.
        if (!handed && this.#waiting.length > 0) {
          this.#flushing = true;
          setImmediate(() => this.#flush());
        }
      }
    }
  }
}
