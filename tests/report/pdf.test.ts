/** The report as a PDF, read back by a library of others (PDF.js, as the package unpdf brings it). */
import { getDocumentProxy } from 'unpdf';
import { describe, expect, it } from 'vitest';
import { drawReport } from '../../server/report/draw/pdf.ts';
import type { Paper } from '../../server/report/draw/flow.ts';
import { reportOf } from '../../server/report/report-of.ts';
import { type Pdf, textOf } from './pdf-text.ts';
import { visitLines, visitOf } from './visit.ts';

const real = visitOf(visitLines());
const simulated = visitOf(visitLines(true));

async function read(visit = real, units: 'si' | 'ip' = 'si', paper: Paper = 'a4'): Promise<Pdf> {
  const made = await drawReport(reportOf(visit, units), { paper, madeT: 0 });
  return getDocumentProxy(new Uint8Array(made));
}

interface Node {
  role?: string;
  alt?: string;
  children?: Node[];
}
const nodes = (node: Node): Node[] => [node, ...(node.children ?? []).flatMap(nodes)];

describe('the PDF', () => {
  it('has its text, to be searched and copied', async () => {
    const text = (await textOf(await read())).join(' ');
    for (const part of [
      'Alder Court 9',
      'J. Café',
      'Total cooling capacity',
      '3.41 ± 0.89 kW',
      'Verdict: not asked for all it has',
      'What the ± is made of',
      'corrected by −0.05 K',
      'Velocity over the opening at 4 points',
      'Technician',
      'Page 1 of 2',
    ]) {
      expect(text).toContain(part);
    }
    expect(text).not.toContain('SIMULATED');
  });

  it.each([
    ['a4', 595.28, 841.89],
    ['letter', 612, 792],
  ] as const)('fits %s, on two pages', async (paper, width, height) => {
    // ISO 216: A4 is 210 mm × 297 mm. ANSI/ASME Y14.1: A is 8.5 in × 11 in. 72 points are an inch.
    const pdf = await read(simulated, 'ip', paper);
    expect(pdf.numPages).toBe(2);
    const [, , w = 0, h = 0] = (await pdf.getPage(1)).view;
    expect(w).toBeCloseTo(width, 1);
    expect(h).toBeCloseTo(height, 1);
    // Nothing lies outside of the margins; the mark runs across.
    for (let n = 1; n <= 2; n++) {
      const { items } = await (await pdf.getPage(n)).getTextContent();
      for (const item of items) {
        if (!('str' in item) || item.str.trim() === '' || item.str === 'SIMULATED') continue;
        const [, , , , x = NaN, y = NaN] = item.transform.map(Number);
        expect(x, item.str).toBeGreaterThan(40);
        expect(x + item.width, item.str).toBeLessThan(width - 40);
        expect(y, item.str).toBeGreaterThan(15);
      }
    }
  });

  it('says on every page that it is simulated', async () => {
    for (const page of await textOf(await read(simulated))) expect(page).toContain('SIMULATED');
  });

  it('is tagged: title, language, headings, tables, figures with what they show', async () => {
    const pdf = await read();
    expect(await pdf.getMarkInfo()).toMatchObject({ Marked: true });
    const { info } = await pdf.getMetadata();
    expect(info).toMatchObject({
      Title: 'Commissioning record: Alder Court 9',
      Language: 'en-US',
    });
    const found: Node[] = [];
    for (let n = 1; n <= pdf.numPages; n++) {
      found.push(...nodes(((await (await pdf.getPage(n)).getStructTree()) ?? {}) as Node));
    }
    const count = (role: string): number => found.filter((node) => node.role === role).length;
    expect(count('H1')).toBe(1);
    expect(count('H2')).toBe(1);
    expect(count('H3')).toBe(11);
    expect(count('Figure')).toBe(3);
    expect(found.filter(({ role }) => role === 'Figure').every(({ alt }) => alt)).toBe(true);
    expect(count('TH')).toBeGreaterThan(count('TR') - 1);
    expect(count('LBody')).toBe(count('LI'));
  });

  it('is the same bytes when it is made again', async () => {
    const make = (): Promise<Buffer> => drawReport(reportOf(real, 'si'), { paper: 'a4', madeT: 0 });
    expect((await make()).equals(await make())).toBe(true);
  });

  it('holds names in other alphabets, long words and many rows', async () => {
    const lines = visitLines();
    lines.push({
      ...{
        type: 'visit',
        version: 1,
        customer: 'Győző Łukasz',
        why: 'w'.repeat(300),
        conditions: '東京 → α',
      },
    });
    for (let i = 0; i < 60; i++) {
      lines.push({ type: 'probe', id: `x${i}`, name: `Spare ${i}`, unit: 'u1', place: 'room' });
    }
    const pages = await textOf(await read(visitOf(lines)));
    expect(pages.length).toBeGreaterThan(2);
    // Letters of another font are pieces of their own, close beside the others.
    expect(pages.join('').replaceAll(' ', '')).toContain('GyőzőŁukasz');
    expect(pages.join(' ')).toContain('Spare 59');
  });
});
