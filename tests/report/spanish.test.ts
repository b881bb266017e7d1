/** The report in Spanish: all of it, with its decimal comma, on two pages; tables for programs stay as they are. */
import { getDocumentProxy } from 'unpdf';
import { beforeAll, expect, it } from 'vitest';
import { speakAs } from '../../server/words/speak-as.ts';

/** What is loaded after the language is chosen: its words are constants. */
async function load() {
  const { drawReport } = await import('../../server/report/draw/pdf.ts');
  const { reportOf } = await import('../../server/report/report-of.ts');
  const { visitLines, visitOf } = await import('./visit.ts');
  return { drawReport, reportOf, visit: visitOf(visitLines(true)) };
}
let parts: Awaited<ReturnType<typeof load>>;
beforeAll(async () => {
  await speakAs('es', 'es-ES');
  parts = await load();
});

/** Words that English text has and Spanish has not; people's own words in that visit have none of them. */
const ENGLISH =
  /(?<!\p{L})(?:the|of|and|is|its|to|not|from|with|was|were|for|by|at|this|that|than|be|will|are|supply|return|capacity|airflow|page|visit|time)(?!\p{L})/iu;

it.each(['a4', 'letter'] as const)('has no English of ours left, %s', async (paper) => {
  const made = await parts.drawReport(parts.reportOf(parts.visit, 'si'), { paper, madeT: 0 });
  const pdf = await getDocumentProxy(new Uint8Array(made));
  const texts: string[] = [];
  for (let n = 1; n <= pdf.numPages; n++) {
    const { items } = await (await pdf.getPage(n)).getTextContent();
    texts.push(...items.map((item) => ('str' in item ? item.str : '')));
  }
  expect(texts.filter((text) => ENGLISH.test(text.replace('visit-1', '')))).toEqual([]);
  const text = texts.join(' ').replaceAll(/\s+/g, ' ');
  for (const part of ['3,41 ± 0,89 kW', 'Capacidad', 'Página 1 de 2', 'SIMULAD']) {
    expect(text).toContain(part);
  }
  expect(pdf.numPages).toBe(2);
});
