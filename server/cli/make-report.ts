/** A visit as a PDF: read, worked out, drawn. */
import { partLines } from '../archive/visit-parts.ts';
import type { ArchivedLines } from '../archive/visits.ts';
import type { ReportForm } from '../http/reports.ts';
import { drawReport } from '../report/draw/pdf.ts';
import { reportOf } from '../report/report-of.ts';
import type { ReportVisit } from '../report/visit.ts';
import { readDatabase } from '../store/database.ts';
import { linesOf } from '../store/visit-lines.ts';
import { visitById } from '../store/visits.ts';
import { readVisit } from './report-visit.ts';

/** A visit of a data folder by its id, or one of an archive with all that it is made of. */
export type ReportOf = { dataDir: string; visit: string } | ArchivedLines;

/** The language is chosen before this module is loaded: by then its sentences are put together. */
export interface ReportRequest extends ReportForm {
  of: ReportOf;
  /** When it is made, ms. */
  madeT: number;
}

/** @returns null where there is no such visit @throws Error where its record is damaged */
export async function makeReport({
  of,
  units,
  paper,
  madeT,
}: Omit<ReportRequest, 'language' | 'locale'>): Promise<Buffer | null> {
  const visit = 'parts' in of ? readVisit(partLines(of.parts), of) : recorded(of);
  return visit && drawReport(reportOf(visit, units), { paper, madeT });
}

function recorded(of: { dataDir: string; visit: string }): ReportVisit | null {
  const db = readDatabase(of.dataDir);
  const found = db && visitById(db, of.visit);
  try {
    return db && found && readVisit(linesOf(db, found.key), found);
  } finally {
    db?.close();
  }
}
