/** Verdicts in words: what it is, what it rests on, and what would make it surer. */
import type { Expected, UnitSetup, VerdictMessage } from '../../server/protocol.ts';
import { conditionsWords, percentOf, VERDICT_WORDS } from '../../server/words/verdict.ts';
import { withInterval } from './figures.ts';
import type { Scales } from './scales.ts';
import { clockMinutes } from './times.ts';
import { allOf, codeWord } from '../../server/words/names.ts';
import { t } from '../../server/words/language.ts';

export {
  assumed,
  conditionsWords,
  efficiencyWords,
  pushWords,
  VERDICT_WORDS,
  verdictSentence,
} from '../../server/words/verdict.ts';

/** What the room says. */
export const ROOM = {
  title: t`Verdict`,
  noCapture: t`No verdict yet. Capture a steady figure: it is the measured side.`,
  notYet: t`No verdict yet: what the unit should deliver is not known.`,
  surer: t`What would tell`,
  should: t`What it should give now`,
  at: t`at`,
  published: t`Enter what the maker publishes`,
  around: t`Outdoors and power`,
  heads: t`Other heads`,
  report: t`The report`,
  picture: (limit: number) => ({
    measured: t`Measured`,
    expected: t`Expected`,
    limit: t`${percentOf(limit)} of it`,
  }),
};

/** The two sides of a verdict, and what they rest on. */
export function sides(
  v: VerdictMessage,
  measured: { totalW: number; totalU95W: number | null },
  { power, temperature }: Scales,
): { name: string; says: string; more: string }[] {
  return [
    {
      name: t`Measured`,
      says: withInterval(measured.totalW, measured.totalU95W, power),
      more: t`captured ${clockMinutes(v.from)} to ${clockMinutes(v.to)}`,
    },
    {
      name: t`Expected`,
      says: withInterval(v.expectedW, v.expectedU95W, power),
      more: conditionsWords(v, temperature),
    },
  ];
}

/** Why nothing can be expected yet, and where that is mended. */
export function whyWords(why: NonNullable<Expected['why']>, setup: UnitSetup | null): string {
  const modes = (setup?.published ?? []).map(({ mode }) => mode);
  switch (why) {
    case 'nothing':
      return modes.length === 0
        ? t`Nobody has entered what this unit should deliver.`
        : t`What this unit should deliver is entered for ${allOf(modes.map(codeWord))} only.`;
    case 'no-mode':
      return t`The unit neither heats nor cools yet.`;
    case 'no-outdoor':
      return t`The outdoor temperature is not known. Hang a probe at the outdoor coil’s inlet, in the shade, or enter it.`;
    case 'no-indoor':
      return t`No probe reads the return air.`;
    case 'no-wet-bulb':
      return t`Cooling capacity goes with the wet bulb. The return probe needs humidity.`;
    case 'outside':
      return t`These conditions lie outside the published figures, and outside where the open curve holds.`;
  }
}

const ACTION_WORDS: Record<
  VerdictMessage['prospects'][number]['action'],
  { does: string; href: string | null }
> = {
  check: { does: t`Check the probes side by side`, href: '#side-by-side' },
  walk: { does: t`Walk the outlet and the intake`, href: '#walk' },
  traverse: { does: t`Measure the airflow by a traverse`, href: '#airflow' },
  'outdoor-probe': { does: t`Hang a probe at the outdoor coil’s inlet`, href: '#probes' },
  table: { does: t`Enter the maker’s table for these conditions`, href: null },
  wait: { does: t`Capture a longer steady span`, href: '#figure' },
};

/** What would make it surer: what to do, where, and what the interval would be then. */
export function prospectRows(
  v: VerdictMessage,
): { key: string; does: string; href: string | null; gain: string }[] {
  return v.prospects.slice(0, 3).map(({ action, ratioU95, verdict }) => {
    const now = percentOf(v.ratioU95 / v.ratio);
    const then = percentOf(ratioU95 / v.ratio);
    const told =
      verdict !== v.verdict && (verdict === 'meets' || verdict === 'falls-short')
        ? t`. If the figure stays, that says: ${VERDICT_WORDS[verdict].toLowerCase()}`
        : '';
    return {
      key: action,
      ...ACTION_WORDS[action],
      gain: t`± ${now} becomes about ± ${then}${told}.`,
    };
  });
}
