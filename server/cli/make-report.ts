/** A visit of a data folder as a PDF: read, worked out, drawn. */
import { drawReport } from '../report/draw/pdf.ts';
import type { Paper } from '../report/draw/flow.ts';
import { reportOf, type UnitSystem } from '../report/report-of.ts';
import { readDatabase } from '../store/database.ts';
import { linesOf } from '../store/visit-lines.ts';
import { visitById } from '../store/visits.ts';
import { readVisit } from './report-visit.ts';
import type { Language } from '../words/language.ts';

export interface ReportRequest {
  dataDir: string;
  /** The visit's id. */
  visit: string;
  units: UnitSystem;
  paper: Paper;
  /** When it is made, ms. */
  madeT: number;
  /** Chosen before this module is loaded: by then its sentences are put together. */
  language: Language;
  locale?: string | undefined;
}

/** @returns null where there is no such visit @throws Error where its record is damaged */
export async function makeReport(request: ReportRequest): Promise<Buffer | null> {
  const { dataDir, visit, units, paper, madeT } = request;
  const db = readDatabase(dataDir);
  const found = db && visitById(db, visit);
  try {
    if (db === null || found === null) return null;
    const content = reportOf(readVisit(linesOf(db, found.key), found), units);
    return await drawReport(content, { paper, madeT });
  } finally {
    db?.close();
  }
}
