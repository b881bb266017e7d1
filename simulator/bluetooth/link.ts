/**
 * One connection: data goes over it at connection events only, some packets each way, and it is lost
 * when nothing is heard of the other side for longer than was agreed. Events are put down only while
 * there is something to send: an empty one changes nothing.
 */
import type { Agenda } from './agenda.ts';
import { completedPackets, type ConnectionParameters, STATUS } from './hci.ts';
import { Reassembly, toDataPackets } from './l2cap.ts';

/** At most so many packets go each way in one event. */
const PACKETS_PER_EVENT = 6;
/** A sensor has room for so many frames that wait; what comes then is lost before it is sent. */
const ROOM = 32;
const INTERVAL_MS = 1.25;
const TIMEOUT_MS = 10;
/** A connection counts as made when the other side was heard within so many events. */
const EVENTS_TO_ESTABLISH = 6;

/** How packets on the way to the host are spoilt. */
export type Spoil = 'cut' | 'corrupt';

/** The other side. */
export interface Far {
  /** Takes a frame that has come over the link. */
  receive(channel: number, payload: Uint8Array): void;
  /** The link is gone. */
  ended(): void;
}

export interface LinkOptions {
  readonly handle: number;
  readonly agenda: Agenda;
  readonly parameters: ConnectionParameters;
  /** The longest data packet for the host, bytes. */
  readonly dataLength: number;
  readonly toHost: (packet: Uint8Array) => void;
  /** A frame of the other side has been handed to the host, whole. */
  readonly delivered: (channel: number, payload: Uint8Array) => void;
  /** It has ended by itself or by the other side; not called for `end`. */
  readonly ended: (reason: number) => void;
}

interface Outgoing {
  readonly packets: readonly Uint8Array[];
  readonly channel: number;
  readonly payload: Uint8Array;
}

export class Link {
  readonly handle: number;
  readonly #options: LinkOptions;
  readonly #agenda: Agenda;
  readonly #anchorT: number;
  readonly #reassembly = new Reassembly();
  #intervalMs: number;
  #timeoutMs: number;
  #far: Far | null = null;
  /** Data packets of the host that wait for an event. */
  #fromHost: { first: boolean; piece: Uint8Array }[] = [];
  #toHost: Outgoing[] = [];
  /** How many packets of the first frame of `#toHost` have gone. */
  #gone = 0;
  #spoil: { how: Spoil; left: number } | null = null;
  #event: (() => void) | null = null;
  #supervision: (() => void) | null = null;
  #over = false;

  constructor(options: LinkOptions) {
    this.handle = options.handle;
    this.#options = options;
    this.#agenda = options.agenda;
    this.#anchorT = options.agenda.now;
    this.#intervalMs = options.parameters.interval * INTERVAL_MS;
    this.#timeoutMs = options.parameters.timeout * TIMEOUT_MS;
  }

  /** The other side is there. */
  open(far: Far): void {
    this.#far = far;
  }

  /** The other side was never heard: the connection fails to be established. */
  fail(): void {
    this.#agenda.after(EVENTS_TO_ESTABLISH * this.#intervalMs, () =>
      this.#lose(STATUS.failedToEstablish),
    );
  }

  /** Takes a data packet of the host. */
  fromHost(first: boolean, piece: Uint8Array): void {
    this.#fromHost.push({ first, piece });
    this.#wake();
  }

  /**
   * Sends a frame to the host.
   * @returns false where there is no more room
   */
  send(channel: number, payload: Uint8Array): boolean {
    if (this.#over || this.#toHost.length >= ROOM) return false;
    const packets = toDataPackets(this.handle, channel, payload, this.#options.dataLength);
    this.#toHost.push({ packets, channel, payload });
    this.#wake();
    return true;
  }

  /** The next so many packets to the host are spoilt. */
  spoil(how: Spoil, packets: number): void {
    this.#spoil = { how, left: packets };
  }

  /** Sets other times. */
  update({ interval, timeout }: ConnectionParameters): void {
    this.#intervalMs = interval * INTERVAL_MS;
    this.#timeoutMs = timeout * TIMEOUT_MS;
  }

  /** Nothing is heard of the other side from now on. */
  outOfRange(): void {
    this.#event?.();
    this.#event = null;
    this.#supervision ??= this.#agenda.after(this.#timeoutMs, () => this.#lose(STATUS.timeout));
  }

  /** It is heard again, in time. */
  inRange(): void {
    this.#supervision?.();
    this.#supervision = null;
    this.#wake();
  }

  /** The other side ends it, giving a reason; the host hears of it at the next event. */
  endByFar(reason: number): void {
    this.#agenda.at(this.#nextEvent(), () => this.#lose(reason));
  }

  /** This side ends it, or is without power: nothing more is said to the host. */
  end(): void {
    if (this.#over) return;
    this.#over = true;
    this.#event?.();
    this.#supervision?.();
    this.#far?.ended();
  }

  #lose(reason: number): void {
    if (this.#over) return;
    this.end();
    this.#options.ended(reason);
  }

  #nextEvent(): number {
    const passed = this.#agenda.now - this.#anchorT;
    return this.#anchorT + (Math.floor(passed / this.#intervalMs) + 1) * this.#intervalMs;
  }

  #wake(): void {
    if (this.#over || this.#event !== null || this.#supervision !== null) return;
    if (this.#fromHost.length === 0 && this.#toHost.length === 0) return;
    this.#event = this.#agenda.at(this.#nextEvent(), () => this.#exchange());
  }

  #exchange(): void {
    this.#event = null;
    // What the other side answers to what it hears now, it can send in the next event only.
    this.#sendToHost();
    const heard = this.#fromHost.splice(0, PACKETS_PER_EVENT);
    if (heard.length > 0) {
      this.#options.toHost(completedPackets(this.handle, heard.length));
    }
    for (const { first, piece } of heard) {
      const frame = this.#reassembly.take(first, piece);
      if (frame !== null) this.#far?.receive(frame.channel, frame.payload);
    }
    this.#wake();
  }

  #sendToHost(): void {
    for (let sent = 0; sent < PACKETS_PER_EVENT; sent++) {
      const frame = this.#toHost[0];
      const packet = frame?.packets[this.#gone];
      if (frame === undefined || packet === undefined) return;
      this.#options.toHost(this.#spoilt(packet));
      this.#gone++;
      if (this.#gone < frame.packets.length) continue;
      this.#toHost.shift();
      this.#gone = 0;
      this.#options.delivered(frame.channel, frame.payload);
    }
  }

  #spoilt(packet: Uint8Array): Uint8Array {
    const spoil = this.#spoil;
    if (spoil === null) return packet;
    spoil.left--;
    if (spoil.left <= 0) this.#spoil = null;
    // Behind the header of HCI: that comes over a wire, not through the air.
    const HEADER = 5;
    if (spoil.how === 'cut') return packet.slice(0, HEADER + ((packet.length - HEADER) >> 1));
    return packet.map((byte, i) => (i < HEADER ? byte : byte ^ 0x5a));
  }
}
