/** Some minutes of a visit's chart as a blob: times as doubles, figures as floats, column by column. */
import * as z from 'zod';
import { columnsBy, HISTORY_COLUMNS, type HistoryPart } from '../history.ts';
import { blobOf, columnsFrom, headOf } from './blob.ts';

const headSchema = z.object({
  version: z.literal(1),
  rows: z.number().int().min(0),
  units: z.array(z.string()),
});

export function encodeChartPart({ t, units }: HistoryPart): Uint8Array {
  const head = { version: 1, rows: t.length, units: Object.keys(units) };
  const columns = Object.values(units).flatMap((unit) => HISTORY_COLUMNS.map((name) => unit[name]));
  return blobOf(head, [t, ...columns]);
}

/** @throws Error with a sentence where it is damaged */
export function decodeChartPart(data: Uint8Array): HistoryPart {
  const { head, at } = chartHead(data);
  const take = columnsFrom(data, at);
  const t = new Float64Array(take(8 * head.rows));
  const units: HistoryPart['units'] = {};
  for (const id of head.units) units[id] = columnsBy(() => new Float32Array(take(4 * head.rows)));
  return { t, units };
}

/** What a piece holds, and where its columns begin. @throws as `decodeChartPart`, without unpacking anything */
export const chartHead = (data: Uint8Array): { head: z.infer<typeof headSchema>; at: number } =>
  headOf(
    data,
    headSchema,
    'a part of the chart',
    ({ rows, units }) => rows * (8 + 4 * HISTORY_COLUMNS.length * units.length),
  );
