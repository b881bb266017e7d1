/**
 * What settling comes to, as it is said and written down: where a unit is heading, and the mean of one
 * that cycles, each with all that is doubtful about it. Pure.
 */
import { areEnoughCycles } from '../../server/measure/whole-cycles.ts';
import type { SettlingSnapshot, UnitSnapshot } from '../../server/protocol.ts';

/**
 * Half of the 95 % interval of a plateau, W: how far it may be from where it was reckoned to be, and
 * what probes and airflow may be off. Null where either is not known.
 * @param totalU95W half of the interval of the figure itself
 */
export function plateauIntervalW(
  { plateauU95W }: SettlingSnapshot,
  totalU95W: number | null,
): number | null {
  return plateauU95W === null || totalU95W === null ? null : Math.hypot(plateauU95W, totalU95W);
}

/** The mean of a unit that cycles, over whole cycles. */
export interface CycleMean {
  meanW: number;
  /** Half of its 95 % interval with that of the figure; null where one of them is not known. */
  u95W: number | null;
  /** Whole cycles that it is over so far. */
  count: number;
  /** Whether it has enough of them to be written down. */
  isEnough: boolean;
}

/** The mean over whole cycles; null where a unit does not cycle, or there is none yet. */
export function cycleMeanOf({
  settling,
  capacity,
}: Pick<UnitSnapshot, 'settling' | 'capacity'>): CycleMean | null {
  const { state, plateauW, plateauU95W, cycle, defrost } = settling;
  if (state !== 'cycling' || plateauW === null || defrost !== null) return null;
  const u95W = cycle?.meanU95W ?? plateauIntervalW(settling, capacity.totalU95W);
  const count = cycle?.averaged ?? cycle?.count ?? 0;
  // Without limits of the probes the scatter of the cycles is all there is to judge by.
  return {
    meanW: plateauW,
    u95W,
    count,
    isEnough: areEnoughCycles(count, plateauW, u95W ?? plateauU95W),
  };
}
