/** A report as a PDF: vectors and searchable text, tagged for screen readers. */
import PDFDocument from 'pdfkit';
import type { Block, ReportContent } from '../content.ts';
import { drawBlock, heightOf } from './blocks.ts';
import { Flow, PAGE_MARGINS, type Paper } from './flow.ts';
import { QUIET } from './pen.ts';
import { locale, t } from '../../words/language.ts';

const FOOT = { size: 7.5, color: QUIET };
/** A heading stays with so much of what it is of. */
const WITH_HEADING = 110;

export interface DrawOptions {
  paper: Paper;
  /** When it is made, ms. */
  madeT: number;
}

/** @returns the bytes of the file; the same report made at the same time gives the same ones */
export async function drawReport(
  content: ReportContent,
  { paper, madeT }: DrawOptions,
): Promise<Buffer> {
  const doc = new PDFDocument({
    size: paper === 'a4' ? 'A4' : 'LETTER',
    margins: PAGE_MARGINS,
    autoFirstPage: false,
    bufferPages: true,
    pdfVersion: '1.7',
    lang: locale(),
    tagged: true,
    displayTitle: true,
    font: '', // none but those that are embedded
    info: {
      Title: content.title,
      Creator: 'Plateau',
      Producer: 'Plateau',
      CreationDate: new Date(madeT),
    },
  });
  const pieces: Buffer[] = [];
  const done = new Promise<Buffer>((resolve, reject) => {
    doc.on('data', (piece: Buffer) => pieces.push(piece));
    doc.on('end', () => resolve(Buffer.concat(pieces)));
    doc.on('error', reject);
  });
  const flow = new Flow(doc, (at) => drawMark(at, content.mark));
  content.blocks.forEach((block, i) => {
    if (block.kind === 'heading' && block.newPage === true && !flow.isTop) flow.newPage();
    flow.room(together(flow, content.blocks, i));
    drawBlock(flow, block);
  });
  drawFeet(flow, content.foot);
  flow.end();
  return done;
}

/** The height of a block and, of headings, of what has to stand below them. */
function together(flow: Flow, blocks: readonly Block[], i: number): number {
  const block = blocks[i];
  if (block === undefined) return 0;
  const own = heightOf(flow, block);
  if (block.kind !== 'heading') return own;
  const next = blocks[i + 1];
  if (next === undefined) return own;
  const after = together(flow, blocks, i + 1);
  const isWhole = next.kind !== 'table' && next.kind !== 'list';
  return own + (isWhole ? after : Math.min(WITH_HEADING, after));
}

/** Across the whole page, light enough to read through, and there in a copy too. */
function drawMark({ doc, pen }: Flow, mark: string | null): void {
  if (mark === null) return;
  const { width, height } = doc.page;
  const size = 96;
  const style = { size, weight: 'strong', color: QUIET } as const;
  doc.save();
  doc.rotate(-52, { origin: [width / 2, height / 2] }).fillOpacity(0.11);
  pen.text(mark, width / 2, height / 2 - size / 2, style, 'middle');
  doc.restore();
}

function drawFeet(flow: Flow, foot: string): void {
  const { doc, pen, x, width } = flow;
  const { start, count } = doc.bufferedPageRange();
  for (let page = start; page < start + count; page++) {
    doc.switchToPage(page);
    flow.artifact(() => {
      const y = flow.bottom + 16;
      const number = t`Page ${page + 1} of ${count}`;
      const room = width - pen.width(number, FOOT) - 12;
      pen.text(pen.lines(foot, FOOT, room)[0] ?? '', x, y, FOOT);
      pen.text(number, x + width, y, FOOT, 'right');
    });
  }
}
