/**
 * What is drawn on a plot besides its lines and spans: the names at the ends of the lines, the
 * forecast ahead of now, and the mark of a simulation or a replay.
 */
import type uPlot from 'uplot';
import { placedLabels, type EndLabel, type NamedEnd } from './end-labels.ts';
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
export const ratioOf = (u: uPlot): number => u.ctx.canvas.width / u.width;

export function font(u: uPlot, palette: Palette, weight: number): void {
  u.ctx.font = `${weight} ${palette.textPx * ratioOf(u)}px ${palette.face}`;
}

/** Where the line of a label ends in view; null where it has ended before. */
function endOf(u: uPlot, label: EndLabel): NamedEnd | null {
  const times = u.data[0];
  const values = u.data[label.series];
  const max = u.scales['x']?.max;
  if (values === undefined || max === undefined || times === undefined) return null;
  let i = times.length - 1;
  while (i >= 0 && (times[i] ?? 0) > max) i--;
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

/** The name of each line at its end, pushed apart where they would touch. */
export function drawLabels(u: uPlot, content: OverlayContent, palette: Palette, y: string): void {
  const { ctx, bbox } = u;
  const px = ratioOf(u);
  const ahead = aheadIn(u, content).at(-1);
  const ends = content.labels.flatMap((label): NamedEnd[] => {
    const end = endOf(u, label);
    if (end === null) return [];
    // A line with a forecast ends where that does.
    const isAhead = ahead !== undefined && label.series === content.heading?.series;
    if (!isAhead) return [end];
    return [{ ...end, x: bbox.left + bbox.width, y: u.valToPos(ahead.valueW, y, true) }];
  });
  const height = 1.25 * palette.textPx * px;
  ctx.save();
  font(u, palette, 600);
  ctx.textAlign = 'left';
  ctx.textBaseline = 'middle';
  ctx.fillStyle = palette.ink;
  for (const label of placedLabels(ends, height)) {
    const x = Math.min(label.x, bbox.left + bbox.width) + 7 * px;
    for (const [i, line] of label.lines.entries()) ctx.fillText(line, x, label.y + i * height);
  }
  ctx.restore();
}

/** Space between the curve of the forecast and its words, CSS pixels. */
const WORDS_CLEAR = 7;

/**
 * Where a series is heading: a dashed curve ahead of now, dotted where only the level is known, with
 * its interval as a lighter band, and in words.
 */
export function drawForecast(u: uPlot, content: OverlayContent, palette: Palette, y: string): void {
  const { ctx, bbox } = u;
  const px = ratioOf(u);
  const points = aheadIn(u, content);
  const end = points.at(-1);
  if (content.heading === null || end === undefined) return;
  const x = (t: number): number => u.valToPos(t, 'x', true);
  const up = (w: number): number => u.valToPos(w, y, true);
  const { forecast, text } = content.heading;
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

  writeHeading(u, text, { now, above: up(end.highW), curve: up(end.valueW) }, palette);
  ctx.restore();
}

/**
 * The words of a forecast, ending at the right: above its band, else within it, beside the curve. They
 * cover nothing measured: where the part ahead of now is too narrow, they are left to the sentence.
 */
function writeHeading(
  u: uPlot,
  text: string,
  at: { now: number; above: number; curve: number },
  palette: Palette,
): void {
  const { ctx, bbox } = u;
  const px = ratioOf(u);
  font(u, palette, 600);
  const right = bbox.left + bbox.width - 4 * px;
  const height = 1.4 * palette.textPx * px;
  const clear = WORDS_CLEAR * px;
  const fits = (bottom: number): boolean => bottom - height > bbox.top;
  const width = ctx.measureText(text).width;
  if (right - width - 4 * px < at.now) return;
  const bottom = [at.above - clear, at.curve - clear].find(fits) ?? at.curve + height + clear;
  ctx.fillStyle = palette.surface;
  ctx.globalAlpha = 0.8;
  ctx.fillRect(right - width - 4 * px, bottom - height, width + 8 * px, height);
  ctx.globalAlpha = 1;
  ctx.fillStyle = palette.quiet;
  ctx.textAlign = 'right';
  ctx.textBaseline = 'bottom';
  ctx.fillText(text, right, bottom);
}

/** The unit's sign above the y axis, and the mark of a simulation or a replay. */
export function drawMarks(u: uPlot, content: OverlayContent, palette: Palette): void {
  const { ctx, bbox } = u;
  const px = ratioOf(u);
  ctx.save();
  ctx.fillStyle = palette.quiet;
  font(u, palette, 600);
  ctx.textBaseline = 'bottom';
  ctx.textAlign = 'right';
  ctx.fillText(content.sign, bbox.left - 8 * px, bbox.top - 11 * px);
  if (content.mark !== null) {
    // Right of the flags, above the names of the lines: nothing else is drawn there.
    font(u, palette, 650);
    ctx.textAlign = 'left';
    const right = bbox.left + bbox.width + 7 * px;
    // One word above the other: there is no room beside it.
    content.mark
      .split(', ')
      .toReversed()
      .forEach((word, i) => {
        ctx.fillText(word, right, bbox.top - (4 + 1.15 * i * palette.textPx) * px);
      });
  }
  ctx.restore();
}
