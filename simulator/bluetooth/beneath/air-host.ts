/**
 * The physics' end of the line: tells each process of the radio, as it begins, what the world is, and
 * from then on what the probes measure and what happens to them. What was ordered to last is kept, so
 * that it also holds in the next process.
 */
import { randomUUID } from 'node:crypto';
import { rmSync } from 'node:fs';
import { createServer, type Server, type Socket } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { ProbeReading } from '../../probe.ts';
import { isForDevice, type Order } from '../orders.ts';
import { type FromAir, fromAir, listen, say, type ToAir, type World } from './line.ts';

export type AirOptions = Pick<World, 'plans'> &
  Partial<Pick<World, 'seed' | 'speed' | 'tells'>> & {
    readonly controller?: Partial<World['controller']>;
    /** Is told what the air says. */
    readonly said?: (message: FromAir) => void;
  };

/** As long as the kernel of Linux tries, ms. */
const CONNECT_LIMIT_MS = 41_000;
const CONTROLLER = { up: true, blocks: true, connectLimitMs: CONNECT_LIMIT_MS, lossPct: 0 };
/** Orders that last, and which of them replace one another. */
const LASTING: Readonly<Record<string, string>> = {
  ...{ away: 'presence', back: 'presence' },
  ...{ mute: 'voice', unmute: 'voice' },
  ...{ deaf: 'ears', hearing: 'ears' },
  ...{ aloof: 'approach', approachable: 'approach' },
  ...{ hide: 'advertising', show: 'advertising' },
  advertise: 'advertisement',
  ...{ power: 'power', unplug: 'power', plug: 'power' },
};

export class AirHost {
  readonly #options: AirOptions;
  readonly #path: string;
  readonly #sockets = new Set<Socket>();
  readonly #latest = new Map<string, ProbeReading>();
  readonly #lasting = new Map<string, { order: Order; sinceT: number }>();
  readonly #now: () => number;
  #server: Server | null = null;

  /** @param now the clock, ms; default `Date.now` */
  constructor(options: AirOptions, now: () => number = Date.now) {
    const name = `plateau-air-${randomUUID()}`;
    this.#options = options;
    this.#now = now;
    this.#path =
      process.platform === 'win32' ? `\\\\.\\pipe\\${name}` : join(tmpdir(), `${name}.sock`);
  }

  /**
   * What the process of the radio is to load first, as a URL for `--import`.
   * @param hook where hook.ts is, built
   */
  import(hook: URL): string {
    const url = new URL(hook);
    url.searchParams.set('air', this.#path);
    return url.href;
  }

  /** How many processes are on the line. */
  get listeners(): number {
    return this.#sockets.size;
  }

  /** Begins to listen for processes of the radio. */
  async start(): Promise<void> {
    const server = createServer((socket) => this.#greet(socket));
    this.#server = server;
    await new Promise<void>((resolve, reject) => {
      server.once('error', reject);
      server.listen(this.#path, resolve);
    });
    server.unref();
  }

  /** Ends the line, and with it the air. */
  stop(): void {
    for (const socket of this.#sockets) socket.destroy();
    this.#server?.close();
    this.#server = null;
    if (process.platform !== 'win32') rmSync(this.#path, { force: true });
  }

  /** Hands on what the probes measure. */
  feed(readings: readonly ProbeReading[]): void {
    for (const reading of readings) {
      this.#latest.set(reading.probe, { ...this.#latest.get(reading.probe), ...reading });
    }
    if (readings.length > 0) this.#tell({ readings });
  }

  /** Lets something happen. */
  order(order: Order): void {
    const kind = LASTING[order.do];
    if (kind !== undefined) {
      const whose = isForDevice(order) ? order.to : '';
      this.#lasting.set([whose, kind].join(' '), { order, sinceT: this.#now() });
    }
    this.#tell({ order });
  }

  #greet(socket: Socket): void {
    const { plans, seed = 1, speed = 1, tells = false, controller, said } = this.#options;
    this.#sockets.add(socket);
    socket.on('error', () => undefined); // it has gone; `close` follows
    socket.on('close', () => this.#sockets.delete(socket));
    listen(socket, fromAir, (message) => said?.(message));
    say(socket, {
      world: {
        ...{ plans, seed, speed, tells },
        controller: { ...CONTROLLER, ...controller },
        readings: [...this.#latest.values()],
        orders: this.#ordersNow(),
      },
    });
  }

  /** The lasting orders as they are to be given now. */
  #ordersNow(): Order[] {
    return [...this.#lasting.values()].flatMap(({ order, sinceT }): Order[] => {
      // A new process opens the controller anew: having been unplugged is over with `plug`.
      if (order.do === 'unplug') return [{ do: 'power', on: false }];
      if (order.do !== 'away' || order.forMs === undefined) return [order];
      const forMs = sinceT + order.forMs - this.#now();
      return forMs > 0 ? [{ ...order, forMs }] : [];
    });
  }

  #tell(message: ToAir): void {
    for (const socket of this.#sockets) say(socket, message);
  }
}
