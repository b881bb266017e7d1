/**
 * What one head of several can be given: heads on one outdoor unit share its compressor, so a head gets
 * no more than what the others leave.
 */

/** The outdoor unit that a head hangs on, while it was measured. */
export interface SharedBy {
  /** What the outdoor unit gives at most at these conditions, W, and its standard uncertainty; null: unsaid. */
  combined: { totalW: number; u: number } | null;
  /** What the other heads took, W, each with its standard uncertainty; null of one that ran unmeasured. */
  others: readonly ({ totalW: number; u: number } | null)[];
}

/** What is expected of the head itself. */
export interface Share {
  totalW: number;
  /** Standard uncertainty, W. */
  u: number;
  /** It may be less: others run, and nobody knows what they take, or what there is. */
  atMost: boolean;
  /** The others leave less than the head could give by itself. */
  limited: boolean;
}

/**
 * @param own what the head gives where it runs alone, W
 * @param u its standard uncertainty, W
 * @param by null where no other head runs
 */
export function shareOf(own: number, u: number, by: SharedBy | null): Share {
  if (by === null || by.others.length === 0) {
    return { totalW: own, u, atMost: false, limited: false };
  }
  const { combined, others } = by;
  const known = others.filter((other) => other !== null);
  if (combined === null) return { totalW: own, u, atMost: true, limited: false };
  const left = combined.totalW - known.reduce((sum, each) => sum + each.totalW, 0);
  // The others take more than is printed for all: that figure says nothing of this head.
  if (!(left > 0)) return { totalW: own, u, atMost: true, limited: false };
  const atMost = known.length < others.length;
  if (left >= own) return { totalW: own, u, atMost, limited: false };
  return {
    totalW: left,
    u: Math.hypot(combined.u, ...known.map((each) => each.u)),
    atMost,
    limited: true,
  };
}
