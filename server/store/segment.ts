/**
 * Sealed readings: some thousand readings of a visit as columns, probe by probe, in one blob. Eleven
 * bytes a reading of an ordinary probe instead of forty, and thousands of them decoded at once.
 *
 * Layout (little-endian): length of the head, the head (JSON: which columns, how packed), the columns
 * in the order of the head. A column whose figures are decimals of up to three places is held as whole
 * numbers, wherever that gives back the very same figures; any other as doubles. In which order the
 * readings came is a column of its own: the number of the probe, reading by reading.
 */
import * as z from 'zod';
import type { Reading } from '../../adapters/contract.ts';
import type { Recorded } from '../visit-log/recorded.ts';
import { QUANTITIES } from '../visit-log/known-fields.ts';

export type Quantity = (typeof QUANTITIES)[number];
/** `after`: see `RecordedLine`. */
const COLUMNS = ['t', 'after', ...QUANTITIES] as const;
type Column = (typeof COLUMNS)[number];

/** The readings of one probe, in the order in which they came; NaN where one did not tell a quantity. */
export interface ProbeColumns {
  probe: string;
  t: Float64Array;
  after?: Float64Array;
  values: Partial<Record<Quantity, Float64Array>>;
}

export interface Segment {
  probes: ProbeColumns[];
  /** Which of `probes` each reading is of, in the order in which they came. */
  order: Uint8Array | Uint16Array;
}

const PACKINGS = { f64: Float64Array, i32: Int32Array, i16: Int16Array } as const;
/** The lowest whole number of a packing stands for "not told". */
const NONE = { f64: NaN, i32: -(2 ** 31), i16: -(2 ** 15) } as const;
/** Figures are held as multiples of one of these parts. */
const SCALES = [1, 10, 100, 1000] as const;

const columnSchema = z.object({
  name: z.enum(COLUMNS),
  packing: z.enum(['f64', 'i32', 'i16']),
  /** A figure is (whole number + base) / scale. */
  base: z.number(),
  scale: z.number().positive(),
});
const headSchema = z.object({
  version: z.literal(1),
  readings: z.number().int().min(0),
  wide: z.boolean(),
  probes: z.array(
    z.object({ id: z.string(), readings: z.number().int().min(0), columns: z.array(columnSchema) }),
  ),
});
type ColumnHead = z.infer<typeof columnSchema>;
type Head = z.infer<typeof headSchema>;

interface Packed extends ColumnHead {
  data: Float64Array | Int32Array | Int16Array;
}

/** Packs readings, in the order in which they came. */
export function encodeSegment(readings: readonly Recorded<Reading>[]): Uint8Array {
  const byProbe = new Map<string, { number: number; readings: Recorded<Reading>[] }>();
  const order = new Uint16Array(readings.length);
  readings.forEach((reading, i) => {
    let of = byProbe.get(reading.probe);
    if (of === undefined) {
      of = { number: byProbe.size, readings: [] };
      byProbe.set(reading.probe, of);
    }
    of.readings.push(reading);
    order[i] = of.number;
  });
  const wide = byProbe.size > 256;
  const columns: Packed[] = [];
  const head: Head = { version: 1, readings: readings.length, wide, probes: [] };
  for (const [id, { readings: own }] of byProbe) {
    const packed = COLUMNS.filter((name) => own.some((r) => r[name] !== undefined)).map((name) =>
      pack(
        name,
        Float64Array.from(own, (r) => r[name] ?? NaN),
      ),
    );
    columns.push(...packed);
    head.probes.push({
      id,
      readings: own.length,
      columns: packed.map(({ name, packing, base, scale }) => ({ name, packing, base, scale })),
    });
  }
  const headBytes = Buffer.from(JSON.stringify(head));
  const length = Buffer.alloc(4);
  length.writeUInt32LE(headBytes.length);
  return Buffer.concat([
    length,
    headBytes,
    ...[...columns.map(({ data }) => data), wide ? order : Uint8Array.from(order)].map(bytesOf),
  ]);
}

/**
 * Unpacks what `encodeSegment` has packed.
 * @throws Error with a sentence where it is damaged
 */
export function decodeSegment(data: Uint8Array): Segment {
  const { head, at: first } = headOf(data);
  let at = first;
  const take = (bytes: number): ArrayBuffer => {
    if (at + bytes > data.length) throw new Error('a block of readings is cut short');
    // A copy of its own: columns of eight bytes need not lie on eight in the blob.
    const piece = new Uint8Array(bytes);
    piece.set(data.subarray(at, (at += bytes)));
    return piece.buffer;
  };
  const probes = head.probes.map(({ id, readings, columns }): ProbeColumns => {
    const own: ProbeColumns = { probe: id, t: new Float64Array(0), values: {} };
    for (const column of columns) {
      const Figures = PACKINGS[column.packing];
      const figures = unpack(column, new Figures(take(readings * Figures.BYTES_PER_ELEMENT)));
      if (column.name === 't') own.t = figures;
      else if (column.name === 'after') own.after = figures;
      else own.values[column.name] = figures;
    }
    return own;
  });
  const order = head.wide
    ? new Uint16Array(take(2 * head.readings))
    : new Uint8Array(take(head.readings));
  return { probes, order };
}

/** The readings of a segment again, in the order in which they came. */
export function* readingsOf({ probes, order }: Segment): Generator<Recorded<Reading>> {
  const next = new Uint32Array(probes.length);
  for (const number of order) {
    const own = probes[number];
    if (own === undefined) throw new Error('a block of readings names a probe that it has not');
    const i = next[number] ?? 0;
    next[number] = i + 1;
    const reading: Recorded<Reading> = { type: 'reading', t: own.t[i] ?? NaN, probe: own.probe };
    for (const quantity of QUANTITIES) {
      const value = own.values[quantity]?.[i];
      if (value !== undefined && !Number.isNaN(value)) reading[quantity] = value;
    }
    const after = own.after?.[i] ?? NaN;
    if (!Number.isNaN(after)) reading.after = after;
    yield reading;
  }
}

function headOf(data: Uint8Array): { head: Head; at: number } {
  const length =
    data.length < 4 ? Infinity : Buffer.from(data.buffer, data.byteOffset).readUInt32LE();
  if (4 + length > data.length) throw new Error('a block of readings is cut short');
  try {
    const text = Buffer.from(data.buffer, data.byteOffset + 4, length).toString();
    return { head: headSchema.parse(JSON.parse(text)), at: 4 + length };
  } catch {
    throw new Error('a block of readings is damaged: what it holds cannot be told');
  }
}

/** As whole numbers where that gives back every figure to the digit; one number too low is "none". */
function pack(name: Column, figures: Float64Array): Packed {
  let low = Infinity;
  let high = -Infinity;
  for (const figure of figures) {
    if (figure < low) low = figure;
    if (figure > high) high = figure;
  }
  for (const scale of SCALES) {
    const base = Math.round(((low + high) / 2) * scale);
    const reach = Math.max(high * scale - base, base - low * scale) + 1;
    const packing = reach < -NONE.i16 ? 'i16' : 'i32';
    if (!(reach < -NONE.i32)) break;
    const data = new PACKINGS[packing](figures.length);
    figures.forEach((figure, i) => {
      data[i] = Number.isNaN(figure) ? NONE[packing] : Math.round(figure * scale) - base;
    });
    const column = { name, packing, base, scale, data } as const;
    const again = unpack(column, data);
    if (figures.every((figure, i) => figure === again[i] || Number.isNaN(figure))) return column;
  }
  return { name, packing: 'f64', base: 0, scale: 1, data: figures };
}

function unpack({ packing, base, scale }: ColumnHead, data: Packed['data']): Float64Array {
  if (data instanceof Float64Array) return data;
  const none = NONE[packing];
  const figures = new Float64Array(data.length);
  for (let i = 0; i < figures.length; i++) {
    const whole = data[i] ?? none;
    figures[i] = whole === none ? NaN : (whole + base) / scale;
  }
  return figures;
}

function bytesOf(array: Packed['data'] | Uint8Array | Uint16Array): Uint8Array {
  return new Uint8Array(array.buffer, array.byteOffset, array.byteLength);
}
