/**
 * Sealed readings: some thousand readings of a visit as columns, probe by probe, in one blob. Eleven
 * bytes a reading of an ordinary probe instead of forty, and thousands of them decoded at once.
 *
 * Laid out as `blob.ts` says, the columns in the order of the head (which they are, how packed). A column
 * whose figures are decimals of up to three places is held as whole numbers, wherever that gives back the
 * very same figures; any other as doubles. In which order the readings came is a column of its own: the
 * number of the probe, reading by reading.
 */
import * as z from 'zod';
import type { Reading } from '../../adapters/contract.ts';
import type { Recorded } from '../visit-log/recorded.ts';
import { QUANTITIES } from '../visit-log/known-fields.ts';
import { blobOf, columnsFrom, headOf } from './blob.ts';

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
  return blobOf(head, [...columns.map(({ data }) => data), wide ? order : Uint8Array.from(order)]);
}

/**
 * Unpacks what `encodeSegment` has packed.
 * @throws Error with a sentence where it is damaged
 */
export function decodeSegment(data: Uint8Array): Segment {
  const { head, at } = segmentHead(data);
  const take = columnsFrom(data, at);
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
  return { probes, order: orderOf(head, take) };
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

/**
 * How many readings a block holds, looked over without unpacking it: whatever stands in a column is figures,
 * so what can be wrong is how long the columns are, and of which probes the order speaks.
 * @throws Error with a sentence where it is damaged, or does not hold the readings that it names
 */
export function readingsIn(data: Uint8Array): number {
  const { head, at } = segmentHead(data);
  const own = head.probes.map(({ readings, columns }) =>
    columns.some(({ name }) => name === 't') ? readings : 0,
  );
  const order = orderOf(head, columnsFrom(data, at + columnBytes(head)));
  // One of a probe that is not there is counted nowhere: then the sum is too large.
  const named = new Uint32Array(own.length);
  for (let i = 0; i < order.length; i++) {
    const number = order[i] ?? 0;
    named[number] = (named[number] ?? 0) + 1;
  }
  const sum = own.reduce((all, readings) => all + readings, 0);
  if (sum !== order.length || own.some((readings, i) => readings !== named[i])) {
    throw new Error('a block of readings does not hold those that it names');
  }
  return head.readings;
}

const segmentHead = (data: Uint8Array): { head: Head; at: number } =>
  headOf(
    data,
    headSchema,
    'a block of readings',
    (head) => columnBytes(head) + head.readings * (head.wide ? 2 : 1),
  );

function columnBytes({ probes }: Head): number {
  let bytes = 0;
  for (const { readings, columns } of probes) {
    for (const { packing } of columns) bytes += readings * PACKINGS[packing].BYTES_PER_ELEMENT;
  }
  return bytes;
}

const orderOf = (
  { wide, readings }: Head,
  take: (bytes: number) => ArrayBuffer,
): Uint8Array | Uint16Array =>
  wide ? new Uint16Array(take(2 * readings)) : new Uint8Array(take(readings));

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
