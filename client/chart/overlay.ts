/**
 * What is drawn on a plot besides its lines: steady spans beneath them; events as flags, the names
 * at the ends of the lines, the forecast and the mark of a simulation above them.
 */
import type uPlot from 'uplot';
import type { Flag, Span } from './marks.ts';
import type { Palette } from './palette.ts';

/** A line to be named at its right end. */
export interface EndLabel {
  /** Index among the plot's series. */
  series: number;
  text: string;
}

/** What the overlay shows now; read again at every drawing. */
export interface OverlayContent {
  spans: Span[];
  flags: Flag[];
  labels: EndLabel[];
  /** Where the value is heading, on the y scale, and in words. */
  heading: { series: number; value: number; text: string } | null;
  simulated: boolean;
  /** The unit's sign, above the y axis. */
  sign: string;
}

/** Rows of flags above the plotting area, and the height of one in heights of its letters. */
const FLAG_ROWS = 3;
const FLAG_ROW_EM = 1.6;
const flagRow = (textPx: number): number => Math.round(FLAG_ROW_EM * textPx);
/** Room for the flags, CSS pixels. */
export const flagsHeight = (textPx: number): number => FLAG_ROWS * flagRow(textPx) + 2;

const ratioOf = (u: uPlot): number => u.ctx.canvas.width / u.width;

function font(u: uPlot, palette: Palette, weight: number): void {
  u.ctx.font = `${weight} ${palette.textPx * ratioOf(u)}px ${palette.face}`;
}

/** The left and right ends of the spans in view, canvas pixels. */
function inView(u: uPlot, spans: Span[]): [left: number, right: number][] {
  const { bbox } = u;
  return spans
    .map((span): [number, number] => [
      Math.max(u.valToPos(span.from, 'x', true), bbox.left),
      Math.min(u.valToPos(span.to, 'x', true), bbox.left + bbox.width),
    ])
    .filter(([left, right]) => right > left);
}

/** Steady spans, beneath the lines: a wash over their height. */
export function drawWash(u: uPlot, spans: Span[], palette: Palette): void {
  const { ctx, bbox } = u;
  ctx.save();
  ctx.fillStyle = palette.steadyWash;
  for (const [left, right] of inView(u, spans)) {
    ctx.fillRect(left, bbox.top, right - left, bbox.height);
  }
  ctx.restore();
}

/** Steady spans, above the lines: a bar at the foot, named where there is room. */
export function drawBars(u: uPlot, spans: Span[], named: boolean, palette: Palette): void {
  const { ctx, bbox } = u;
  const px = ratioOf(u);
  ctx.save();
  for (const [left, right] of inView(u, spans)) {
    ctx.fillStyle = palette.steady;
    ctx.fillRect(left, bbox.top + bbox.height - 5 * px, right - left, 5 * px);
    if (!named) continue;
    font(u, palette, 650);
    ctx.textAlign = 'left';
    ctx.textBaseline = 'bottom';
    if (ctx.measureText('steady').width + 16 * px < right - left) {
      ctx.fillText('steady', left + 8 * px, bbox.top + bbox.height - 9 * px);
    }
  }
  ctx.restore();
}

/** Events: a thin line down the plot, and a flag in the first row that has room. */
export function drawFlags(u: uPlot, flags: Flag[], palette: Palette): void {
  const { ctx, bbox } = u;
  const px = ratioOf(u);
  const rowHeight = flagRow(palette.textPx);
  const rowEnds = Array.from({ length: FLAG_ROWS }, () => -Infinity);
  ctx.save();
  font(u, palette, 600);
  ctx.textAlign = 'left';
  ctx.textBaseline = 'middle';
  ctx.lineWidth = px;
  for (const flag of flags) {
    const x = Math.round(u.valToPos(flag.t, 'x', true));
    if (x < bbox.left || x > bbox.left + bbox.width) continue;
    const width = ctx.measureText(flag.text).width + 12 * px;
    // A flag at the right end flies to the left.
    const left = x + width > bbox.left + bbox.width ? x - width : x;
    const row = rowEnds.findIndex((end) => left >= end + 4 * px);
    ctx.strokeStyle = palette.quiet;
    ctx.beginPath();
    const rowTop = bbox.top - (row < 0 ? 0 : (row + 1) * rowHeight * px);
    ctx.moveTo(x + 0.5, rowTop);
    ctx.lineTo(x + 0.5, bbox.top + bbox.height);
    ctx.stroke();
    if (row < 0) continue;
    rowEnds[row] = left + width;
    ctx.fillStyle = palette.quiet;
    ctx.fillRect(left, rowTop, width, (rowHeight - 3) * px);
    ctx.fillStyle = palette.surface;
    ctx.fillText(flag.text, left + 6 * px, rowTop + ((rowHeight - 2) / 2) * px);
  }
  ctx.restore();
}

/** The last drawn value of a series in view, as a canvas position; null where its line has ended. */
function endOf(u: uPlot, series: number): { x: number; y: number } | null {
  const times = u.data[0];
  const values = u.data[series];
  const max = u.scales['x']?.max;
  if (values === undefined || max === undefined || times === undefined) return null;
  let i = times.length - 1;
  while (i >= 0 && (times[i] ?? 0) > max) i--;
  const value = values[i];
  const scale = u.series[series]?.scale;
  const t = times[i];
  if (value === null || value === undefined || t === undefined || scale === undefined) return null;
  return { x: u.valToPos(t, 'x', true), y: u.valToPos(value, scale, true) };
}

/** The name of each line at its end, pushed apart where they would touch. */
export function drawLabels(u: uPlot, content: OverlayContent, palette: Palette): void {
  const { ctx, bbox } = u;
  const px = ratioOf(u);
  const ends = content.labels
    .map((label) => ({ text: label.text, at: endOf(u, label.series) }))
    .filter((end): end is { text: string; at: { x: number; y: number } } => end.at !== null)
    .sort((a, b) => a.at.y - b.at.y);
  ctx.save();
  font(u, palette, 600);
  ctx.textAlign = 'left';
  ctx.textBaseline = 'middle';
  ctx.fillStyle = palette.ink;
  let floor = -Infinity;
  for (const end of ends) {
    const y = Math.max(end.at.y, floor + 1.25 * palette.textPx * px);
    floor = y;
    ctx.fillText(end.text, Math.min(end.at.x, bbox.left + bbox.width) + 7 * px, y);
  }
  ctx.restore();
}

/** Nearer to the line than this, CSS pixels, the forecast says nothing that is not seen. */
const HEADING_CLEAR = 20;

/** Where a series is heading: a dotted level at the right of the plot, clear of its line. */
export function drawHeading(u: uPlot, content: OverlayContent, palette: Palette, y: string): void {
  if (content.heading === null) return;
  const { ctx, bbox } = u;
  const px = ratioOf(u);
  const level = u.valToPos(content.heading.value, y, true);
  const end = endOf(u, content.heading.series);
  if (level < bbox.top || level > bbox.top + bbox.height) return;
  if (end === null || Math.abs(level - end.y) < HEADING_CLEAR * px) return;
  ctx.save();
  ctx.strokeStyle = palette.quiet;
  ctx.lineWidth = 1.5 * px;
  ctx.setLineDash([2 * px, 5 * px]);
  ctx.beginPath();
  ctx.moveTo(bbox.left + bbox.width * 0.82, level);
  ctx.lineTo(bbox.left + bbox.width, level);
  ctx.stroke();
  font(u, palette, 450);
  ctx.fillStyle = palette.quiet;
  ctx.textAlign = 'right';
  ctx.textBaseline = 'bottom';
  ctx.fillText(content.heading.text, bbox.left + bbox.width - 4 * px, level - 4 * px);
  ctx.restore();
}

/** The unit's sign above the y axis, and the mark of a simulation. */
export function drawMarks(u: uPlot, content: OverlayContent, palette: Palette): void {
  const { ctx, bbox } = u;
  const px = ratioOf(u);
  ctx.save();
  ctx.fillStyle = palette.quiet;
  font(u, palette, 600);
  ctx.textBaseline = 'bottom';
  ctx.textAlign = 'right';
  ctx.fillText(content.sign, bbox.left - 8 * px, bbox.top - 11 * px);
  if (content.simulated) {
    // Right of the flags, above the names of the lines: nothing else is drawn there.
    font(u, palette, 650);
    ctx.textAlign = 'left';
    ctx.fillText('simulated', bbox.left + bbox.width + 7 * px, bbox.top - 4 * px);
  }
  ctx.restore();
}
