/** Where the air comes out of an opening: its sections side by side, with the velocity at each point. */
import type { Block, VelocityMap } from '../content.ts';
import type { Flow } from './flow.ts';
import { INK, LINE_STRONG, type Style } from './pen.ts';

const ROW = 17;
const GUTTER = 10;
const AFTER = 6;
const LABEL: Style = { size: 8 };

/** A slot is much longer than it is wide: rows are drawn as high as their text, not to scale. */
export function mapHeight({ sections }: VelocityMap, width: number): number {
  const rows = Math.max(1, ...sections.map((section) => section.rows.length));
  return width > 0 ? rows * ROW + AFTER : 0;
}

export function drawMap(flow: Flow, { alt, map }: Extract<Block, { kind: 'map' }>): void {
  flow.tagged('Figure', () => draw(flow, map), { alt });
  flow.y += mapHeight(map, flow.width);
}

function draw({ doc, pen, x, y, width }: Flow, { sections }: VelocityMap): void {
  const all = sections.reduce((sum, { lengthM }) => sum + lengthM, 0);
  const room = width - (sections.length - 1) * GUTTER;
  let left = x;
  for (const { lengthM, rows } of sections) {
    const wide = (room * lengthM) / all;
    rows.forEach((cells, row) => {
      const each = wide / Math.max(1, cells.length);
      cells.forEach(({ text, level }, column) => {
        const at = left + column * each;
        const down = y + row * ROW;
        doc.save().fillOpacity(0.45 * level * level);
        doc.rect(at, down, each, ROW).fillColor(INK).fill();
        doc.restore();
        doc.rect(at, down, each, ROW).lineWidth(0.5).strokeColor(LINE_STRONG).stroke();
        pen.text(text, at + each / 2, down + 3, LABEL, 'middle');
      });
    });
    left += wide + GUTTER;
  }
}
