/** What a measured airflow says against the fan table of its unit. */
import { otherSpeedThatFits, tableFlow } from '../../measure/airflow/fan-table.ts';
import type { AirflowResult, FanTableState } from '../../protocol.ts';
import { sent } from '../../words/sent.ts';

/** Half-widths of 95 % of both, added as independent ones; a table without a ± is taken at its word. */
const half = (u95: number, limitPct: number | undefined, flowM3s: number): number =>
  Math.hypot(u95, ((limitPct ?? 0) / 100) * flowM3s);

/**
 * A sentence where they do not agree: the speed is another than the one that is told, or the unit moves
 * more or less than it should.
 */
export function againstTable(
  { flowM3s, u95M3s, fan, wetness }: AirflowResult,
  table: FanTableState | null,
): string | null {
  if (table === null || fan === null) return null;
  const wanted = tableFlow(table, fan, wetness);
  if (wanted === null) return null;
  const off = flowM3s - wanted.flowM3s;
  const u95 = half(u95M3s, wanted.limitPct, wanted.flowM3s);
  if (Math.abs(off) <= u95) return null;
  const other = otherSpeedThatFits(table, fan, wetness, flowM3s, u95M3s / 1.96);
  if (other !== null) {
    return sent`This is the flow of speed “${other}” in the fan table, not of “${fan}”: check which speed is set.`;
  }
  const pct = (part: number): number => Math.round((100 * part) / wanted.flowM3s);
  const by = `${Math.abs(pct(off))} ± ${pct(u95)} %`;
  return off < 0
    ? sent`This is ${by} less than the fan table says for “${fan}”: look for a dirty wheel, coil or filter.`
    : sent`This is ${by} more than the fan table says for “${fan}”: check the outlet’s size and its free-area factor.`;
}
