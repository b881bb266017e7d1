/**
 * The line between where the physics are and where the air is: JSON, one message a line. The air is
 * in the process of the radio, which may be ended and begun anew at any time: so each new one is told
 * the whole world first.
 */
import type { Socket } from 'node:net';
import * as z from 'zod';
import type { ProbeReading } from '../../probe.ts';
import type { Order } from '../orders.ts';
import { MEASURES, type Plan } from '../plan.ts';

const value = z.exactOptional(z.number());
const reading = z.object({
  t: z.number(),
  probe: z.string(),
  temperatureC: value,
  humidityPct: value,
  velocityMs: value,
  pressurePa: value,
  powerW: value,
  batteryPct: value,
});

const to = z.string();
const hex = z.string();
const order = z.union([
  z.object({ to, do: z.literal('away'), forMs: z.number().optional() }),
  z.object({ to, do: z.enum(['back', 'mute', 'unmute', 'deaf', 'hearing', 'hide', 'show']) }),
  z.object({ to, do: z.enum(['aloof', 'approachable']) }),
  z.object({ to, do: z.literal('drop'), reason: z.int().optional() }),
  z.object({ to, do: z.literal('fail'), times: z.int() }),
  z.object({ to, do: z.literal('tell'), uuid: z.string(), hex, instance: z.int().optional() }),
  z.object({ to, do: z.literal('frame'), channel: z.int(), hex }),
  z.object({ to, do: z.literal('spoil'), how: z.enum(['cut', 'corrupt']), packets: z.int() }),
  z.object({ to, do: z.literal('advertise'), hex: hex.nullable() }),
  z.object({ do: z.literal('power'), on: z.boolean(), politely: z.boolean().optional() }),
  z.object({ do: z.enum(['unplug', 'plug', 'stop-scan']) }),
  z.object({ do: z.literal('packet'), hex }),
]) satisfies z.ZodType<Order>;

const planBase = {
  address: z.string(),
  addressType: z.enum(['public', 'random']).optional(),
  name: z.string(),
  advertisingMs: z.number().positive().optional(),
  rssiDbm: z.number().optional(),
};
const plan = z.discriminatedUnion('kind', [
  z.object({
    ...planBase,
    kind: z.literal('environmental'),
    instances: z.array(
      z.object({
        probe: z.string(),
        measures: z.array(z.enum(MEASURES)),
        intervalS: z.number(),
        description: z.string().optional(),
        application: z.int().optional(),
      }),
    ),
    notify: z.boolean().optional(),
    mtu: z.int().optional(),
    secured: z.boolean().optional(),
  }),
  z.object({
    ...planBase,
    kind: z.literal('beacon'),
    probes: z.array(z.string()),
    key: z.string().optional(),
  }),
  z.object({ ...planBase, kind: z.literal('described'), probe: z.string() }),
]) satisfies z.ZodType<Plan>;

const world = z.object({
  plans: z.array(plan),
  seed: z.number(),
  /** How many times faster than the clock the radio runs: its intervals and its limits. */
  speed: z.number().positive(),
  controller: z.object({
    up: z.boolean(),
    /** Whether connecting blocks the process, as the kernel's raw channel does. */
    blocks: z.boolean(),
    connectLimitMs: z.number(),
    lossPct: z.number(),
    /** What the computer lacks. */
    missing: z.enum(['kernel', 'adapter', 'permission']).optional(),
  }),
  /** Whether it is to tell what has got as far as the host. */
  tells: z.boolean(),
  /** What was so when this process began. */
  readings: z.array(reading),
  orders: z.array(order),
});
export type World = Omit<z.infer<typeof world>, 'plans' | 'orders'> & {
  readonly plans: readonly Plan[];
  readonly orders: readonly Order[];
};

/** To the air. */
export const toAir = z.union([
  z.object({ world }),
  z.object({ readings: z.array(reading) }),
  z.object({ order }),
]);
export type ToAir =
  | { readonly world: World }
  | { readonly readings: readonly ProbeReading[] }
  | { readonly order: Order };

/** From the air: it is there, in which process, what was heard (bytes as hexadecimal), or what it could not do. */
export const fromAir = z.union([
  z.object({ ready: z.int() }),
  z.object({
    heard: z.array(
      z.object({ what: z.enum(['advertisement', 'frame']), address: z.string(), hex }),
    ),
  }),
  z.object({ cannot: z.string() }),
]);
export type FromAir = z.infer<typeof fromAir>;

export function say(socket: Socket, message: ToAir | FromAir): void {
  socket.write(`${JSON.stringify(message)}\n`);
}

/**
 * Calls `take` with each message that comes over a socket. What is no message ends it: the other end
 * is not what it should be.
 */
export function listen<T>(socket: Socket, schema: z.ZodType<T>, take: (message: T) => void): void {
  let rest = '';
  socket.setEncoding('utf8').on('data', (text: string) => {
    const lines = (rest + text).split('\n');
    rest = lines.pop() ?? '';
    for (const line of lines) {
      let message: T;
      try {
        message = schema.parse(JSON.parse(line));
      } catch (error) {
        socket.destroy(error instanceof Error ? error : undefined);
        return;
      }
      take(message);
    }
  });
}
