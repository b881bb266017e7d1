/** The live chart of a unit: what it shows follows the connection and the state. */
import { untrack } from 'svelte';
import type { SettlingSnapshot, State } from '../../server/protocol.ts';
import { Amendments } from '../chart/amendments.svelte.ts';
import { ChartModel } from '../chart/chart-model.svelte.ts';
import { forecastOf } from '../chart/forecast.ts';
import { markedSpans } from '../chart/marks.ts';
import { TOTAL } from '../chart/specs.ts';
import { Reach } from '../chart/view.ts';
import type { Connection } from '../live/connection.svelte.ts';
import { toldEvents } from '../words/events.ts';
import { withInterval } from '../words/figures.ts';
import { plateauIntervalW } from '../words/plateau.ts';
import { markOf } from '../words/replay.ts';
import type { Scales } from '../words/scales.ts';

/** What is asked of the page whenever it may have changed. */
export interface LiveNow {
  told: State;
  unitId: string;
  settling: SettlingSnapshot | null;
  /** Half of the interval of the total, W. */
  totalU95W: number | null;
  /** Whether what is told is of now. */
  live: boolean;
  scales: Scales;
}

export class LiveChart {
  readonly amendments: Amendments;
  readonly model: ChartModel;

  constructor(connection: Connection, now: () => LiveNow) {
    const { history } = connection;
    const unitId = $derived(now().unitId);
    // The state is replaced with each snapshot, what is in it mostly stays: derived, it changes only when
    // it does, and the plots are not drawn anew for nothing.
    const events = $derived(now().told.events);
    const captures = $derived(now().told.captures);
    const mark = $derived.by(() => {
      const { replay, simulated } = now().told;
      return markOf({ replayed: replay !== null, simulated });
    });
    const probes = $derived(now().told.probes);
    const scales = $derived(now().scales);
    const flowM3s = $derived(now().told.visit.units[unitId]?.airflow?.flowM3s ?? null);
    const settling = $derived(now().settling);
    const live = $derived(now().live);
    this.amendments = new Amendments(() => events);

    /** One for each unit: where the axis ends is remembered. */
    const reach = $derived.by(() => {
      void unitId;
      return new Reach();
    });
    const lastT = $derived.by(() => {
      void connection.historyVersion;
      return history.lastT;
    });
    // With the history, not with each snapshot: what is drawn belongs together. A line that is down has no
    // forecast.
    const end = $derived.by(() => {
      void connection.historyVersion;
      const last = history.lastT;
      return last === null
        ? null
        : reach.end(
            last,
            untrack(() => (live ? settling : null)),
          );
    });
    const shown = $derived(toldEvents(this.amendments.shown, unitId, { scales, flowM3s, probes }));
    const spans = $derived(markedSpans(captures, events, unitId, settling, lastT));
    const heading = $derived.by(() => {
      const totals = history.unit(unitId)?.totalW ?? [];
      const forecast =
        live && this.model.time.held === null
          ? forecastOf(settling, totals.at(-1) ?? null, lastT)
          : null;
      if (forecast === null) return null;
      // In words with the errors of probes and airflow, as beside the figure; the band is without them.
      const { totalU95W } = now();
      const intervalW = settling === null ? null : plateauIntervalW(settling, totalU95W);
      const text = `heading for ${withInterval(forecast.plateauW, intervalW, scales.power)}`;
      return { series: TOTAL, forecast, text };
    });
    this.model = new ChartModel(() => ({
      ...{ unitId, history, version: connection.historyVersion, end, events: shown, spans },
      ...{ heading, mark, scales, leastTopW: 0 },
    }));
  }
}
