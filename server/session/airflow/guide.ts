/** What a traverse asks for next, in sentences that can be said aloud: the eyes are on the outlet. */
import { gridPoints, nextPoint, type Rule } from '../../measure/airflow/positions.ts';
import type { Section } from '../../measure/airflow/outlet.ts';
import { USUAL_HEAD_M } from '../../measure/airflow/sweep.ts';
import type { OutletState, PointProgress } from '../../protocol.ts';
import type { SweptSection } from '../../signal/section-sweep.ts';
import { sent } from '../../words/sent.ts';

export interface Guide {
  text: string;
  warns: boolean;
  progress: number;
}

/**
 * A sweep goes along a section at about this pace, there and back, but takes so long at least. A section
 * wider than the head takes lanes side by side, none narrower than this, m (common practice, no source).
 */
export const PACE_MS = 0.1;
const LEAST_S = 15;
const LANE_M = 0.05;

/** In how many lanes a head covers a section: 1 or more. @param headM null: a usual one */
export function lanesIn({ widthM, lengthM }: Section, headM: number | null): number {
  const laneM = Math.max(LANE_M, headM ?? USUAL_HEAD_M);
  return Math.max(1, Math.ceil(Math.min(widthM, lengthM) / laneM - 1e-9));
}

/** How long a section takes, s. */
export function sectionSeconds(section: Section, headM: number | null): number {
  const passes = Math.max(2, lanesIn(section, headM));
  return Math.max(LEAST_S, (passes * Math.max(section.widthM, section.lengthM)) / PACE_MS);
}

/** No reading for so long is told, s. */
const SILENT_S = 3;
/** The halves of a sweep may differ by so much. */
export const UNEVEN = 0.1;
/** So much of the time may go the other way. */
export const REVERSED = 0.02;

const warning = (text: string, progress: number): Guide => ({ text, warns: true, progress });
const advice = (text: string, progress: number): Guide => ({ text, warns: false, progress });

const SILENT = sent`No reading from the anemometer. Bring it closer to the computer.`;
const PAUSED = sent`Paused. Nothing counts until you go on.`;

interface SweepState {
  outlet: OutletState;
  headM: number | null;
  section: number;
  sections: readonly { seconds: number; progress: number }[];
  result: SweptSection | null;
  isAway: boolean;
  silentS: number;
  paused: boolean;
}

export function sweepGuide(s: SweepState): Guide {
  const { sections, section, outlet, result } = s;
  const progress = sections.reduce((sum, each) => sum + each.progress, 0) / sections.length;
  const which = sections.length > 1 ? sent`Section ${section + 1} of ${sections.length}. ` : '';
  const here = sections[section];
  const shape = outlet.sections[section];
  if (s.paused) return advice(PAUSED, progress);
  if (here === undefined || shape === undefined) {
    return warning(sent`The outlet has ${sections.length} sections. Tap End.`, progress);
  }
  if (s.silentS > SILENT_S) return warning(SILENT, progress);
  if (s.isAway) {
    return warning(sent`Out of the airstream. This time does not count.`, progress);
  }
  if (result !== null && result.reversed > REVERSED) {
    return warning(
      sent`Air goes the other way at some spot. Turn the anemometer around, or go on.`,
      progress,
    );
  }
  if (here.progress >= 1) {
    if (result !== null && Math.abs(result.drift) > UNEVEN) {
      return warning(
        sent`${which}The two halves differ. Keep moving, end to end, at an even pace.`,
        progress,
      );
    }
    const next = sections.findIndex((each) => each.progress < 1);
    return next < 0
      ? advice(sent`Enough. Tap End.`, 1)
      : advice(sent`Enough here. Go on to section ${next + 1}.`, progress);
  }
  const passS = Math.max(2, Math.round(Math.max(shape.widthM, shape.lengthM) / PACE_MS));
  const lanes = lanesIn(shape, s.headM);
  const way = lanes > 2 ? sent`end to end in ${lanes} lanes side by side,` : sent`end to end`;
  const left = Math.ceil(here.seconds / here.progress - here.seconds);
  const toGo = Number.isFinite(left) ? sent` ${left} s to go.` : '';
  return advice(
    sent`${which}Move ${way} at an even pace, about ${passS} s each way.${toGo}`,
    progress,
  );
}

interface GridState {
  outlet: OutletState;
  rule: Rule;
  points: readonly PointProgress[];
  at: { section: number; row: number; column: number } | null;
  silentS: number;
  paused: boolean;
}

export function gridGuide({ outlet, rule, points, at, silentS, paused }: GridState): Guide {
  const all = gridPoints(rule, outlet.sections).length;
  const progress = Math.min(1, points.filter(({ settled }) => settled).length / all);
  if (paused) return advice(PAUSED, progress);
  if (silentS > SILENT_S) return warning(SILENT, progress);
  const next = nextPoint(rule, outlet.sections, points);
  if (at === null)
    return advice(sent`Hold the anemometer at the first point, then tap it.`, progress);
  const here = points.find(
    (p) => p.section === at.section && p.row === at.row && p.column === at.column,
  );
  if (here?.settled !== true) return advice(sent`Hold still at ${spot(at, outlet)}.`, progress);
  return next === null
    ? advice(sent`That was the last point. Tap End.`, 1)
    : advice(sent`Settled. Go on to ${spot(next, outlet)}.`, progress);
}

/** "row 2, point 3", with its section where there are several. */
function spot(
  { section, row, column }: { section: number; row: number; column: number },
  { sections }: OutletState,
): string {
  const of = sections.length > 1 ? sent`section ${section + 1}, ` : '';
  return sent`${of}row ${row + 1}, point ${column + 1}`;
}
