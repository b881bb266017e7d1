/**
 * What is drawn on a plot besides its lines and spans: the names at the ends of the lines, the
 * forecast ahead of now, and the mark of a simulation or a replay.
 */
import uPlot from 'uplot';
import {
  type Box,
  type EndLabel,
  firstFree,
  type NamedEnd,
  type PlacedLabel,
  placedLabels,
} from './end-labels.ts';
import { aheadOf, type Ahead, type Forecast } from './forecast.ts';
import type { MarkedSpan } from './marks.ts';
import type { Palette } from './palette.ts';

/** What the overlay shows now; read again at every drawing. */
export interface OverlayContent {
  spans: MarkedSpan[];
  labels: EndLabel[];
  /** Of which series there is a forecast, and where it is heading in words. */
  heading: { series: number; forecast: Forecast; text: string } | null;
  /** What the readings are, where they are not of real air and of now. */
  mark: string | null;
  /** The unit's sign, above the y axis. */
  sign: string;
}

/** Canvas pixels in a CSS pixel. */
export const pxRatio = (): number => uPlot.pxRatio;

export function font(u: uPlot, palette: Palette, weight: number): void {
  u.ctx.font = `${weight} ${palette.textPx * pxRatio()}px ${palette.face}`;
}

/** Where the line of a label ends in view; null where it has ended before. */
function endOf(u: uPlot, label: EndLabel): NamedEnd | null {
  const times = u.data[0];
  const values = u.data[label.series];
  const max = u.scales['x']?.max;
  if (values === undefined || max === undefined || times === undefined) return null;
  let i = times.length - 1;
  // A row that only breaks another line has nothing of this one.
  while (i >= 0 && ((times[i] ?? 0) > max || values[i] === undefined)) i--;
  const value = values[i];
  const scale = u.series[label.series]?.scale;
  const t = times[i];
  if (value === null || value === undefined || t === undefined || scale === undefined) return null;
  return { ...label, value, x: u.valToPos(t, 'x', true), y: u.valToPos(value, scale, true) };
}

/** The forecast as far as the plot reaches. */
function aheadIn(u: uPlot, { heading }: OverlayContent): Ahead[] {
  const max = u.scales['x']?.max;
  return heading === null || max === undefined ? [] : aheadOf(heading.forecast, max);
}

/** The names of the lines as they stand in the room beside and within the plot. */
function labelsIn(u: uPlot, content: OverlayContent, palette: Palette, y: string): PlacedLabel[] {
  const { bbox } = u;
  const ahead = aheadIn(u, content).at(-1);
  const ends = content.labels.flatMap((label): NamedEnd[] => {
    const end = endOf(u, label);
    if (end === null) return [];
    // A line with a forecast ends where that does.
    const isAhead = ahead !== undefined && label.series === content.heading?.series;
    if (!isAhead) return [end];
    return [{ ...end, x: bbox.left + bbox.width, y: u.valToPos(ahead.valueW, y, true) }];
  });
  return placedLabels(ends, lineOf(palette), bbox.top, bbox.top + bbox.height);
}

/** Height of a line of text; and how far a name stands from the end of its line, canvas pixels. */
const lineOf = (palette: Palette): number => 1.25 * palette.textPx * pxRatio();
const NAME_CLEAR = 7;

/** The name of each line at its end. @returns where they stand */
function drawLabels(u: uPlot, labels: readonly PlacedLabel[], palette: Palette): Box[] {
  const { ctx, bbox } = u;
  const height = lineOf(palette);
  const taken: Box[] = [];
  ctx.save();
  font(u, palette, 600);
  ctx.textAlign = 'left';
  ctx.textBaseline = 'middle';
  ctx.fillStyle = palette.ink;
  for (const label of labels) {
    const left = Math.min(label.x, bbox.left + bbox.width) + NAME_CLEAR * pxRatio();
    for (const [i, line] of label.lines.entries()) {
      const y = label.y + i * height;
      ctx.fillText(line, left, y);
      const { width } = ctx.measureText(line);
      taken.push({ left, right: left + width, top: y - height / 2, bottom: y + height / 2 });
    }
  }
  ctx.restore();
  return taken;
}

/** The forecast, the names of the lines, and the words of the forecast where there is room for them. */
export function drawWords(u: uPlot, content: OverlayContent, palette: Palette, y: string): void {
  const end = drawForecast(u, content, palette, y);
  const taken = drawLabels(u, labelsIn(u, content, palette, y), palette);
  if (end !== null && content.heading !== null)
    writeHeading(u, content.heading.text, end, taken, palette);
}

/** Space between the curve of the forecast and its words, CSS pixels. */
const WORDS_CLEAR = 7;

/** Where the forecast begins, and how high its band and its curve end, canvas pixels. */
interface ForecastEnd {
  now: number;
  above: number;
  curve: number;
}

/**
 * Where a series is heading: a dashed curve ahead of now, dotted where only the level is known, with
 * its interval as a lighter band. @returns where it ends; null: there is none
 */
function drawForecast(
  u: uPlot,
  content: OverlayContent,
  palette: Palette,
  y: string,
): ForecastEnd | null {
  const { ctx, bbox } = u;
  const px = pxRatio();
  const points = aheadIn(u, content);
  const end = points.at(-1);
  if (content.heading === null || end === undefined) return null;
  const x = (t: number): number => u.valToPos(t, 'x', true);
  const up = (w: number): number => u.valToPos(w, y, true);
  const { forecast } = content.heading;
  const now = x(forecast.from);
  ctx.save();
  ctx.beginPath();
  ctx.rect(bbox.left, bbox.top, bbox.width, bbox.height);
  ctx.clip();

  ctx.beginPath();
  for (const { t, highW } of points) ctx.lineTo(x(t), up(highW));
  for (const { t, lowW } of points.toReversed()) ctx.lineTo(x(t), up(lowW));
  ctx.closePath();
  ctx.fillStyle = palette.ribbon;
  ctx.globalAlpha = 0.6;
  ctx.fill();
  ctx.globalAlpha = 1;

  ctx.setLineDash([]);
  ctx.strokeStyle = palette.quiet;
  ctx.lineWidth = px;
  ctx.beginPath();
  ctx.moveTo(now, bbox.top);
  ctx.lineTo(now, bbox.top + bbox.height);
  ctx.globalAlpha = 0.5;
  ctx.stroke();
  ctx.globalAlpha = 1;

  ctx.strokeStyle = palette.ink;
  ctx.lineWidth = 2 * px;
  ctx.setLineDash(forecast.approachS === null ? [2 * px, 5 * px] : [7 * px, 6 * px]);
  ctx.beginPath();
  for (const { t, valueW } of points) ctx.lineTo(x(t), up(valueW));
  ctx.stroke();

  ctx.restore();
  return { now, above: up(end.highW), curve: up(end.valueW) };
}

/**
 * The words of a forecast, ending at the right: above its band, else beside the curve. They cover nothing
 * measured and no name: where there is no room for them, they are left to the sentence.
 */
function writeHeading(
  u: uPlot,
  text: string,
  { now, above, curve }: ForecastEnd,
  taken: readonly Box[],
  palette: Palette,
): void {
  const { ctx, bbox } = u;
  const px = pxRatio();
  ctx.save();
  font(u, palette, 600);
  const height = 1.4 * palette.textPx * px;
  const clear = WORDS_CLEAR * px;
  const padding = 4 * px;
  const right = bbox.left + bbox.width;
  const left = right - ctx.measureText(text).width - 2 * padding;
  const places = [above - clear, curve - clear, curve + clear + height].map((bottom) => ({
    ...{ left, right, bottom, top: bottom - height },
  }));
  const room = { left: now, right, top: bbox.top, bottom: bbox.top + bbox.height };
  const place = firstFree(places, room, taken);
  if (place !== null) {
    ctx.fillStyle = palette.surface;
    ctx.globalAlpha = 0.8;
    ctx.fillRect(left, place.top, right - left, height);
    ctx.globalAlpha = 1;
    ctx.fillStyle = palette.quiet;
    ctx.textAlign = 'right';
    ctx.textBaseline = 'bottom';
    ctx.fillText(text, right - padding, place.bottom);
  }
  ctx.restore();
}

const MARK_WEIGHT = 650;
/** Space before it, CSS pixels. */
const MARK_CLEAR = 6;

/** How much room the mark takes at the right end of the times, CSS pixels; 0 where there is none. */
export function markPx(u: uPlot, { mark }: OverlayContent, palette: Palette): number {
  if (mark === null) return 0;
  u.ctx.save();
  font(u, palette, MARK_WEIGHT);
  const { width } = u.ctx.measureText(mark);
  u.ctx.restore();
  return width / pxRatio() + MARK_CLEAR;
}

/** The unit's sign above the y axis, and the mark of a simulation or a replay. */
export function drawMarks(u: uPlot, content: OverlayContent, palette: Palette): void {
  const { ctx, bbox } = u;
  const px = pxRatio();
  ctx.save();
  ctx.fillStyle = palette.quiet;
  font(u, palette, 600);
  ctx.textBaseline = 'bottom';
  ctx.textAlign = 'right';
  ctx.fillText(content.sign, bbox.left - 8 * px, bbox.top - 11 * px);
  if (content.mark !== null) {
    // Right of the times, which give way, and below the names of the lines.
    font(u, palette, MARK_WEIGHT);
    ctx.textBaseline = 'top';
    ctx.fillText(content.mark, ctx.canvas.width, bbox.top + bbox.height + 10 * px);
  }
  ctx.restore();
}
