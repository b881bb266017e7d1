/** `plateau report`: a visit of the record as a PDF, into a file or to standard output. */
import { once } from 'node:events';
import { writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { readDatabase } from '../store/database.ts';
import { findVisit } from './export.ts';
import { type Command, UsageError } from './options.ts';
import { speakAs } from '../words/speak-as.ts';

export type ReportOptions = Extract<Command, { command: 'report' }>;

/**
 * Runs it. A server may be writing to the record meanwhile.
 * @throws Error with a sentence where there is nothing of that name; UsageError where a PDF would go to a
 *   terminal
 */
export async function report(
  { dataDir, visit, out, ...form }: ReportOptions,
  output: NodeJS.WriteStream,
  tell: (message: string) => void,
): Promise<0> {
  if (out === null && output.isTTY) {
    throw new UsageError('a PDF is nothing to read on a terminal: name a file with --out FILE');
  }
  const folder = resolve(dataDir);
  const db = readDatabase(folder);
  if (db === null) throw new Error(`there is no record in ${folder}: choose a folder with --data`);
  let id: string;
  try {
    ({ id } = findVisit(db, visit));
  } finally {
    db.close();
  }
  await speakAs(form.language, form.locale);
  const { makeReport } = await import('./make-report.ts');
  const pdf = await makeReport({ ...form, of: { dataDir: folder, visit: id }, madeT: Date.now() });
  if (pdf === null) throw new Error(`the visit "${id}" is gone`);
  if (out === null) {
    if (!output.write(pdf)) await once(output, 'drain');
    return 0;
  }
  writeFileSync(resolve(out), pdf, { mode: 0o600 });
  tell(`The report of visit ${id} is in ${resolve(out)}`);
  return 0;
}
