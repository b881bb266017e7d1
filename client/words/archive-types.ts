/** All units of a type beside each other, in words. */
import type { AmongUnits, Funnel, Types } from '../../server/protocol/archive.ts';
import { speedWord } from '../../server/words/names.ts';
import { t } from '../../server/words/language.ts';
import { withInterval } from './figures.ts';
import type { Scale } from './scales.ts';
import { UNIT_LIST } from './archive-units.ts';

export const TYPES = {
  title: t`Types`,
  all: t`All types`,
  what: t`Units of one type beside each other: which of them lie outside what their type does.`,
  none: t`No unit has a type yet. It is entered in the visit settings, for the record.`,
  nothing: t`Nothing to compare yet: no unit of this type was judged, and no airflow was measured.`,
  cooling: t`Capacity in cooling: measured over expected`,
  heating: t`Capacity in heating: measured over expected`,
  airflowAt: (fan: string): string => t`Airflow, fan ${speedWord(fan)}`,
  airflowNoSpeed: t`Airflow, fan speed not told`,
  outside: t`Outside`,
  edge: t`At the edge`,
  noneOutside: t`No unit lies outside.`,
  mean: t`mean`,
  limits: [t`95 % lie within`, t`99.8 % lie within`],
  precision: t`± of each, % of it`,
  every: t`All of them`,
  unit: t`Unit`,
  figure: t`Figure`,
  lies: t`Where it lies`,
};

/** "5 units, 3 of them judged" */
export function typeWords({ units, judged }: Types['types'][number]): string {
  if (units === 1) return judged === 1 ? t`1 unit, judged` : t`1 unit, not judged yet`;
  return t`${units} units, ${judged} of them judged`;
}

const LIES: Record<AmongUnits['lies'], string> = {
  within: t`within`,
  edge: t`at the edge`,
  low: t`outside, too low`,
  high: t`outside, too high`,
};
const MARKS: Record<AmongUnits['lies'], string> = { within: '●', edge: '◆', low: '▼', high: '▲' };
/** A shape and a word: "▼ outside, too low". */
export const liesText = (lies: AmongUnits['lies']): string => `${MARKS[lies]} ${LIES[lies]}`;
export const liesWord = (lies: AmongUnits['lies']): string => LIES[lies];

/** "Study, The library" */
export const amongName = ({ name, title }: Pick<AmongUnits, 'name' | 'title'>): string =>
  [name || UNIT_LIST.unnamed, title].filter(Boolean).join(', ');

export const isOutside = ({ lies }: AmongUnits): boolean => lies === 'low' || lies === 'high';

/** What the units do on the whole; one that lies outside is no part of how much they differ. */
export function wholeWords({ mean, u95Mean, spread, units }: Funnel, scale: Scale): string {
  if (mean === null || spread === null) return t`One unit only: there is nothing to lay it beside.`;
  const whole = t`${units.length} units, mean ${withInterval(mean, u95Mean, scale)}.`;
  const apart = withInterval(spread * mean, null, scale);
  const isAlike = scale.show(spread * mean) - scale.show(0) < scale.finest / 2;
  if (units.some(isOutside)) {
    return isAlike
      ? t`${whole} Those inside differ by no more than their ± explain.`
      : t`${whole} Those inside differ among themselves by ${apart} (standard deviation) beside what their ± explain.`;
  }
  return isAlike
    ? t`${whole} They differ by no more than their ± explain.`
    : t`${whole} They differ among themselves by ${apart} (standard deviation) beside what their ± explain.`;
}

/** What the picture says to who does not see it. */
export function funnelSpoken(units: readonly AmongUnits[]): string {
  const outside = units.filter(isOutside);
  if (outside.length === 0) return t`${units.length} units, none of them outside.`;
  const names = outside.map((unit) => `${amongName(unit)}: ${LIES[unit.lies]}`).join('; ');
  return t`${units.length} units. Outside: ${names}.`;
}
