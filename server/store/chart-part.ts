/** Some minutes of a visit's chart as a blob: times as doubles, figures as floats, column by column. */
import * as z from 'zod';
import { columnsBy, HISTORY_COLUMNS, type HistoryPart } from '../history.ts';

const headSchema = z.object({
  version: z.literal(1),
  rows: z.number().int().min(0),
  units: z.array(z.string()),
});

export function encodeChartPart({ t, units }: HistoryPart): Uint8Array {
  const head = { version: 1, rows: t.length, units: Object.keys(units) };
  const headBytes = Buffer.from(JSON.stringify(head));
  const length = Buffer.alloc(4);
  length.writeUInt32LE(headBytes.length);
  const columns = Object.values(units).flatMap((unit) => HISTORY_COLUMNS.map((name) => unit[name]));
  return Buffer.concat([
    length,
    headBytes,
    ...[t, ...columns].map((c) => new Uint8Array(c.buffer, c.byteOffset, c.byteLength)),
  ]);
}

/** @throws Error where it is damaged */
export function decodeChartPart(data: Uint8Array): HistoryPart {
  const bytes = Buffer.from(data); // a copy, so that columns can lie where their size wants it
  const end = 4 + bytes.readUInt32LE();
  const head = headSchema.parse(JSON.parse(bytes.toString('utf8', 4, end)));
  let at = end;
  const take = (size: number): ArrayBuffer => {
    if (at + size > bytes.length) throw new Error('a part of the chart is cut short');
    const piece = new Uint8Array(size);
    piece.set(bytes.subarray(at, (at += size)));
    return piece.buffer;
  };
  const t = new Float64Array(take(8 * head.rows));
  const units: HistoryPart['units'] = {};
  for (const id of head.units) units[id] = columnsBy(() => new Float32Array(take(4 * head.rows)));
  return { t, units };
}
