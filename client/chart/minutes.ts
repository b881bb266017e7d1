/** The last minutes in figures: what the chart shows, for those who do not see it. */
import type { History } from '../live/history.ts';
import type { Parts } from '../words/shown.ts';

export interface MinuteRow extends Parts {
  t: number;
  returnC: number | null;
  supplyC: number | null;
}

const MINUTE_MS = 60_000;
/** A row further away than this from its minute does not stand for it. */
const NEAR_MS = 10_000;

/**
 * One row for each of the last whole minutes, newest first: the last values at or before it.
 * @param now the server's time of the last data
 */
export function lastMinutes(
  history: History,
  unit: string,
  now: number,
  count: number,
): MinuteRow[] {
  const columns = history.unit(unit);
  const rows: MinuteRow[] = [];
  if (columns === undefined) return rows;
  let i = history.t.length - 1;
  for (let k = 0; k < count; k++) {
    const minute = (Math.floor(now / MINUTE_MS) - k) * MINUTE_MS;
    while (i >= 0 && (history.t[i] ?? 0) > minute) i--;
    const at = history.t[i];
    if (at === undefined) break;
    if (minute - at > NEAR_MS) continue;
    const totalW = columns.totalW[i] ?? null;
    const upperW = columns.upperW[i] ?? null;
    rows.push({
      t: minute,
      totalW,
      totalU95W: totalW === null || upperW === null ? null : upperW - totalW,
      sensibleW: columns.sensibleW[i] ?? null,
      latentW: columns.latentW[i] ?? null,
      ...{ sensibleU95W: null, latentU95W: null },
      returnC: columns.returnC[i] ?? null,
      supplyC: columns.supplyC[i] ?? null,
    });
  }
  return rows;
}
