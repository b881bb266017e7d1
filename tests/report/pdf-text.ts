/** The text of a PDF, page by page, as a library of others reads it (PDF.js, by the package unpdf). */
import type { getDocumentProxy } from 'unpdf';

export type Pdf = Awaited<ReturnType<typeof getDocumentProxy>>;

export async function textOf(pdf: Pdf): Promise<string[]> {
  const pages: string[] = [];
  for (let n = 1; n <= pdf.numPages; n++) {
    const { items } = await (await pdf.getPage(n)).getTextContent();
    const text = items.map((item) => ('str' in item ? item.str : '')).join(' ');
    pages.push(text.replaceAll(/\s+/g, ' '));
  }
  return pages;
}
