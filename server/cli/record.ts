/** The record of the visit at start: gone on with, or begun with what holds at another site too. */
import type { Line } from '../../adapters/contract.ts';
import { type Database, openDatabase } from '../store/database.ts';
import { lockFolder } from '../store/lock.ts';
import { linesOf } from '../store/visit-lines.ts';
import { VisitRecord } from '../store/visit-record.ts';
import { type FoundVisit, newestVisit, visitId } from '../store/visits.ts';
import type { LiveVisit } from '../visit.ts';
import { played, probeLines } from './begin-with.ts';
import { takeOldRecords } from './old-records.ts';
import { toldTo } from './work-out.ts';

/** Lines of a record were brought by sources that are not there any more. */
const NOBODY = { adapter: null, simulated: false };

/** What to do with an earlier visit of the folder; see `openRecord`. */
export type RecordKind = 'go on' | 'new' | 'demo' | 'replay';

/** A visit that was written to less than this ago goes on; an older one is over, ms. */
const SAME_VISIT_MS = 12 * 3_600_000;
/** A demo that is started again later than this begins afresh: the next class, not a restart, ms. */
const DEMO_GOES_ON_MS = 600_000;
/** A log whose last reading is further than this from when it was written has a time of its own, ms. */
const OWN_TIME_MS = 600_000;

export interface OpenedRecord {
  record: VisitRecord;
  /** Whether an earlier visit goes on. */
  goesOn: boolean;
}

/**
 * Goes on with the newest visit of the data folder, or begins a new one. Of a visit that is over only
 * the probes' names, limits and last check are kept: another site's units and airflow would give
 * wrong figures.
 * A demo goes on only after a short break, and keeps nothing else.
 * A replay begins with nothing and is not recorded: the log that is played is its record.
 * @param tell told in sentences what is wrong with the record
 * @throws Error when another server writes to the folder
 */
export async function openRecord(
  visit: LiveVisit,
  dataDir: string,
  kind: RecordKind,
  tell: (message: string) => void,
): Promise<OpenedRecord> {
  lockFolder(dataDir);
  const now = Date.now();
  await takeOldRecords(dataDir, tell);
  const db = opened(dataDir);
  const found = db === null || kind === 'replay' ? null : newestVisit(db);
  const same = kind === 'demo' ? DEMO_GOES_ON_MS : SAME_VISIT_MS;
  const goesOn = kind !== 'new' && found !== null && now - found.writtenT < same;
  const record = new VisitRecord({
    dataDir,
    id: goesOn ? found.id : visitId(now),
    kind: 'visit',
    now: Date.now,
    monotonic: () => performance.now(),
  });
  if (db !== null && found !== null && goesOn) {
    record.anew();
    visit.recordTo(toldTo(record));
    playInto(db, found, (line, after) => visit.recorded(line, NOBODY, after), tell);
    const newest = visit.state().t ?? now;
    visit.recordTo(record);
    visit.resume(Math.abs(found.writtenT - newest) > OWN_TIME_MS);
  } else if (db !== null && found !== null && kind !== 'demo') {
    const kept = probesOf(db, found.key);
    for (const line of kept) visit.line(line, NOBODY);
    record.beginWith(kept);
  }
  db?.close();
  if (kind === 'replay') return { record, goesOn: false };
  visit.recordTo(record);
  record.tick(); // says at once where nothing can be written
  if (record.trouble !== null) tell(record.trouble);
  return { record, goesOn };
}

/** Null where it cannot be opened: the record will say why, and go on trying. */
function opened(dataDir: string): Database | null {
  try {
    return openDatabase(dataDir);
  } catch {
    return null;
  }
}

/** Plays a visit; where its record is damaged, what comes before is kept. */
function playInto(
  db: Database,
  visit: FoundVisit,
  take: (line: Line, after?: number) => string | null,
  tell: (message: string) => void,
): void {
  try {
    for (const { after, ...line } of linesOf(db, visit.key)) {
      const why = take(line, after);
      if (why !== null) tell(`visit ${visit.id}: ${JSON.stringify(line)}: ${why}`);
    }
  } catch (error) {
    tell(`visit ${visit.id}: ${error instanceof Error ? error.message : String(error)}`);
  }
}

function probesOf(db: Database, visit: number): Line[] {
  try {
    return probeLines(played(linesOf(db, visit)).probes.values());
  } catch {
    return []; // damaged: doctor says how
  }
}
