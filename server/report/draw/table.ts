/** Tables, tagged as such: the head stands on every page that a table reaches over. */
import type { TableBlock } from '../content.ts';
import type { Flow } from './flow.ts';
import { INK, LINE, QUIET, type Style } from './pen.ts';

const HEAD: Style = { size: 8.25, color: QUIET };
const CELL: Style = { size: 8.5 };
const PAD = { x: 8, y: 1.8 };
const AFTER = 4;

interface Laid {
  lefts: number[];
  widths: number[];
  rows: { lines: string[][]; height: number }[];
  headHeight: number;
}

function laid({ pen }: Flow, { columns, rows }: TableBlock, width: number): Laid {
  const parts = columns.reduce((sum, column) => sum + column.width, 0);
  // Between two columns there is room, and none behind the last one.
  const room = width - (columns.length - 1) * PAD.x;
  const widths = columns.map((column) => (room * column.width) / parts);
  const lefts = widths.map((_, i) =>
    widths.slice(0, i).reduce((sum, each) => sum + each + PAD.x, 0),
  );
  return {
    ...{ lefts, widths },
    headHeight: pen.lineHeight(HEAD) + 2 * PAD.y,
    rows: rows.map((row) => {
      const lines = row.map((text, i) => pen.lines(text, CELL, widths[i] ?? width));
      const most = Math.max(1, ...lines.map((each) => each.length));
      return { lines, height: most * pen.lineHeight(CELL) + 2 * PAD.y };
    }),
  };
}

export function tableHeight(flow: Flow, block: TableBlock, width: number): number {
  const { rows, headHeight } = laid(flow, block, width);
  const all = rows.reduce((sum, { height }) => sum + height, headHeight + AFTER);
  // A longer one is broken between two rows.
  return Math.min(all, headHeight + (rows[0]?.height ?? 0) + (rows[1]?.height ?? 0) + AFTER);
}

export function drawTable(flow: Flow, block: TableBlock): void {
  const { doc, pen } = flow;
  const table = laid(flow, block, flow.width);
  const { lefts, widths, rows, headHeight } = table;
  const write = (line: string, column: number, y: number, style: Style): void => {
    const left = flow.x + (lefts[column] ?? 0);
    const isNumber = block.columns[column]?.isNumber === true;
    if (isNumber) pen.text(line, left + (widths[column] ?? 0), y, style, 'right');
    else pen.text(line, left, y, style);
  };
  const rule = (color: string, weight: number): void =>
    flow.artifact(() => {
      doc.moveTo(flow.x, flow.y).lineTo(flow.right, flow.y);
      doc.lineWidth(weight).strokeColor(color).stroke();
    });
  const head = (): void => {
    block.columns.forEach(({ name }, i) => write(name, i, flow.y + PAD.y, HEAD));
  };
  flow.within('Table', () => {
    flow.within('TR', () => {
      block.columns.forEach(({ name }, i) => {
        flow.tagged('TH', () => write(name, i, flow.y + PAD.y, HEAD), { scope: 'Column' });
      });
    });
    flow.y += headHeight;
    rule(INK, 0.75);
    for (const { lines, height } of rows) {
      if (flow.y + height > flow.bottom) {
        flow.newPage();
        flow.artifact(head);
        flow.y += headHeight;
        rule(INK, 0.75);
      }
      flow.within('TR', () => {
        lines.forEach((cell, i) => {
          flow.tagged(
            i === 0 ? 'TH' : 'TD',
            () => {
              cell.forEach((line, n) => {
                write(line, i, flow.y + PAD.y + n * pen.lineHeight(CELL), CELL);
              });
            },
            i === 0 ? { scope: 'Row' } : {},
          );
        });
      });
      flow.y += height;
      rule(LINE, 0.5);
    }
  });
  flow.y += AFTER;
}
