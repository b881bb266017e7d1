/** Recorded visits in words: what they are called, when they were, and what two of them differ by. */
import type { Capture, VisitItem, VisitSetup } from '../../server/protocol.ts';
import { MAY_BE_NONE } from './capture-list.ts';
import { type Figure, NO_FIGURE } from './figures.ts';
import type { Scales } from './scales.ts';
import { FACTS } from './record.ts';
import { figureText, shownParts } from './shown.ts';
import { t } from '../../server/words/language.ts';

export { day, linesWords, visitName, whenWords } from '../../server/words/visits.ts';

/** "3 captures" */
export function captureCount(captures: number): string {
  if (captures === 0) return t`no captures`;
  return captures === 1 ? t`1 capture` : t`${captures} captures`;
}

/** ", by Van 7", of a visit in a company's archive. */
export const vanWords = ({ van }: Pick<VisitItem, 'van'>): string =>
  van === undefined ? '' : t`, by ${van}`;

/** What has to be known of a visit before its figures are read. */
export function visitMarks(
  { id, kind, simulated }: Pick<VisitItem, 'id' | 'kind' | 'simulated'>,
  live: string | null,
): string[] {
  const marks: string[] = [];
  if (id === live) marks.push(t`Live now`);
  if (simulated) marks.push(t`Simulated`);
  if (kind === 'replay') marks.push(t`Replay of a log`);
  if (kind === 'import') marks.push(t`From a log`);
  return marks;
}

/** What stands above the list. */
export function foundWords(found: number, most: number, isSearch: boolean): string {
  if (found >= most) return t`The newest ${most}. Search to find older ones.`;
  const visits = found === 1 ? t`1 visit` : t`${found} visits`;
  if (!isSearch) return found === 0 ? t`Nothing recorded yet.` : t`${visits}, newest first.`;
  return found === 0
    ? t`No visit matches. Try fewer words or other dates.`
    : t`${visits} found, newest first.`;
}

/** The first and the last moment of days as a date field gives them ("2026-05-04"), ms; null where empty. */
export function daysBetween(
  from: string,
  to: string,
): { since: number | null; until: number | null } {
  // Without a zone it is the browser's own.
  const since = Date.parse(`${from}T00:00:00`);
  const until = Date.parse(`${to}T23:59:59.999`);
  return { since: Number.isNaN(since) ? null : since, until: Number.isNaN(until) ? null : until };
}

/** One unit that both visits know, by its name, with the captures that count. */
export interface SameUnit {
  name: string;
  /** Its id in the first, and in the second. */
  ids: [string, string];
  first: Capture[];
  second: Capture[];
}

type Told = {
  captures: Capture[];
  unitDetails: Record<string, { name: string }>;
};

const nameKey = (name: string): string => name.trim().toLowerCase();

/** The units that are called the same in both, in the order of the first; struck captures are no result. */
export function sameUnits(first: Told, second: Told): SameUnit[] {
  const of = ({ captures }: Told, id: string): Capture[] =>
    captures.filter(({ unit, struck }) => unit === id && struck === undefined);
  return Object.entries(first.unitDetails).flatMap(([id, { name }]): SameUnit[] => {
    const other = Object.entries(second.unitDetails).find(
      ([, each]) => nameKey(each.name) === nameKey(name),
    );
    return other === undefined
      ? []
      : [
          {
            ...{ name: name || id, ids: [id, other[0]] },
            ...{ first: of(first, id), second: of(second, other[0]) },
          },
        ];
  });
}

/** In heating the coil is dry and there is no latent part. */
const isHeating = ({ latentW }: Capture): boolean => latentW === null;

/** By how much a capture of one visit differs from that of another. */
export interface VisitDifference {
  /** "+0.21 ± 0.16 kW"; null where the two are not to be compared. */
  total: string | null;
  parts: string | null;
  /** What the difference is worth, as sentences. */
  worth: string;
}

/** Independent half-widths together: the root of the sum of squares (JCGM 100:2008, 5.1.2). */
const together = (a: number | null, b: number | null): number | null =>
  a === null || b === null ? null : Math.hypot(a, b);
const less = (b: number | null, a: number | null): number | null =>
  a === null || b === null ? null : b - a;

const SHARED = t`The ± treats all errors of the two as independent. With the same probes and the same airflow, their errors are in both and partly cancel: the difference is then surer than this.`;

/** The second less the first. */
export function visitDifference(first: Capture, second: Capture, scales: Scales): VisitDifference {
  if (isHeating(first) !== isHeating(second)) {
    const worth = t`One is cooling, the other heating: their difference means nothing.`;
    return { total: null, parts: null, worth };
  }
  const totalU95W = together(first.totalU95W, second.totalU95W);
  const shown = shownParts(
    {
      ...{ totalW: second.totalW - first.totalW, totalU95W },
      sensibleW: second.sensibleW - first.sensibleW,
      sensibleU95W: together(first.sensibleU95W, second.sensibleU95W),
      latentW: less(second.latentW, first.latentW),
      latentU95W: together(first.latentU95W, second.latentU95W),
    },
    scales.power,
  );
  const signed = (part: Figure): string => {
    const rises = /[1-9]/.test(part.value ?? '') && part.value?.startsWith('−') !== true;
    return `${rises ? '+' : ''}${figureText(part, scales.power) ?? NO_FIGURE}`;
  };
  const latent = shown.latent.value === null ? '' : t`, latent ${signed(shown.latent)}`;
  return {
    total: signed(shown.total),
    parts: t`sensible ${signed(shown.sensible)}${latent}`,
    worth: worthOf(Math.abs(second.totalW - first.totalW), totalU95W),
  };
}

function worthOf(differenceW: number, u95W: number | null): string {
  if (u95W === null) {
    return t`One of the two has no ±, so nobody can tell whether this is a real change.`;
  }
  const real = differenceW > u95W ? t`More than its ±: a real change, as measured.` : MAY_BE_NONE;
  return `${real} ${SHARED}`;
}

/** What was said of this visit for the record, by its name; what was not said is not there. */
export function thisVisitFacts({ details, systems, units }: VisitSetup): [string, string][] {
  const { address, customer, technician, why, conditions } = details;
  const all: [string, string | undefined][] = [
    [FACTS.address, address],
    [FACTS.customer, customer],
    [FACTS.technician, technician],
    [FACTS.why, why],
    [FACTS.conditions, conditions],
    ...Object.values(systems).map(({ name, model, serial }): [string, string] => [
      name ?? FACTS.outdoorUnit,
      madeWords(undefined, model, serial),
    ]),
    ...Object.values(units).map(({ name, details: { form, model, serial } }): [string, string] => [
      name,
      madeWords(form, model, serial),
    ]),
  ];
  return all.flatMap(([name, text]): [string, string][] => (text ? [[name, text]] : []));
}

/** "wall unit, WL-35, serial 4471" */
const madeWords = (form?: string, model?: string, serial?: string): string =>
  [form, model, serial ? FACTS.serial(serial) : ''].filter(Boolean).join(', ');
