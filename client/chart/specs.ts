/** The two plots of the chart, and the columns that they show. */
import type { AlignedData } from 'uplot';
import type { History } from '../live/history.ts';
import type { Scales } from '../words/scales.ts';
import type { EndLabel } from './end-labels.ts';
import type { OverlayContent } from './overlay.ts';
import type { Palette } from './palette.ts';
import type { PlotArea, PlotSpec } from './plot.ts';
import { powerBounds, temperatureBounds } from './ticks.ts';

/** What the plots ask of the chart whenever they are drawn, and what they tell it. */
export interface PlotHost {
  palette: () => Palette;
  scales: () => Scales;
  power: () => OverlayContent;
  air: () => OverlayContent;
  onframe: PlotSpec['onframe'];
  onpoint: PlotSpec['onpoint'];
  onreset: PlotSpec['onreset'];
  /** Where the plot of the capacity has been drawn. */
  ondrawn: (area: PlotArea) => void;
  /** The axis of the capacity reaches so high at least, W: as that of a chart beside it. */
  leastTopW: () => number;
}

/** The number of the total among the series of the capacity plot. */
export const TOTAL = 3;
export const POWER_LABELS: EndLabel[] = [
  { series: TOTAL, text: 'total' },
  { series: 4, text: 'sensible', sameAs: TOTAL },
  { series: 5, text: 'latent' },
];
export const AIR_LABELS: EndLabel[] = [
  { series: 1, text: 'return' },
  { series: 2, text: 'supply' },
];

export function powerSpec(host: PlotHost): PlotSpec {
  const { palette, onframe, onpoint, onreset, ondrawn } = host;
  return {
    ...{ palette, onframe, onpoint, onreset, ondrawn },
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
    scale: () => host.scales().power,
    content: host.power,
  };
}

export function airSpec(host: PlotHost): PlotSpec {
  const { palette, onframe, onpoint, onreset } = host;
  return {
    ...{ palette, onframe, onpoint, onreset },
    lines: [{ width: 1.5, dash: [7, 5] }, { width: 2.5 }],
    bounds: temperatureBounds,
    flags: false,
    times: false,
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
