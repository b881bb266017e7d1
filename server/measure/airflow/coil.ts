/**
 * How wet a cooling coil is, by how long it has taken moisture out of the air: it holds water between its
 * fins some minutes after that began, and is dry again long after it has ended (times: common practice,
 * no source).
 */

/** So long until it is as wet as it gets, and until it has dried with the fan running, s. */
const WETS_S = 900;
export const DRIES_S = 1800;

/** What was seen last. */
export interface CoilSeen {
  /** 0 dry, 1 wet: at `sinceT`. */
  wetness: number;
  /** Whether moisture is taken out since then; null: not known yet. */
  removes: boolean | null;
  /** ms */
  sinceT: number | null;
}

/** How wet it is at `t`, ms: 0 to 1. */
export function wetnessAt({ wetness, removes, sinceT }: CoilSeen, t: number): number {
  if (removes === null || sinceT === null) return wetness;
  const seconds = Math.max(0, t - sinceT) / 1000;
  const now = wetness + (removes ? seconds / WETS_S : -seconds / DRIES_S);
  return Math.min(1, Math.max(0, now));
}
