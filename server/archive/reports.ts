/** What is handed over of an archived visit: its report, and its captures and readings as tables. */
import type { ReportDesk, ReportForm } from '../http/reports.ts';
import { capturesCsv, readingsCsv } from '../report/csv.ts';
import type { ArchiveDatabase, Asker } from './database.ts';
import { partLines } from './visit-parts.ts';
import { archivedLines, type ArchivedLines, showArchived, vansName } from './visits.ts';

/** Works a visit out and draws its report, beside the server: the archive itself plays no visit. */
export type MakeReport = (visit: ArchivedLines, form: ReportForm) => Promise<Uint8Array | null>;

/** What stands between the calls and the archive, for one who asks. Ids are keys of visits. */
export function archiveReports(db: ArchiveDatabase, asker: Asker, make: MakeReport): ReportDesk {
  const linesOf = (id: string): Promise<ArchivedLines | null> =>
    db.as(asker, (ask) => archivedLines(ask, Number(id)));
  return {
    async report(id, form) {
      const visit = await linesOf(id);
      return visit && make(visit, form);
    },
    // By the name that it has at its van, as all that is handed over of it.
    captures: (id) =>
      db.as(asker, async (ask) => {
        const visit = await showArchived(ask, Number(id), LEAST_ROWS);
        return visit && capturesCsv({ ...visit, ...(await vansName(ask, Number(id))) });
      }),
    async readings(id) {
      const visit = await linesOf(id);
      // Simulated visits are not sent.
      return visit && readingsCsv(partLines(visit.parts), false);
    },
  };
}

/** Its chart is not looked at. */
const LEAST_ROWS = 3;
