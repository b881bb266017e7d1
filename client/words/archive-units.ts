/** Units of an archive in words: how they are found, and one of them over the years. */
import type { ArchiveUnit, UnitHistory } from '../../server/protocol/archive.ts';
import { codeWord, speedWord } from '../../server/words/names.ts';
import { t } from '../../server/words/language.ts';
import { NO_FIGURE, ratio } from './figures.ts';
import { FACTS } from './record.ts';
import { methodName } from './measuring.ts';
import { SHORT_WORDS } from './verdict-word.ts';
import { day } from './visits.ts';

export const UNIT_LIST = {
  title: t`Units`,
  search: t`Search`,
  hint: t`name, type, serial, address …`,
  unnamed: t`Unit without a name`,
  all: t`All units`,
};

export const UNIT_YEARS = {
  capacity: t`Capacity`,
  capacityChart: t`Captured capacity over the years, with 95 % intervals`,
  part: t`Measured over expected`,
  partChart: t`Measured over expected capacity over the years, with 95 % intervals`,
  airflow: t`Airflow`,
  airflowChart: t`Measured airflow over the years, with 95 % intervals`,
  expected: t`as expected`,
  baseline: t`baseline`,
  noCaptures: t`No capture of this unit yet.`,
  noParts: t`Nothing was expected of it yet: no visit had the maker’s figures.`,
  noAirflows: t`No airflow of this unit was measured yet.`,
  table: t`As a table`,
  visit: t`Visit`,
  ofExpected: t`Of expected`,
  how: t`Method`,
  typeOf: (model: string): string => t`All units of type ${model}`,
  erased: (day: string): string =>
    t`What was personal of this site was erased on ${day}. The measurements are as they were.`,
};

/** What a unit is called. */
export const unitName = ({ name, model }: Pick<ArchiveUnit, 'name' | 'model'>): string =>
  name || model || UNIT_LIST.unnamed;

/** "Slim 35, serial 4471, The library, 12 Orchard Lane" */
export const unitWhere = ({ name, model, serial, title, address }: ArchiveUnit): string =>
  [
    name === '' ? '' : model,
    serial === '' ? '' : FACTS.serial(serial),
    title,
    address === title ? '' : address,
  ]
    .filter(Boolean)
    .join(', ');

/** "3 visits, the last on May 4, 2026" */
export function unitVisits({ visits, lastT }: Pick<ArchiveUnit, 'visits' | 'lastT'>): string {
  if (visits === 0 || lastT === null) return t`no visits`;
  const last = day(lastT);
  return visits === 1 ? t`1 visit, on ${last}` : t`${visits} visits, the last on ${last}`;
}

/** What stands above the list. */
export function unitsFound(found: number, isSearch: boolean): string {
  if (found === 0)
    return isSearch ? t`No unit matches. Try fewer words.` : t`No van has sent a unit yet.`;
  if (found >= 200) return t`The 200 that were visited last. Search to find others.`;
  return found === 1 ? t`1 unit.` : t`${found} units, the one that was visited last first.`;
}

type Capture = UnitHistory['captures'][number];
type Airflow = UnitHistory['airflows'][number];

/** "cooling, fan high": captures of one such group compare. */
export function captureGroup({ latentW, fan }: Capture): string {
  const mode = codeWord(latentW === null ? 'heating' : 'cooling');
  return fan === null ? mode : t`${mode}, fan ${speedWord(fan)}`;
}
/** "Sweep, fan high" */
export function airflowGroup({ method, fan }: Airflow): string {
  const how = methodName(method);
  return fan === '' ? how : t`${how}, fan ${speedWord(fan)}`;
}

/** The verdicts that this page has a word and a shape for. */
export const VERDICT_ORDER = ['meets', 'cannot-tell', 'falls-short', 'not-asked'] as const;
export const verdictKnown = (verdict: string | null): (typeof VERDICT_ORDER)[number] | null =>
  VERDICT_ORDER.find((each) => each === verdict) ?? null;

/** "0.64 ± 0.22, falls short" */
export function partWords({ ratio: part, ratioU95, verdict }: Capture): string {
  if (part === null) return NO_FIGURE;
  const known = verdictKnown(verdict);
  return known === null ? ratio(part, ratioU95) : `${ratio(part, ratioU95)}, ${SHORT_WORDS[known]}`;
}

/** What a picture says to who does not see it. */
export function overYears(count: number, first: number, last: number): string {
  if (count === 1) return t`One figure, of ${day(first)}.`;
  return t`${count} figures, from ${day(first)} to ${day(last)}. The table below says each.`;
}
