/** The openings of recorded visits, as they were told in the end. */
import { openingKind } from '../measure/airflow/outlet.ts';
import type { KnownOutlets } from '../protocol.ts';
import { Outlets } from '../session/airflow/outlets.ts';
import type { ToldOutlet } from '../store/outlet-lines.ts';

/**
 * One of each kind (how it is built, outlet or intake), the newest; none of which nobody said how it is
 * built.
 * @param told the newest visit first, within a visit in the order in which it was told
 */
export function knownOutlets(told: readonly ToldOutlet[]): KnownOutlets['outlets'] {
  const visits = new Map<string, { outlets: Outlets; from: Map<string, ToldOutlet> }>();
  for (const each of told) {
    const visit = visits.get(each.visit) ?? { outlets: new Outlets(), from: new Map() };
    visits.set(each.visit, visit);
    visit.outlets.tell(each.line);
    // What was told of last counts as the newest.
    visit.from.delete(each.line.id);
    visit.from.set(each.line.id, each);
  }
  const kinds = new Map<string, KnownOutlets['outlets'][number]>();
  for (const { outlets, from } of visits.values()) {
    for (const [id, { visit, title, t, unitName }] of [...from].toReversed()) {
      const outlet = outlets.get(id);
      const kind = outlet === undefined ? null : openingKind(outlet);
      if (outlet === undefined || kind === null) continue;
      if (!kinds.has(kind)) kinds.set(kind, { visit, title, t, unitName, outlet });
    }
  }
  return [...kinds.values()];
}
