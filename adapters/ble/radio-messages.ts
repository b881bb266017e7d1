/**
 * What the server and the process that holds the radio say to each other. The server gives *orders*;
 * the radio *says* what it hears, and answers the orders that carry a number (`ask`). Both sides check
 * what they get: the other side is another process, and may be of another build.
 *
 * `id` is how the radio calls a probe: its address in lower case without colons, or, on systems that
 * hide addresses, an id of the system's own. `key` is a characteristic of a linked probe, as `discover`
 * has named it: a probe may have several of one UUID. Bytes are hexadecimal text.
 */
import * as z from 'zod';

const id = z.string().min(1).max(64);
const key = z.string().min(1).max(160);
const ask = z.number().int().nonnegative();
/** A value has 512 bytes at most. */
const bytes = z
  .string()
  .max(1024)
  .regex(/^(?:[\da-f]{2})*$/);
const t = z.number().positive();
const signalDbm = z.number().min(-128).max(20).nullable();
const uuid = z.string().max(40);

/** How the radio process is started. */
export const settingsSchema = z.object({
  /** Which adapter of the computer, counted from 0; null: the system's first. */
  adapterIndex: z.number().int().min(0).max(15).nullable(),
  /** Scan in the way of newer adapters; some refuse the old way, and old ones refuse the new. */
  extended: z.boolean(),
});
export type Settings = z.infer<typeof settingsSchema>;

/** Which advertisements are worth telling: those with one of these. */
const wantedSchema = z.object({
  /** UUIDs, of services or of service data. */
  services: z.array(uuid),
  /** Numbers at the head of manufacturer data. */
  companies: z.array(z.number().int()),
});
export type Wanted = z.infer<typeof wantedSchema>;

export const orderSchema = z.discriminatedUnion('do', [
  /** Begin to scan, or begin anew. */
  z.object({ do: z.literal('scan'), wanted: wantedSchema }),
  z.object({ do: z.literal('connect'), ask, id }),
  /** List the characteristics of these services. */
  z.object({ do: z.literal('discover'), ask, id, services: z.array(uuid) }),
  /** Read the descriptors of a characteristic. */
  z.object({ do: z.literal('describe'), ask, id, key }),
  z.object({ do: z.literal('subscribe'), ask, id, key }),
  z.object({ do: z.literal('read'), ask, id, key }),
  z.object({ do: z.literal('signal'), ask, id }),
  z.object({ do: z.literal('disconnect'), ask, id }),
]);
export type Order = z.infer<typeof orderSchema>;

/** A characteristic of a linked probe. */
const foundSchema = z.object({
  key,
  service: uuid,
  uuid,
  /** Sends new values by itself. */
  notifies: z.boolean(),
  reads: z.boolean(),
});
export type Found = z.infer<typeof foundSchema>;

const answerSchema = z.object({
  say: z.literal('answer'),
  ask,
  /** Why it could not be done; null: it was done. */
  error: z.string().max(1000).nullable(),
  /** Where it could not: it did not answer in time, or wants to be paired with. */
  why: z.enum(['no-answer', 'pairing']).optional(),
  found: z.array(foundSchema).max(512).optional(),
  /** Of `read`: the value, and when it came. */
  value: bytes.optional(),
  t: t.optional(),
  /** Of `describe`: descriptors' values by UUID. */
  descriptors: z.record(uuid, bytes).optional(),
  signalDbm: signalDbm.optional(),
});
export type Answer = z.infer<typeof answerSchema>;

const heardSchema = z.object({
  say: z.literal('heard'),
  id,
  /** As printed, `00:aa:01:01:00:01`; null where the system hides it. */
  address: z.string().max(17).nullable(),
  /** Whether that is one of those that are changed from time to time. */
  passing: z.boolean().optional(),
  t,
  name: z.string().max(300).nullable(),
  signalDbm,
  connectable: z.boolean(),
  services: z.array(uuid).max(64),
  serviceData: z.array(z.object({ uuid, bytes })).max(64),
  manufacturerData: bytes.nullable(),
});
export type Heard = z.infer<typeof heardSchema>;

export const saidSchema = z.discriminatedUnion('say', [
  /** It lives, and its event loop turns. Said once a second. */
  z.object({ say: z.literal('pulse') }),
  /** The library is loaded; from now on it says how the computer's Bluetooth is. */
  z.object({ say: z.literal('loaded') }),
  /** Of the computer's Bluetooth: `poweredOn`, `poweredOff`, `unauthorized`, `unsupported`, … */
  z.object({
    say: z.literal('state'),
    state: z.string().max(40),
    /** With `poweredOn`: whether the adapter scans in the way of newer ones. */
    extended: z.boolean().optional(),
  }),
  z.object({ say: z.literal('scanning'), on: z.boolean() }),
  heardSchema,
  z.object({ say: z.literal('value'), id, key, t, bytes }),
  /** A link has ended, for a reason of Bluetooth's own numbering. */
  z.object({ say: z.literal('gone'), id, reason: z.number().nullable() }),
  answerSchema,
  /** Something that the library choked on; it goes on. */
  z.object({ say: z.literal('fault'), text: z.string().max(1000) }),
  /** Values that came in after a standstill, so that nobody knows of when they are. */
  z.object({ say: z.literal('late'), count: z.number().int() }),
  /** There is no radio to be had in this process. */
  z.object({
    say: z.literal('absent'),
    why: z.enum(['not-installed', 'not-built', 'no-bluetooth', 'other']),
    text: z.string().max(1000),
  }),
]);
export type Said = z.infer<typeof saidSchema>;
