/** The segments of a plan, and which plateau counts when. */
import type { Course } from './course.ts';
import { type Change, type Plan, tauOf } from './curve-plan.ts';
import { type Approach, at, type Segment, settledSince } from './visit.ts';

/** A change that is smaller than this share of its plateau has no approach worth a forecast. */
const WORTH = 0.1;
/** After a defrost nothing is called steady for so long, s: it is not settled earlier. */
const AFTER_DEFROST_S = 300;

/**
 * The plateau that counts in a second, as a share of the nominal capacity. Between an act and its
 * telling nobody can know: NaN. Of what nobody tells it is the plateau before, until it begins to show.
 */
export function knownPlateau({ from, changes }: Plan, s: number): number {
  const counts = changes.filter(({ stretch }) => stretch !== 'defrost');
  const act = counts.findLast(({ atS }) => atS <= s);
  if (act !== undefined && act.told !== null && s < act.atS + act.toldAfterS) return NaN;
  const shows = ({ atS, told, deadS }: Change): number => atS + (told === null ? deadS : 0);
  return counts.findLast((change) => shows(change) <= s)?.plateau ?? from;
}

export function segmentsOf(plan: Plan, total: Course, away: Float64Array, n: number): Segment[] {
  const begins = plan.changes.filter((change) => change.goesOn !== true);
  const first = begins[0]?.atS ?? n;
  const none = { toldAt: null, settledAt: null, approach: null, turns: [] };
  const segments: Segment[] = [{ stretch: 'lead', from: 0, to: Math.floor(first) - 1, ...none }];
  begins.forEach((change, k) => {
    const from = Math.floor(change.atS);
    const toldAt = change.told === null ? null : Math.ceil(change.atS + change.toldAfterS);
    const to = Math.floor(begins[k + 1]?.atS ?? n) - 1;
    const { stretch } = change;
    let settledAt = stretch === 'settles' ? settledSince((i) => at(away, i), from, to) : null;
    if (settledAt !== null && begins[k - 1]?.stretch === 'defrost') {
      settledAt = Math.max(settledAt, from + AFTER_DEFROST_S);
    }
    const approach = stretch === 'settles' ? approachOf(plan, change, total) : null;
    segments.push({
      stretch,
      from,
      to,
      toldAt,
      settledAt,
      approach,
      turns: turnsOf(plan, change, to),
    });
  });
  return segments;
}

/** On and off: as it goes on. Hunting: in step with its sine. */
function turnsOf(
  { changes, hunting }: Plan,
  { stretch, atS, plateau }: Change,
  to: number,
): number[] {
  if (stretch !== 'cycles') return [];
  const turns = changes.filter((c) => c.stretch === 'cycles' && c.plateau === plateau);
  if (turns.length > 1) return turns.map((turn) => turn.atS);
  const count = Math.floor((to - atS) / hunting.periodS) + 1;
  return Array.from({ length: count }, (_, k) => atS + k * hunting.periodS);
}

function approachOf(plan: Plan, change: Change, total: Course): Approach | null {
  const plateauW = change.plateau * plan.nominalW;
  if (Math.abs(total.at(change.atS) - plateauW) < WORTH * plateauW) return null;
  const { lagC, lagPct } = plan.probe;
  return {
    deadS: change.deadS,
    tauS: tauOf(change),
    largerS: change.shape.largerS,
    lagS: plan.mode === 'heating' ? lagC : (lagC + lagPct) / 2,
  };
}
