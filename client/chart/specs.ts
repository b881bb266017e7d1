/** The two plots of the chart, and the columns that they show. */
import type { AlignedData } from 'uplot';
import type { History } from '../live/history.ts';
import type { Scales } from '../words/scales.ts';
import type { EndLabel } from './end-labels.ts';
import type { OverlayContent } from './overlay.ts';
import type { Palette } from './palette.ts';
import type { TimeHost } from './time-keys.ts';
import type { PlotArea, PlotSpec } from './plot.ts';
import { powerBounds, temperatureBounds } from './ticks.ts';
import { LINES } from '../words/chart.ts';

/** What the plots ask of the chart whenever they are drawn, and what they tell it. */
export interface PlotHost {
  palette: () => Palette;
  scales: () => Scales;
  power: () => OverlayContent;
  air: () => OverlayContent;
  onpoint: PlotSpec['onpoint'];
  together: string;
  /** What the pointers that lie on a plot do to the time. */
  time: TimeHost;
  /** Where the plot of the capacity has been drawn. */
  ondrawn: (area: PlotArea) => void;
  /** The axis of the capacity reaches so high at least, W: as that of a chart beside it. */
  leastTopW: () => number;
}

/** The number of the total among the series of the capacity plot. */
export const TOTAL = 3;
export const POWER_LABELS: EndLabel[] = [
  { series: TOTAL, text: LINES.total },
  { series: 4, text: LINES.sensible, sameAs: TOTAL },
  { series: 5, text: LINES.latent },
];
export const AIR_LABELS: EndLabel[] = [
  { series: 1, text: LINES.return },
  { series: 2, text: LINES.supply },
];

export function powerSpec(host: PlotHost): PlotSpec {
  const { palette, onpoint, together, time, ondrawn } = host;
  return {
    ...{ palette, onpoint, together, time, ondrawn },
    lines: [
      { width: 0 },
      { width: 0 },
      { width: 2.5 },
      { width: 1.5, dash: [8, 5] },
      { width: 2, dash: [2, 4] },
    ],
    ribbon: [1, 2],
    // Where it is heading is in view as well.
    bounds: (min, max, scale) =>
      powerBounds(
        min,
        Math.max(max ?? 0, host.power().heading?.forecast.plateauW ?? 0, host.leastTopW()),
        scale,
      ),
    flags: true,
    times: true,
    names: true,
    scale: () => host.scales().power,
    content: host.power,
  };
}

/** One of several heads, or their sum: its total alone, with its interval where there is one. */
export function headSpec(
  host: Pick<PlotHost, 'palette' | 'scales' | 'time' | 'onpoint' | 'together' | 'power'>,
  times: boolean,
): PlotSpec {
  const { palette, onpoint, together, time } = host;
  return {
    ...{ palette, onpoint, together, time },
    lines: [{ width: 0 }, { width: 0 }, { width: 2.5 }],
    ribbon: [1, 2],
    bounds: powerBounds,
    ...{ flags: false, times, names: false },
    scale: () => host.scales().power,
    content: host.power,
  };
}

export function airSpec(host: PlotHost): PlotSpec {
  const { palette, onpoint, together, time } = host;
  return {
    ...{ palette, onpoint, together, time },
    lines: [{ width: 1.5, dash: [7, 5] }, { width: 2.5 }],
    bounds: temperatureBounds,
    flags: false,
    times: false,
    names: true,
    scale: () => host.scales().temperature,
    content: host.air,
  };
}

export function powerColumns(history: History, unit: string): AlignedData {
  const c = history.unit(unit);
  return c === undefined
    ? [[], [], [], [], [], []]
    : [history.t, c.upperW, c.lowerW, c.totalW, c.sensibleW, c.latentW];
}

export function airColumns(history: History, unit: string): AlignedData {
  const c = history.unit(unit);
  return c === undefined ? [[], [], []] : [history.t, c.returnC, c.supplyC];
}

export function headColumns(history: History, unit: string): AlignedData {
  const c = history.unit(unit);
  return c === undefined ? [[], [], [], []] : [history.t, c.upperW, c.lowerW, c.totalW];
}

/** The sum of several heads, null where one of them has no figure. */
export function sumColumns(history: History, units: readonly string[]): AlignedData {
  const totals = units.map((unit) => history.unit(unit)?.totalW);
  const none = history.t.map(() => null);
  const sum = history.t.map((_, i) => {
    let all = 0;
    for (const total of totals) {
      const value = total?.[i];
      if (value === null || value === undefined) return null;
      all += value;
    }
    return all;
  });
  return [history.t, none, none, sum];
}
