/** One unit of a recorded visit: what its chart and its lists show. Pure. */
import type { Capture, EventMessage, OldVisit } from '../../server/protocol.ts';
import { History } from '../live/history.ts';
import { type ToldEvent, toldEvents } from '../words/events.ts';
import type { Scales } from '../words/scales.ts';

export interface PastUnit {
  id: string;
  name: string;
  simulated: boolean;
  history: History;
  captures: Capture[];
  /** Of the whole visit. */
  events: EventMessage[];
  /** The events that concern it, none of which can be moved any more. */
  told: (scales: Scales) => ToldEvent[];
}

/** The columns of a recorded visit, for all its units. */
export function historyOf({ history }: OldVisit): History {
  const columns = new History();
  columns.addHistory(history);
  return columns;
}

/** Units that were told of, in their order, then any that only captures or the chart know. */
export function unitIdsOf({ unitDetails, history, captures }: OldVisit): string[] {
  const ids = [
    ...Object.keys(unitDetails),
    ...Object.keys(history.units),
    ...captures.map(({ unit }) => unit),
  ];
  return [...new Set(ids)];
}

export function pastUnit(visit: OldVisit, history: History, id: string): PastUnit {
  const { events, simulated, unitDetails } = visit;
  return {
    ...{ id, simulated, history, events },
    name: unitDetails[id]?.name || id,
    captures: visit.captures.filter(({ unit }) => unit === id),
    told: (scales) =>
      // Which airflow was told, and where its probes hung, is in the log only.
      toldEvents(events, id, { scales, flowM3s: null, probes: {} }).map((event) => ({
        ...event,
        movable: false,
      })),
  };
}

/** How long a chart is and how high it reaches: two beside each other share both, ms and W. */
export function sizeOf({ history, id }: PastUnit): { spanMs: number; topW: number } {
  const { t } = history;
  const columns = history.unit(id);
  let topW = 0;
  for (const value of columns?.upperW ?? columns?.totalW ?? []) topW = Math.max(topW, value ?? 0);
  return { spanMs: (t.at(-1) ?? 0) - (t[0] ?? 0), topW };
}
