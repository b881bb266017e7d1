/**
 * A visit on its way from a van's record to the archive: a row of parts, each a kind (one letter), a length
 * (four bytes, little-endian) and so many bytes. Whatever a visit is made of comes as it lies in the
 * record; what was worked out of it comes along, so that the archive plays no visit.
 *
 *     h  what the visit is (JSON, `headSchema`); the first part
 *     l  lines that are no readings: `READINGS_BEFORE TAB LINE` each, in the order in which they were taken
 *     s  a sealed block of readings (`../store/segment.ts`)
 *     r  what was told of it: captures, events, checks, airflows, verdicts (JSON, `toldSchema`)
 *     c  a piece of its chart (`../store/chart-part.ts`)
 *
 * A visit that has not changed makes the same bytes again, and so has the same SHA-256: by that the archive
 * knows what it holds.
 */
import * as z from 'zod';
import {
  airflowLineSchema,
  airflowResultSchema,
  captureSchema,
  checkSchema,
  eventSchema,
  verdictSchema,
  VISIT_KINDS,
} from '../protocol.ts';
import { LATEST_T } from '../visit-log/fit-reading.ts';
import { idSchema } from '../visit-log/schema.ts';

export const KINDS = ['h', 'l', 's', 'r', 'c'] as const;
export type PartKind = (typeof KINDS)[number];

export interface Part {
  kind: PartKind;
  data: Uint8Array;
}

/** More than any part of a record: a block of readings of 8,192 in doubles, or a minute of photos. */
export const MOST_PART_BYTES = 8 * 1024 * 1024;
/** A visit with its photos; a day of 64 units is some 170 MB. */
export const MOST_PARCEL_BYTES = 512 * 1024 * 1024;
const HEAD_BYTES = 5;

const time = z.number().min(0).max(LATEST_T).nullable();
export const headSchema = z.object({
  version: z.literal(1),
  id: idSchema,
  kind: z.enum(VISIT_KINDS),
  simulated: z.boolean(),
  title: z.string().max(200),
  begunT: time,
  lastT: time,
  site: idSchema,
  details: z.record(z.string(), z.unknown()),
  units: z.array(
    z.object({
      ...{ id: idSchema, name: z.string(), details: z.record(z.string(), z.unknown()) },
      /** The airflow that was told last. */
      airflow: z.nullable(airflowLineSchema),
    }),
  ),
  systems: z.array(
    z.object({ id: idSchema, name: z.string(), details: z.record(z.string(), z.unknown()) }),
  ),
  probes: z.array(
    z.object({ id: idSchema, name: z.string(), details: z.record(z.string(), z.unknown()) }),
  ),
});
export type Head = z.infer<typeof headSchema>;

export const toldSchema = z.object({
  captures: z.array(captureSchema),
  events: z.array(eventSchema),
  checks: z.array(checkSchema),
  airflows: z.array(airflowResultSchema),
  verdicts: z.array(verdictSchema),
});
export type ToldOf = z.infer<typeof toldSchema>;

/** A part as it is sent. */
export function partBytes({ kind, data }: Part): Uint8Array {
  const head = Buffer.alloc(HEAD_BYTES);
  head.write(kind, 'latin1');
  head.writeUInt32LE(data.length, 1);
  return Buffer.concat([head, data]);
}

/** A part that holds JSON. */
export const jsonPart = (kind: PartKind, value: unknown): Part => ({
  kind,
  data: Buffer.from(JSON.stringify(value)),
});

/**
 * The parts of a parcel again; each shares its bytes with it.
 * @throws Error with a sentence where it is none
 */
export function partsOf(parcel: Uint8Array): Part[] {
  const bytes = Buffer.from(parcel.buffer, parcel.byteOffset, parcel.length);
  const parts: Part[] = [];
  for (let at = 0; at < bytes.length;) {
    const letter = bytes.toString('latin1', at, at + 1);
    const kind = KINDS.find((each) => each === letter);
    if (kind === undefined) throw new Error(`at byte ${at} begins no part of a visit`);
    const from = at + HEAD_BYTES;
    const length = from <= bytes.length ? bytes.readUInt32LE(at + 1) : Infinity;
    if (length > MOST_PART_BYTES || from + length > bytes.length) {
      throw new Error(`the part at byte ${at} is cut short`);
    }
    parts.push({ kind, data: bytes.subarray(from, from + length) });
    at = from + length;
  }
  if (parts[0]?.kind !== 'h') throw new Error('it does not begin with what the visit is');
  return parts;
}

/** JSON of a part. @throws Error with a sentence where it is none, or not as it should be */
export function jsonOf<T>({ kind, data }: Part, schema: z.ZodType<T>): T {
  let value: unknown;
  try {
    value = JSON.parse(Buffer.from(data.buffer, data.byteOffset, data.length).toString());
  } catch {
    throw new Error(`a part "${kind}" is not JSON`);
  }
  const parsed = schema.safeParse(value);
  if (parsed.success) return parsed.data;
  const [first] = parsed.error.issues;
  throw new Error(`a part "${kind}": ${first?.path.join('.') ?? ''}: ${first?.message ?? ''}`);
}
