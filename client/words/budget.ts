/** The budget of an interval on the page: its rows, and what would make the interval smaller. */
import type { Budget, ProbeState, UnitSetup } from '../../server/protocol.ts';
import { alike } from '../../server/words/budget.ts';
import type { WalkPlace } from './walk.ts';
import { t } from '../../server/words/language.ts';

export { type BudgetRow, budgetRows, partName } from '../../server/words/budget.ts';

export const BUDGET = {
  title: t`What makes up the ±`,
  noAdvice: t`Nothing you can do here would make it much smaller.`,
  how: t`A full bar would be the whole ±. The ± beside each bar is what would be left if that part were the only one. The parts add up as squares.`,
};

/**
 * Where a walk would make the interval smaller: uneven air there is the largest part, and nobody has walked
 * along it. Null: nowhere.
 */
export function placeToWalk(budget: Budget, evenness: UnitSetup['evenness']): WalkPlace | null {
  const [first] = alike(budget.items).sort((a, b) => b.share - a.share);
  if (first?.kind !== 'spread') return null;
  const place = first.of === 'return' ? 'return' : 'supply';
  return evenness[place].from === 'walked' ? null : place;
}

/**
 * Whether a side-by-side check is what makes the interval smaller: the own errors of probes that were not
 * checked are together more than any other part.
 */
export function checkWouldHelp(budget: Budget, probes: Record<string, ProbeState>): boolean {
  let unchecked = 0;
  let largestOther = 0;
  for (const { kind, of, share } of alike(budget.items)) {
    const ofProbe = (kind === 'temperature' || kind === 'humidity') && of !== null;
    if (ofProbe && probes[of]?.check === null) unchecked += share;
    else largestOther = Math.max(largestOther, share);
  }
  return unchecked > largestOther;
}
