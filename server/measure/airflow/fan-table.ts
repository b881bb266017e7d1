/**
 * The submittal's fan table: how much air the fan moves at each of its speeds, through a dry and a wet
 * coil. A wet coil holds water between its fins, so the fan moves less through it. The figures are
 * volumes, whatever density they are stated at: see `flowAtUnit` in capacity.ts.
 */

/** A speed by the maker's own name; a figure that the table lacks is left out. */
export interface FanSpeed {
  name: string;
  dryM3s?: number | undefined;
  wetM3s?: number | undefined;
}

export interface FanTable {
  /** Slowest first. */
  speeds: readonly FanSpeed[];
  /** ± of its figures, %; undefined where nobody has said. */
  limitPct?: number | undefined;
}

/** What the table says of a speed. */
export interface TableFlow {
  flowM3s: number;
  /** ± of it, %: the table's own, and of a column that is not the one in question. */
  limitPct: number | undefined;
  /** Which column it is from. */
  from: 'dry' | 'wet' | 'both';
}

/** What the other column may differ by, % (usual submittals lie within 3 to 10 %; no source). */
const OTHER_COLUMN_PCT = 8;

/**
 * The flow at a speed.
 * @param wetness 0 for a dry coil, 1 for a wet one, between while it gets wet or dries
 * @returns null where the table has no such speed
 */
export function tableFlow(table: FanTable, speed: string, wetness: number): TableFlow | null {
  const row = findSpeed(table, speed);
  if (row === null) return null;
  const { dryM3s, wetM3s } = row;
  const limitPct = table.limitPct;
  if (dryM3s !== undefined && wetM3s !== undefined) {
    const flowM3s = dryM3s + (wetM3s - dryM3s) * wetness;
    const from = wetness <= 0 ? 'dry' : wetness >= 1 ? 'wet' : 'both';
    return { flowM3s, limitPct, from };
  }
  const flowM3s = dryM3s ?? wetM3s;
  if (flowM3s === undefined) return null;
  const from = dryM3s === undefined ? 'wet' : 'dry';
  const away = from === 'dry' ? wetness : 1 - wetness;
  const more = limitPct === undefined ? undefined : Math.hypot(limitPct, OTHER_COLUMN_PCT * away);
  return { flowM3s, limitPct: more, from };
}

/** A speed by its name, whatever its case. */
export function findSpeed({ speeds }: FanTable, name: string): FanSpeed | null {
  const wanted = name.trim().toLowerCase();
  return speeds.find((s) => s.name.trim().toLowerCase() === wanted) ?? null;
}

/** What looks wrong in a table: columns swapped, a speed that is slower than the one before it. */
export type TableTrouble =
  | { kind: 'wet-above-dry'; speed: string }
  | { kind: 'slower'; speed: string; than: string }
  | { kind: 'twice'; speed: string };

/** A wet coil that passes more than a dry one, by more than rounding, is a swap, as a part. */
const ROUNDING = 0.01;

export function tableTroubles({ speeds }: FanTable): TableTrouble[] {
  const found: TableTrouble[] = [];
  speeds.forEach((row, i) => {
    const { name, dryM3s, wetM3s } = row;
    if (speeds.findIndex((s) => s.name.toLowerCase() === name.toLowerCase()) < i) {
      found.push({ kind: 'twice', speed: name });
    }
    if (dryM3s !== undefined && wetM3s !== undefined && wetM3s > dryM3s * (1 + ROUNDING)) {
      found.push({ kind: 'wet-above-dry', speed: name });
    }
    const before = speeds[i - 1];
    if (before === undefined) return;
    const falls = (now?: number, last?: number): boolean =>
      now !== undefined && last !== undefined && now < last;
    if (falls(dryM3s, before.dryM3s) || falls(wetM3s, before.wetM3s)) {
      found.push({ kind: 'slower', speed: name, than: before.name });
    }
  });
  return found;
}

/**
 * Which speed a measured flow fits, where it is not the one that is told.
 * @param u standard uncertainty of the measured flow, m³/s
 * @returns the name of a speed that it fits, where it does not fit `speed`; null: it fits, or nothing does
 */
export function otherSpeedThatFits(
  table: FanTable,
  speed: string,
  wetness: number,
  flowM3s: number,
  u: number,
): string | null {
  const off = (name: string): number => {
    const flow = tableFlow(table, name, wetness);
    if (flow === null) return Infinity;
    const own = ((flow.limitPct ?? 0) / 100 / Math.sqrt(3)) * flow.flowM3s;
    return Math.abs(flowM3s - flow.flowM3s) / Math.hypot(u, own);
  };
  if (off(speed) <= 1.96) return null;
  let best: string | null = null;
  for (const { name } of table.speeds) {
    if (off(name) <= 1.96 && (best === null || off(name) < off(best))) best = name;
  }
  return best;
}
