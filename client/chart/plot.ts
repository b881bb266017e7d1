/** The two plots of the figure, capacity and air temperatures, as options of the plotting library. */
import type uPlot from 'uplot';
import { written } from '../words/figures.ts';
import type { Scale } from '../words/scales.ts';
import { drawBars, drawWash } from './draw-spans.ts';
import { flagsPx, isLow, rowsAbove, type TimeAxis } from './flags.ts';
import { drawMarks, drawWords, markPx, type OverlayContent, pxRatio } from './overlay.ts';
import type { TimeHost } from './time-keys.ts';
import type { Palette } from './palette.ts';
import { marks, stepFor } from './ticks.ts';
import { roomyLabels, timeLabels, timeMarks, timeStep } from './time-marks.ts';

/** One drawn line. A line without a width is only an edge of the ribbon. */
export interface Line {
  width: number;
  dash?: number[];
}

/** Where the plotting area lies, and the times at its ends. */
export interface PlotArea extends TimeAxis {
  top: number;
  height: number;
  /** Rows of flags above it. */
  rows: number;
}

function areaOf(u: uPlot): PlotArea {
  const { min = 0, max = 0 } = u.scales['x'] ?? {};
  const { left, top, width, height } = u.bbox;
  const px = pxRatio();
  return {
    ...{ left: left / px, top: top / px, width: width / px, height: height / px },
    ...{ rows: rowsAbove(u.height), min, max },
  };
}

export interface PlotSpec {
  lines: Line[];
  /** Numbers of the two series between which the interval is shaded. */
  ribbon?: [number, number];
  bounds: (min: number | null, max: number | null, scale: Scale) => [number, number];
  /** Whether flags need room above the plot, and the spans are named. */
  flags: boolean;
  /** Whether times are written below it. */
  times: boolean;
  /** Whether the lines are named at their right ends. */
  names: boolean;
  /** It has been drawn with its plotting area here, CSS pixels, and its times so. */
  ondrawn?: (area: PlotArea) => void;
  scale: () => Scale;
  palette: () => Palette;
  content: () => OverlayContent;
  /** The pointer is at a time, ms since the epoch, or has left. */
  onpoint: (at: number | null) => void;
  /** The pointer is shown on all plots of the same key. */
  together: string;
  /** What the pointers that lie on it do to the time. */
  time: TimeHost;
}

const Y = 'y';

/** The time under the pointer, ms since the epoch; null where it is elsewhere. */
function pointedAt(u: uPlot): number | null {
  const { left = -1 } = u.cursor;
  return left < 0 || u.data[0].length === 0 ? null : u.posToVal(left, 'x');
}

/** Rooms in heights of the letters: the names of the lines at the right, the two axes … */
const NAMES_EM = 5.4;
const NO_NAMES_EM = 0.75;
const Y_AXIS_EM = 4;
const X_AXIS_EM = 2.6;
const LOW_X_AXIS_EM = 1.9;
/** … the unit's sign above a plot without flags; a mark on the axis of values, and one on that of times. */
const SIGN_EM = 2.3;
const Y_MARK_EM = 2.1;
const Y_CLOSE_EM = 1.3;
const X_MARK_EM = 3.5;

function yAxis(spec: PlotSpec, em: number): uPlot.Axis {
  const step = (u: uPlot, min: number, max: number): number => {
    const high = u.bbox.height / pxRatio() / em;
    const scale = spec.scale();
    const roomy = stepFor(min, max, high / Y_MARK_EM, scale);
    // One mark alone tells no scale: then they stand as close as they can be read.
    return marks(min, max, roomy, scale).length > 1
      ? roomy
      : stepFor(min, max, high / Y_CLOSE_EM, scale);
  };
  return {
    scale: Y,
    size: Y_AXIS_EM * em,
    stroke: () => spec.palette().quiet,
    font: `500 ${em}px ${spec.palette().face}`,
    grid: { stroke: () => spec.palette().line, width: 1 },
    ticks: { show: false },
    gap: 8,
    splits: (u, _axis, min, max) => marks(min, max, step(u, min, max), spec.scale()),
    values: (u, splits) => {
      const { min, max } = u.scales[Y] ?? {};
      const place = Math.min(1, step(u, min ?? 0, max ?? 1));
      return splits.map((value) => written(spec.scale().show(value), place));
    },
  };
}

function xAxis(spec: PlotSpec, em: number): uPlot.Axis {
  const stepIn = (u: uPlot): number => {
    const { min = 0, max = 0 } = u.scales['x'] ?? {};
    return timeStep(max - min, u.bbox.width / pxRatio() / (X_MARK_EM * em));
  };
  return {
    show: spec.times,
    stroke: () => spec.palette().quiet,
    font: `500 ${em}px ${spec.palette().face}`,
    grid: { show: false },
    ticks: { stroke: () => spec.palette().line, width: 1, size: 5 },
    size: (u) => (isLow(u.height) ? LOW_X_AXIS_EM : X_AXIS_EM) * em,
    splits: (u, _axis, min, max) => timeMarks(min, max, stepIn(u)),
    values: (u, splits) => {
      const px = pxRatio();
      const xs = splits.map((t) => u.valToPos(t, 'x', true) / px);
      // The mark of a simulation or a replay stands at the right of them.
      const end = u.width - markPx(u, spec.content(), spec.palette());
      return roomyLabels(timeLabels(splits, stepIn(u)), xs, end, em);
    },
  };
}

/**
 * Options for a plot. The colours, the units and the overlay are asked for at every drawing; the size
 * of the letters is the one that holds now.
 */
export function plotOptions(spec: PlotSpec, width: number, height: number): uPlot.Options {
  const em = spec.palette().textPx;
  const options: uPlot.Options = {
    width,
    height,
    ms: 1,
    padding: [
      spec.flags ? (u) => flagsPx(rowsAbove(u.height)) : SIGN_EM * em,
      (spec.names ? NAMES_EM : NO_NAMES_EM) * em,
      spec.times ? 0 : 8,
      0,
    ],
    legend: { show: false },
    scales: {
      x: { time: true, auto: false },
      [Y]: { range: (_u, min, max) => spec.bounds(min, max, spec.scale()) },
    },
    axes: [xAxis(spec, em), yAxis(spec, em)],
    series: [
      {},
      ...spec.lines.map((line): uPlot.Series => ({
        scale: Y,
        width: line.width,
        stroke: () => (line.width === 0 ? 'transparent' : spec.palette().ink),
        // On whole pixels the points would dance while the line is moved.
        pxAlign: 0,
        // The library takes dashes in canvas pixels.
        ...(line.dash === undefined
          ? {}
          : { dash: line.dash.map((part) => part * devicePixelRatio) }),
        points: { show: false },
      })),
    ],
    cursor: {
      y: false,
      points: { show: false },
      drag: { x: false, y: false },
      sync: { key: spec.together },
    },
    hooks: {
      drawClear: [(u) => drawWash(u, spec.content().spans, spec.palette())],
      draw: [
        (u) => {
          const content = spec.content();
          drawBars(u, content.spans, spec.flags, spec.palette());
          drawWords(u, content, spec.palette(), Y);
          drawMarks(u, content, spec.palette());
          spec.ondrawn?.(areaOf(u));
        },
      ],
      setCursor: [(u) => spec.onpoint(pointedAt(u))],
    },
  };
  if (spec.ribbon !== undefined) {
    options.bands = [{ series: spec.ribbon, fill: () => spec.palette().ribbon }];
  }
  return options;
}
