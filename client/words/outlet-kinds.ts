/** Kinds of openings: what is known of one helps at the next unit that is built alike. Pure. */
import { openingKind } from '../../server/measure/airflow/outlet.ts';
import type { KnownOutlets, OutletState, VisitSetup } from '../../server/protocol.ts';
import { written } from './figures.ts';
import { outletWords } from './measuring.ts';
import type { Scales } from './scales.ts';
import { day } from './visits.ts';
import { t } from '../../server/words/language.ts';

export const KINDS = { legend: t`Built like one that is known: fill it in` };

/** An opening that is known, and where. */
export interface Opening {
  /** Null: of an earlier visit. */
  id: string | null;
  kind: string;
  outlet: OutletState;
  /** "Study", "Study, Orchard Lane 4, May 4, 2026" */
  from: string;
}

/** All openings of which it was said how they are built: those of this visit first, the last one ahead. */
export function openingsKnown(
  { outlets, units }: Pick<VisitSetup, 'outlets' | 'units'>,
  known: KnownOutlets['outlets'],
): Opening[] {
  const here = Object.entries(outlets)
    .toReversed()
    .map(([id, outlet]) => ({ id, outlet, from: units[outlet.unit]?.name ?? outlet.unit }));
  const earlier = known.map(({ outlet, unitName, title, t }) => ({
    id: null,
    outlet,
    from: [unitName, title, day(t)].filter((part) => part !== '').join(', '),
  }));
  return [...here, ...earlier].flatMap((each) => {
    const kind = openingKind(each.outlet);
    return kind === null ? [] : [{ ...each, kind }];
  });
}

/** More than a person looks through. */
const MOST = 8;

/** One opening of each kind, the first. */
export function kindsOf(openings: readonly Opening[]): Opening[] {
  const kinds = new Map<string, Opening>();
  for (const each of openings) if (!kinds.has(each.kind)) kinds.set(each.kind, each);
  return [...kinds.values()].slice(0, MOST);
}

/** "Outlet: 64 × 610 mm, free area 0.86 ± 0.04. From Study, Orchard Lane 4, May 4, 2026." */
export function kindWords({ outlet, from }: Opening, scales: Scales): string {
  const limit = outlet.freeAreaLimit;
  const sure = limit === undefined ? '' : ` ± ${written(limit, 0.01)}`;
  return t`${outletWords(outlet, scales)}${sure}. From ${from}.`;
}

/** The outlets of the visit that are of that one's kind, itself the first. */
export function sameKind(id: string, outlets: Record<string, OutletState>): string[] {
  const own = outlets[id];
  const kind = own === undefined ? null : openingKind(own);
  const others = Object.entries(outlets)
    .filter(([other, outlet]) => other !== id && openingKind(outlet) === kind)
    .map(([other]) => other);
  return kind === null ? [id] : [id, ...others];
}

/** A factor of the same kind that is known better than an outlet's own. */
export interface Offer {
  id: string;
  from: string;
  freeArea: number;
  limit: number;
}

/** For each outlet of a unit the surest factor of its kind, where that is surer than its own. */
export function surerFactors(unit: string, openings: readonly Opening[]): Offer[] {
  return openings.flatMap(({ id, kind, outlet }): Offer[] => {
    if (id === null || outlet.unit !== unit) return [];
    let best: Offer | null = null;
    for (const other of openings) {
      const { freeArea, freeAreaLimit: limit } = other.outlet;
      if (other.kind !== kind || limit === undefined) continue;
      if (limit >= (best?.limit ?? outlet.freeAreaLimit ?? Infinity)) continue;
      best = { id, from: other.from, freeArea, limit };
    }
    return best === null ? [] : [best];
  });
}

/** "An outlet of this kind has 0.86 ± 0.04 (Study, Orchard Lane 4, May 4, 2026)." */
export const offerWords = (from: string, freeArea: number, limit: number): string =>
  t`An outlet of this kind has ${written(freeArea, 0.01)} ± ${written(limit, 0.01)} (${from}). If this one is built the same, use that factor. It counts from the next sweep on.`;
