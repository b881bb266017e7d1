/**
 * The marked spans on a plot: steady as a wash in the accent, whole cycles hatched, a defrost with
 * the minutes after it ruled. Each is told by its pattern and its word, not by its colour alone.
 */
import type uPlot from 'uplot';
import type { MarkedSpan } from './marks.ts';
import { font, pxRatio } from './overlay.ts';
import type { Palette } from './palette.ts';
import { SPANS } from '../words/chart.ts';

type Kind = MarkedSpan['kind'];
/** A span in view: its left and right end, canvas pixels. */
interface Drawn {
  kind: Kind;
  left: number;
  right: number;
}

/** A defrost that goes on is named elsewhere. */
const NAMES: Record<Kind, string[]> = { ...SPANS, defrost: [] };

/** Distance of the lines of a pattern, and how strong they are. */
const HATCH = { step: 10, alpha: 0.4 };
const RULES = { step: 9, alpha: 0.38 };
/** Height of the bar at the foot, and what is left free before a span, CSS pixels. */
const BAR = 5;
const SEAM = 2;

function inView(u: uPlot, spans: MarkedSpan[]): Drawn[] {
  const { bbox } = u;
  return spans
    .map(({ kind, from, to }) => ({
      kind,
      // A seam tells where one span begins when another has just ended.
      left: Math.max(u.valToPos(from, 'x', true) + SEAM * pxRatio(), bbox.left),
      right: Math.min(u.valToPos(to, 'x', true), bbox.left + bbox.width),
    }))
    .filter(({ left, right }) => right > left);
}

/** Slanted lines that stand still in their span while it is drawn anew. */
function hatch(ctx: CanvasRenderingContext2D, box: DOMRect, step: number): void {
  for (let x = box.left - box.height; x < box.right; x += step) {
    ctx.moveTo(x, box.bottom);
    ctx.lineTo(x + box.height, box.top);
  }
}

function rules(ctx: CanvasRenderingContext2D, box: DOMRect, step: number, offset: number): void {
  for (let y = box.top + offset; y < box.bottom; y += step) {
    ctx.moveTo(box.left, y);
    ctx.lineTo(box.right, y);
  }
}

/** Beneath the lines: over the height of the plot. */
export function drawWash(u: uPlot, spans: MarkedSpan[], palette: Palette): void {
  const { ctx, bbox } = u;
  const px = pxRatio();
  for (const { kind, left, right } of inView(u, spans)) {
    const box = new DOMRect(left, bbox.top, right - left, bbox.height);
    ctx.save();
    ctx.setLineDash([]); // those of the last line or axis
    ctx.beginPath();
    if (kind === 'steady') {
      ctx.fillStyle = palette.steadyWash;
      ctx.fillRect(box.x, box.y, box.width, box.height);
    } else {
      ctx.rect(box.x, box.y, box.width, box.height);
      ctx.clip();
      ctx.beginPath();
      ctx.lineWidth = px;
      ctx.strokeStyle = palette.quiet;
      ctx.globalAlpha = kind === 'cycling' ? HATCH.alpha : RULES.alpha;
      if (kind === 'cycling') hatch(ctx, box, HATCH.step * px);
      // A defrost lies within what is not counted: its lines stand between those.
      else rules(ctx, box, RULES.step * px, kind === 'defrost' ? (RULES.step * px) / 2 : 0);
      ctx.stroke();
    }
    ctx.restore();
  }
}

/**
 * Writes the name of a span above its bar, upright where it is too narrow for it. That of a defrost
 * stands at the top: what is delivered then lies at the foot.
 */
function nameSpan(u: uPlot, { kind, left, right }: Drawn, palette: Palette): void {
  const { ctx, bbox } = u;
  const px = pxRatio();
  const padding = 4 * px;
  const height = 1.3 * palette.textPx * px;
  const names = NAMES[kind];
  const fitting = names.find((name) => ctx.measureText(name).width + 4 * padding < right - left);
  const name = fitting ?? names.at(-1);
  if (name === undefined || (fitting === undefined && height + padding > right - left)) return;
  const width = ctx.measureText(name).width + 2 * padding;
  const foot =
    kind === 'uncounted'
      ? bbox.top + padding + (fitting === undefined ? width : height)
      : bbox.top + bbox.height - (BAR + 4) * px;
  ctx.save();
  ctx.translate(left + padding, foot);
  if (fitting === undefined) {
    ctx.translate(height, 0);
    ctx.rotate(-Math.PI / 2);
  }
  if (kind !== 'steady') {
    ctx.fillStyle = palette.surface;
    ctx.fillRect(0, -height, width, height);
  }
  ctx.fillStyle = kind === 'steady' ? palette.steady : palette.quiet;
  ctx.fillText(name, padding, 0);
  ctx.restore();
}

/** Above the lines: a bar at the foot, named where there is room. */
export function drawBars(u: uPlot, spans: MarkedSpan[], named: boolean, palette: Palette): void {
  const { ctx, bbox } = u;
  const px = pxRatio();
  ctx.save();
  ctx.setLineDash([]);
  font(u, palette, 650);
  ctx.textAlign = 'left';
  ctx.textBaseline = 'bottom';
  for (const drawn of inView(u, spans)) {
    const { kind, left, right } = drawn;
    const top = bbox.top + bbox.height - BAR * px;
    ctx.fillStyle = kind === 'steady' ? palette.steady : palette.quiet;
    if (kind === 'steady' || kind === 'defrost') {
      ctx.fillRect(left, top, right - left, BAR * px);
    } else {
      ctx.strokeStyle = palette.quiet;
      ctx.lineWidth = px;
      ctx.strokeRect(left, top, right - left, BAR * px);
    }
    if (named) nameSpan(u, drawn, palette);
  }
  ctx.restore();
}
