/** The record of the visit at start: gone on with, or begun with what holds at another site too. */
import type { Line } from '../../adapters/contract.ts';
import { Session } from '../session.ts';
import { toEarlierCheck } from '../session/correction.ts';
import { lockFolder } from '../store/lock.ts';
import { findVisit, readVisit, SAME_VISIT_MS, VisitFile, visitPath } from '../store/visit-file.ts';
import { LogReader } from '../visit-log/reader.ts';
import type { LiveVisit } from '../visit.ts';

/** Lines of a record were brought by sources that are not there any more. */
const NOBODY = { adapter: null, simulated: false };

/** What to do with an earlier visit of the folder; see `openRecord`. */
export type RecordKind = 'go on' | 'new' | 'demo' | 'replay';

/** A demo that is started again later than this begins afresh: the next class, not a restart, ms. */
const DEMO_GOES_ON_MS = 600_000;
/** A log whose last reading is further than this from when it was written has a time of its own, ms. */
const OWN_TIME_MS = 600_000;

/**
 * Goes on with the newest visit of the data folder, or begins a new one. Of a visit that is over only
 * the probes' names, limits and last check are kept: another site's units and airflow would give
 * wrong figures.
 * A demo goes on only after a short break, and keeps nothing else.
 * The visit of a replay begins with nothing and is not gone on with: it must not mix with a real one.
 * @param tell told in sentences what is wrong with the record
 * @throws Error when another server writes to the folder
 */
export async function openRecord(
  visit: LiveVisit,
  dataDir: string,
  kind: RecordKind,
  tell: (message: string) => void,
): Promise<VisitFile> {
  lockFolder(dataDir);
  const now = Date.now();
  const same = kind === 'demo' ? DEMO_GOES_ON_MS : SAME_VISIT_MS;
  const found = kind === 'replay' ? null : findVisit(dataDir, now, same);
  const goesOn = found?.goesOn === true && kind !== 'new';
  const fresh = visitPath(dataDir, now, kind === 'replay' ? 'replay' : 'visit');
  const record = new VisitFile(goesOn ? found.path : fresh);
  record.open(dataDir);
  const refused = (lineNumber: number, why: string): void =>
    tell(`${found?.path ?? ''}: line ${lineNumber}: ${why}`);
  if (goesOn) {
    await readInto(found.path, (line, after) => visit.recorded(line, NOBODY, after), refused);
    const newest = visit.state().t ?? now;
    visit.recordTo(record);
    visit.resume(Math.abs(found.writtenT - newest) > OWN_TIME_MS);
  } else {
    visit.recordTo(record);
    const kept = found === null || kind === 'demo' ? [] : await probesOf(found.path);
    for (const line of kept) visit.line(line, NOBODY);
  }
  visit.recordTo(record);
  if (record.trouble !== null) tell(record.trouble);
  return record;
}

async function readInto(
  path: string,
  take: (line: Line, after?: number) => string | null,
  refused: (lineNumber: number, why: string) => void,
): Promise<void> {
  const reader = new LogReader({
    line: (line, lineNumber, after) => {
      const why = take(line, after);
      if (why !== null) refused(lineNumber, why);
    },
    refused,
  });
  for await (const chunk of readVisit(path)) reader.write(chunk);
  reader.end();
}

/** What an earlier visit knew of its probes, as lines: first all limits, then what checks found. */
async function probesOf(path: string): Promise<Line[]> {
  const nothing = (): void => {};
  const session = new Session({
    snapshot: nothing,
    capture: nothing,
    check: nothing,
    walk: nothing,
    event: nothing,
    probe: nothing,
    setup: nothing,
  });
  await readInto(path, (line, after) => session.apply(line, NOBODY, after), nothing);
  const probes = [...session.probes.values()];
  return [
    ...probes.map(({ id, name, limits }): Line => ({ type: 'probe', id, name, limits })),
    ...probes.flatMap(({ id, correction }): Line[] =>
      correction === null ? [] : [{ type: 'probe', id, check: toEarlierCheck(correction) }],
    ),
  ];
}
