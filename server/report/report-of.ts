/** A visit as a report: which parts it has, in which order. Pure; the same visit gives the same report. */
import type { Scales } from '../words/scales.ts';
import { scalesFor } from '../words/scales.ts';
import { linesWords, visitName, whenWords } from '../words/visits.ts';
import type { Block, Fact, ReportContent } from './content.ts';
import { unitBlocks } from './unit-part.ts';
import type { ReportVisit } from './visit.ts';
import {
  CAUTIONS,
  HEADINGS,
  NO_UNIT,
  SIGNATURES,
  SIMULATED,
  SIMULATED_SENTENCE,
  TITLE,
} from './words.ts';
import { t } from '../words/language.ts';

export type UnitSystem = 'si' | 'ip';

const CHOICES = {
  si: { temperature: 'C', flow: 'm3h', power: 'kW' },
  ip: { temperature: 'F', flow: 'cfm', power: 'Btuh' },
} as const;

export function reportOf(visit: ReportVisit, units: UnitSystem): ReportContent {
  const scales = scalesFor(CHOICES[units]);
  const { setup, simulated } = visit;
  const name = nameOf(visit);
  const when = whenWords({ begunT: visit.fromT, lastT: visit.toT });
  const ids = Object.keys(setup.units);
  // Of one unit, what follows is of it as well.
  const several = ids.length > 1;
  const blocks: Block[] = [
    { kind: 'title', text: name, under: [TITLE, when] },
    ...(simulated
      ? ([{ kind: 'text', text: SIMULATED_SENTENCE, tone: 'strong' }] satisfies Block[])
      : []),
    { kind: 'facts', facts: visitFacts(visit, scales) },
    ...(ids.length === 0
      ? ([{ kind: 'text', text: NO_UNIT, tone: 'plain' }] satisfies Block[])
      : []),
    ...ids.flatMap((id, i) => unitBlocks(visit, id, scales, i > 0)),
    { kind: 'heading', level: several ? 2 : 3, text: HEADINGS.cautions },
    { kind: 'list', items: CAUTIONS },
    { kind: 'heading', level: several ? 2 : 3, text: HEADINGS.signed },
    { kind: 'signatures', names: SIGNATURES },
  ];
  return {
    title: `${TITLE}: ${name}`,
    mark: simulated ? SIMULATED : null,
    foot: t`${name}, ${when}. Visit ${visit.id}`,
    blocks,
  };
}

const nameOf = ({ setup }: ReportVisit): string =>
  visitName({
    title: setup.title,
    address: setup.details.address ?? '',
    units: Object.values(setup.units).map(({ name }) => name),
  });

function visitFacts({ setup, kind }: ReportVisit, scales: Scales): Fact[] {
  const { address, customer, technician, why, conditions, site } = setup.details;
  const facts: [string, string | undefined][] = [
    [t`Site`, site],
    [t`Address`, setup.title === '' ? undefined : address],
    [t`Customer`, customer],
    [t`Technician`, technician],
    [t`Why`, why],
    [t`Conditions`, conditions],
    ...Object.values(setup.systems).map((system): [string, string] => [
      t`Outdoor unit`,
      linesWords(system, scales),
    ]),
    [t`Source`, kind === 'visit' ? undefined : t`a visit log that was taken in`],
  ];
  return facts.flatMap(([name, text]) => (text ? [{ name, text }] : []));
}
