/** The blocks of a report, one after the other: how high each is, and how it is drawn. */
import type { Block } from '../content.ts';
import { airHeight, drawAir } from './air.ts';
import { COURSE_HEIGHT, drawCourse } from './course.ts';
import type { Flow } from './flow.ts';
import { drawMap, mapHeight } from './map.ts';
import { INK, LINE, LINE_STRONG, QUIET, type Style } from './pen.ts';
import { drawTable, tableHeight } from './table.ts';

const TITLE: Style = { size: 20, weight: 'strong' };
const HEADINGS: Record<2 | 3, Style> = {
  2: { size: 14.5, weight: 'strong' },
  3: { size: 10.5, weight: 'strong' },
};
const ABOVE = { 2: 9, 3: 7 } as const;
const TEXTS: Record<'plain' | 'quiet' | 'strong', Style> = {
  plain: { size: 9.25 },
  quiet: { size: 8.25, color: QUIET },
  strong: { size: 10.5, weight: 'strong' },
};
const FIGURE: Style = { size: 27, weight: 'strong' };
const PART: Style = { size: 9.25, weight: 'strong' };
const NAME: Style = { size: 8.25, color: QUIET };
const ITEM: Style = { size: 8.5 };
const INDENT = 10;
const BAR = { height: 13.5, name: 205, bar: 150 };
const SIGN_HEIGHT = 40;
const GAP = 3;
/** Between two columns. */
const GUTTER = 20;
/** The part of the left one. */
const LEFT = 0.58;

/** How much height a block takes at the flow's width. */
export function heightOf(flow: Flow, block: Block, width = flow.width): number {
  const { pen } = flow;
  const lines = (text: string, style: Style, room = width): number =>
    pen.lines(text, style, room).length * pen.lineHeight(style);
  switch (block.kind) {
    case 'title':
      return lines(block.text, TITLE) + block.under.length * pen.lineHeight(TEXTS.plain) + 8;
    case 'heading':
      return ABOVE[block.level] + lines(block.text, HEADINGS[block.level]) + 2;
    case 'text':
      return lines(block.text, TEXTS[block.tone]) + GAP;
    case 'figure':
      return pen.lineHeight(NAME) + pen.lineHeight(FIGURE) + GAP;
    case 'facts':
      return factRows(flow, block.facts, width).height + GAP;
    case 'list':
      return block.items.reduce((sum, item) => sum + lines(item, ITEM, width - INDENT) + 1.5, GAP);
    case 'table':
      return tableHeight(flow, block, width);
    case 'bars':
      return block.bars.length * BAR.height + GAP;
    case 'course':
      return COURSE_HEIGHT;
    case 'air':
      return airHeight(width);
    case 'map':
      return mapHeight(block.map, width);
    case 'beside': {
      const all = (blocks: Block[], room: number): number =>
        blocks.reduce((sum, each) => sum + heightOf(flow, each, room), 0);
      const left = (width - GUTTER) * LEFT;
      return Math.max(all(block.left, left), all(block.right, width - GUTTER - left));
    }
    case 'signatures':
      return SIGN_HEIGHT;
  }
}

/** Draws a block where the flow stands, and moves it on. A table or list that is longer goes on overleaf. */
export function drawBlock(flow: Flow, block: Block): void {
  switch (block.kind) {
    case 'title':
      drawText(flow, 'H1', block.text, TITLE);
      for (const text of block.under) drawText(flow, 'P', text, TEXTS.plain);
      flow.y += 4;
      flow.artifact(() => rule(flow, 1.5));
      flow.y += 4;
      return;
    case 'heading':
      flow.y += ABOVE[block.level];
      drawText(flow, `H${block.level}`, block.text, HEADINGS[block.level]);
      flow.y += 2;
      return;
    case 'text':
      drawText(flow, 'P', block.text, TEXTS[block.tone]);
      flow.y += GAP;
      return;
    case 'figure':
      return drawFigure(flow, block);
    case 'facts':
      return drawFacts(flow, block.facts);
    case 'list':
      return drawList(flow, block.items);
    case 'table':
      return drawTable(flow, block);
    case 'bars':
      return drawBars(flow, block.bars);
    case 'course':
      return drawCourse(flow, block);
    case 'air':
      return drawAir(flow, block);
    case 'map':
      return drawMap(flow, block);
    case 'beside':
      return drawBeside(flow, block);
    case 'signatures':
      return drawSignatures(flow, block.names);
  }
}

function drawText(flow: Flow, type: string, text: string, style: Style, x = flow.x): void {
  const { pen } = flow;
  const lines = pen.lines(text, style, flow.right - x);
  flow.tagged(type, () => {
    for (const line of lines) {
      pen.text(line, x, flow.y, style);
      flow.y += pen.lineHeight(style);
    }
  });
}

function rule({ doc, x, right, y }: Flow, weight: number, color = INK): void {
  doc.moveTo(x, y).lineTo(right, y).lineWidth(weight).strokeColor(color).stroke();
}

/** The figure large, its parts beside it as far as they have room. */
function drawFigure(flow: Flow, { name, text, parts }: Extract<Block, { kind: 'figure' }>): void {
  const { pen, x, right } = flow;
  flow.tagged('P', () => {
    pen.text(name, x, flow.y, NAME);
    pen.text(text, x, flow.y + pen.lineHeight(NAME), FIGURE);
  });
  let at = x + pen.width(text, FIGURE) + 28;
  const y = flow.y + pen.lineHeight(NAME) + 11;
  for (const part of parts) {
    const width = Math.max(pen.width(part.name, NAME), pen.width(part.text, PART)) + 20;
    if (at + width - 20 > right) break;
    flow.tagged('P', () => {
      pen.text(part.name, at, y - 3, NAME);
      pen.text(part.text, at, y - 3 + pen.lineHeight(NAME), PART);
    });
    at += width;
  }
  flow.y += pen.lineHeight(NAME) + pen.lineHeight(FIGURE) + GAP;
}

interface FactRow {
  name: string;
  lines: string[];
  column: number;
  y: number;
}

/** Facts in as many columns as have room, each row as high as its highest. */
function factRows(
  { pen }: Flow,
  facts: readonly { name: string; text: string }[],
  width: number,
): { rows: FactRow[]; height: number; column: number; nameWidth: number } {
  const columns = width > 380 ? 2 : 1;
  const column = (width - (columns - 1) * GUTTER) / columns;
  const nameWidth = Math.max(0, ...facts.map(({ name }) => pen.width(name, NAME))) + 8;
  const rows: FactRow[] = [];
  let y = 0;
  for (let i = 0; i < facts.length; i += columns) {
    let most = 0;
    facts.slice(i, i + columns).forEach(({ name, text }, at) => {
      const lines = pen.lines(text, TEXTS.plain, column - nameWidth);
      most = Math.max(most, lines.length);
      rows.push({ name, lines, column: at, y });
    });
    y += most * pen.lineHeight(TEXTS.plain) + 1;
  }
  return { rows, height: y, column, nameWidth };
}

function drawFacts(flow: Flow, facts: readonly { name: string; text: string }[]): void {
  const { pen, x, y } = flow;
  const { rows, height, column, nameWidth } = factRows(flow, facts, flow.width);
  for (const row of rows) {
    const left = x + row.column * (column + GUTTER);
    flow.tagged('P', () => {
      pen.text(row.name, left, y + row.y + 0.75, NAME);
      row.lines.forEach((line, i) => {
        pen.text(line, left + nameWidth, y + row.y + i * pen.lineHeight(TEXTS.plain), TEXTS.plain);
      });
    });
  }
  flow.y += height + GAP;
}

function drawList(flow: Flow, items: readonly string[]): void {
  const { pen } = flow;
  flow.within('L', () => {
    for (const item of items) {
      const style = ITEM;
      flow.room(pen.lines(item, style, flow.width - INDENT).length * pen.lineHeight(style));
      flow.within('LI', () => {
        flow.artifact(() => {
          const y = flow.y + 0.52 * pen.lineHeight(style);
          flow.doc
            .circle(flow.x + 3, y, 1.4)
            .fillColor(INK)
            .fill();
        });
        drawText(flow, 'LBody', item, style, flow.x + INDENT);
      });
      flow.y += 1.5;
    }
  });
  flow.y += GAP;
}

function drawBars(flow: Flow, bars: Extract<Block, { kind: 'bars' }>['bars']): void {
  const { doc, pen, x } = flow;
  const most = Math.max(...bars.map(({ share }) => share));
  bars.forEach(({ name, share, text }, i) => {
    const { y } = flow;
    flow.artifact(() => {
      const width = Math.max(1, (BAR.bar * share) / most);
      doc
        .rect(x + BAR.name, y + 2, width, 8)
        .fillColor(i === 0 ? INK : LINE_STRONG)
        .fill();
    });
    flow.tagged('P', () => {
      pen.text(pen.lines(name, TEXTS.plain, BAR.name - 8)[0] ?? '', x, y, TEXTS.plain);
      pen.text(text, x + BAR.name + BAR.bar + 10, y, TEXTS.plain);
    });
    flow.y += BAR.height;
  });
  flow.y += GAP;
}

function drawBeside(flow: Flow, { left, right }: Extract<Block, { kind: 'beside' }>): void {
  const { x, y, width } = flow;
  const leftWidth = (width - GUTTER) * LEFT;
  flow.width = leftWidth;
  for (const block of left) drawBlock(flow, block);
  const leftEnd = flow.y;
  flow.x = x + leftWidth + GUTTER;
  flow.width = width - GUTTER - leftWidth;
  flow.y = y;
  for (const block of right) drawBlock(flow, block);
  flow.x = x;
  flow.width = width;
  flow.y = Math.max(leftEnd, flow.y);
}

function drawSignatures(flow: Flow, names: readonly string[]): void {
  const { doc, pen, x, y, width } = flow;
  const each = (width - (names.length - 1) * GUTTER) / names.length;
  names.forEach((name, i) => {
    const left = x + i * (each + GUTTER);
    flow.artifact(() => {
      doc.moveTo(left, y + 26).lineTo(left + each, y + 26);
      doc.lineWidth(0.75).strokeColor(LINE_STRONG).stroke();
    });
    flow.tagged('P', () => pen.text(name, left, y + 28, NAME));
  });
  flow.y += SIGN_HEIGHT;
  flow.artifact(() => rule(flow, 0.5, LINE));
}
