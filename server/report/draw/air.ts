/** The psychrometric picture on paper: the same geometry as on the page. */
import type { ChartPoint } from '../../measure/psychrometric-chart.ts';
import type { AirPicture, Block } from '../content.ts';
import type { Flow } from './flow.ts';
import { INK, LINE, LINE_STRONG, PAPER, QUIET, type Style } from './pen.ts';
import { t } from '../../words/language.ts';

const EDGE = { left: 4, right: 26, top: 6, bottom: 27 };
const LABEL: Style = { size: 7, color: QUIET };
const NAME: Style = { size: 8.75, weight: 'strong' };

export const airHeight = (width: number): number => Math.round(width * 0.64);

export function drawAir(flow: Flow, { alt, picture }: Extract<Block, { kind: 'air' }>): void {
  flow.tagged('Figure', () => draw(flow, picture), { alt });
  flow.y += airHeight(flow.width);
}

function draw({ doc, pen, x, y, width }: Flow, picture: AirPicture): void {
  const { frame, lines, dryBulbsC, humidityRatios } = picture.chart;
  const left = x + EDGE.left;
  const right = x + width - EDGE.right;
  const top = y + EDGE.top;
  const bottom = y + airHeight(width) - EDGE.bottom;
  const atT = (tC: number): number =>
    left + ((tC - frame.lowC) / (frame.highC - frame.lowC)) * (right - left);
  const atW = (W: number): number => bottom - (W / frame.topW) * (bottom - top);
  const path = (points: readonly ChartPoint[]): void => {
    points.forEach((p, i) => {
      if (i === 0) doc.moveTo(atT(p.temperatureC), atW(p.humidityRatio));
      else doc.lineTo(atT(p.temperatureC), atW(p.humidityRatio));
    });
  };
  /** On paper-white, so that no line runs through it. */
  const label = (text: string, at: number, line: number, style: Style): void => {
    const wide = pen.width(text, style);
    doc
      .rect(at - wide / 2 - 1, line + 1, wide + 2, style.size + 1)
      .fillColor(PAPER)
      .fill();
    pen.text(text, at, line, style, 'middle');
  };

  dryBulbsC.forEach((tC, i) => {
    doc.moveTo(atT(tC), top).lineTo(atT(tC), bottom).lineWidth(0.5).strokeColor(LINE).stroke();
    pen.text(picture.dryBulbs[i] ?? '', atT(tC), bottom + 2, LABEL, 'middle');
  });
  humidityRatios.forEach((W, i) => {
    doc.moveTo(left, atW(W)).lineTo(right, atW(W)).lineWidth(0.5).strokeColor(LINE).stroke();
    pen.text(picture.moistures[i] ?? '', right + 4, atW(W) - 5, LABEL);
  });
  pen.text(picture.axes.dryBulb, left, bottom + 13, LABEL);
  pen.text(picture.axes.moisture, x + width, bottom + 13, LABEL, 'right');

  lines.forEach(({ kind, points }, i) => {
    path(points);
    if (kind === 'saturation') doc.lineWidth(1.3).strokeColor(INK).stroke();
    else if (kind === 'humidity') doc.lineWidth(0.6).strokeColor(LINE_STRONG).stroke();
    else {
      doc.dash(0.8, { space: 2.2 }).lineWidth(0.6).strokeColor(LINE_STRONG).stroke().undash();
    }
    const end = kind === 'wet-bulb' ? points[0] : points.at(-1);
    const text = picture.lineNames[i] ?? '';
    if (end === undefined || text === '') return;
    const [ex, ey] = [atT(end.temperatureC), atW(end.humidityRatio)];
    if (kind === 'humidity') {
      label(text, ex - 11, ey + 3, LABEL);
    } else if (ex > left + 14 && ey > top + 10) {
      pen.text(text, ex - 3, ey - 10, LABEL, 'right');
    }
  });

  path(picture.fromTrail);
  doc.dash(2.5, { space: 2 }).lineWidth(0.7).strokeColor(QUIET).stroke().undash();
  path(picture.toTrail);
  doc.lineWidth(0.7).strokeColor(QUIET).stroke();
  for (const { place, points } of picture.outlines) {
    path(points);
    doc.closePath();
    doc.save().fillOpacity(0.14).fillColor(INK).fill().restore();
    path(points);
    doc.closePath();
    if (place === 'return') doc.dash(3, { space: 2 });
    doc.lineWidth(0.8).strokeColor(INK).stroke().undash();
  }
  const { from, to } = picture;
  path([from, to]);
  doc.lineWidth(1.5).strokeColor(INK).stroke();
  const [fx, fy] = [atT(from.temperatureC), atW(from.humidityRatio)];
  const [sx, sy] = [atT(to.temperatureC), atW(to.humidityRatio)];
  doc.circle(fx, fy, 3.6).lineWidth(1.6).fillColor(PAPER).strokeColor(INK).fillAndStroke();
  doc
    .rect(sx - 3.4, sy - 3.4, 6.8, 6.8)
    .fillColor(INK)
    .fill();
  label(t`Return`, fx, fy - 19, NAME);
  label(t`Supply`, sx, sy + 8, NAME);
}
