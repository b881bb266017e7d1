/** The figure over time: its line, its 95 % interval, captures and what was done meanwhile. */
import { clockMinutes } from '../../words/times.ts';
import { written } from '../../words/figures.ts';
import type { Block, Course } from '../content.ts';
import { stepFor, timeStepFor } from './axis.ts';
import type { Flow } from './flow.ts';
import { INK, LINE, LINE_STRONG, QUIET, STEADY, type Style } from './pen.ts';

export const COURSE_HEIGHT = 146;
const EDGE = { left: 44, right: 6, top: 26, bottom: 30 };
const LABEL: Style = { size: 7.75, color: QUIET };
const NUMBER: Style = { size: 8.25, weight: 'strong', color: STEADY };
/** From one number to the next. */
const BESIDE = 11;
/** A part of the highest figure. */
const NOTHING = 0.1;
/** Rows further apart than this many times the usual leave a gap in the line. */
const GAPS = 6;

export function drawCourse(flow: Flow, { alt, course }: Extract<Block, { kind: 'course' }>): void {
  flow.tagged('Figure', () => draw(flow, course), { alt });
  flow.y += COURSE_HEIGHT;
}

function draw({ doc, pen, x, y, width }: Flow, course: Course): void {
  const { t, value, half, spans, marks } = course;
  const from = t[0] ?? 0;
  const to = Math.max(t.at(-1) ?? 0, from + 60_000);
  const known = value.flatMap((v, i) =>
    v === null ? [] : [v, v + (half[i] ?? 0), v - (half[i] ?? 0)],
  );
  const most = Math.max(0, ...known);
  // That a figure hovers about nothing is no reason for an axis below it.
  const least = Math.min(0, ...value.flatMap((v) => v ?? []));
  const lowest = least < -NOTHING * most ? Math.min(...known) : 0;
  const step = stepFor(lowest, most, 4);
  const low = Math.floor(lowest / step) * step;
  const high = Math.ceil(Math.max(step, most) / step) * step;
  const left = x + EDGE.left;
  const right = x + width - EDGE.right;
  const top = y + EDGE.top;
  const bottom = y + COURSE_HEIGHT - EDGE.bottom;
  const atT = (ms: number): number => left + ((ms - from) / (to - from)) * (right - left);
  const atV = (v: number): number => bottom - ((v - low) / (high - low)) * (bottom - top);

  for (let k = 0; low + k * step <= high + step / 2; k++) {
    const v = low + k * step;
    doc.moveTo(left, atV(v)).lineTo(right, atV(v)).lineWidth(0.5).strokeColor(LINE).stroke();
    pen.text(written(v, step), left - 5, atV(v) - 5, LABEL, 'right');
  }
  pen.text(course.axis, left - 5, y + 2, LABEL, 'right');
  const every = timeStepFor(to - from, Math.floor((right - left) / 60));
  for (let ms = Math.ceil(from / every) * every; ms <= to; ms += every) {
    doc.moveTo(atT(ms), bottom).lineTo(atT(ms), bottom + 3);
    doc.lineWidth(0.75).strokeColor(LINE_STRONG).stroke();
    pen.text(clockMinutes(ms), atT(ms), bottom + 4, LABEL, 'middle');
  }

  const named: number[] = [];
  for (const { from: since, to: until, name, isResult } of spans) {
    const [a, b] = [atT(since), Math.max(atT(until), atT(since) + 1)];
    doc.save().fillOpacity(isResult ? 0.16 : 0.07);
    doc
      .rect(a, top, b - a, bottom - top)
      .fillColor(STEADY)
      .fill();
    doc.restore();
    doc.moveTo(a, bottom + 17).lineTo(b, bottom + 17);
    doc
      .lineWidth(isResult ? 3 : 1.5)
      .strokeColor(STEADY)
      .stroke();
    let at = (a + b) / 2;
    while (named.some((other) => Math.abs(other - at) < BESIDE)) at += BESIDE;
    named.push(at);
    pen.text(name, at, bottom + 18, NUMBER, 'middle');
  }

  let free = -Infinity;
  for (const { t: ms, text } of marks) {
    const at = atT(ms);
    doc
      .moveTo(at, top - 3)
      .lineTo(at, bottom)
      .dash(1.5, { space: 2 });
    doc.lineWidth(0.75).strokeColor(QUIET).stroke().undash();
    const line = pen.lines(text, LABEL, 90)[0] ?? '';
    const wide = pen.width(line, LABEL);
    const begin = Math.min(at, right - wide);
    // Where one would lie on another, its line alone tells of it.
    if (begin < free) continue;
    pen.text(line, begin, y + 11, LABEL);
    free = begin + wide + 6;
  }

  const gapMs = GAPS * ((to - from) / Math.max(1, t.length));
  for (const stretch of stretches(course, gapMs)) {
    const first = stretch[0];
    if (first === undefined) continue;
    const ribbon = stretch.filter(({ half }) => half !== null);
    if (ribbon.length > 1) {
      ribbon.forEach(({ ms, v, half: h }, i) => {
        if (i === 0) doc.moveTo(atT(ms), atV(v + (h ?? 0)));
        else doc.lineTo(atT(ms), atV(v + (h ?? 0)));
      });
      for (const { ms, v, half: h } of [...ribbon].reverse())
        doc.lineTo(atT(ms), atV(Math.max(low, v - (h ?? 0))));
      doc.save().fillOpacity(0.14).fillColor(INK).fill();
      doc.restore();
    }
    doc.moveTo(atT(first.ms), atV(first.v));
    for (const { ms, v } of stretch) doc.lineTo(atT(ms), atV(v));
    doc.lineWidth(1.1).lineJoin('round').strokeColor(INK).stroke();
  }
}

interface Point {
  ms: number;
  v: number;
  half: number | null;
}

/** The rows with a figure, in stretches without a hole. */
function stretches({ t, value, half }: Course, gapMs: number): Point[][] {
  const all: Point[][] = [];
  let lastT = -Infinity;
  t.forEach((ms, i) => {
    const v = value[i] ?? null;
    if (v === null) {
      lastT = -Infinity;
      return;
    }
    if (ms - lastT > gapMs || all.length === 0) all.push([]);
    all.at(-1)?.push({ ms, v, half: half[i] ?? null });
    lastT = ms;
  });
  return all;
}
