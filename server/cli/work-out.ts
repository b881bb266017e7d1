/** Lines of a visit into the record, or again through the session for what it tells of them. */
import { setImmediate as turn } from 'node:timers/promises';
import type { Line } from '../../adapters/contract.ts';
import type { Database } from '../store/database.ts';
import { PhotoCheck } from '../store/photos.ts';
import { linesOf } from '../store/visit-lines.ts';
import { VisitRecord } from '../store/visit-record.ts';
import type { FoundVisit, VisitKind } from '../store/visits.ts';
import { knownFields } from '../visit-log/known-fields.ts';
import type { RecordedLine } from '../visit-log/recorded.ts';
import { LiveVisit, type Recorder } from '../visit.ts';

/** Lines of a record were brought by sources that are not there any more. */
const NOBODY = { adapter: null, simulated: false };
/** Lines that are played between two turns of everything else: some milliseconds. */
const BETWEEN_TURNS = 100;
/** Lines gathered until they are written. */
const AT_ONCE = 5000;

export interface NewVisit {
  dataDir: string;
  id: string;
  kind: VisitKind;
  /** When it was written, ms. */
  writtenT: number;
}

/** Takes lines, in order of time, into a new visit of the record, with what the session tells of them. */
export class VisitTaker {
  /** How many lines were taken. */
  taken = 0;
  readonly #record: VisitRecord;
  readonly #visit: LiveVisit;
  readonly #photos = new PhotoCheck();
  #gathered = 0;

  constructor({ dataDir, id, kind, writtenT }: NewVisit) {
    const now = (): number => writtenT;
    this.#record = new VisitRecord({ dataDir, id, kind, now, monotonic: () => 0 });
    this.#visit = new LiveVisit(now);
    this.#visit.recordTo(toldTo(this.#record));
  }

  /** @returns why the line was refused, or null */
  line(line: Line, after?: number): string | null {
    const why = this.#photos.take(line) ?? this.#visit.recorded(line, NOBODY, after);
    if (why !== null) return why;
    const known = line.type === 'reading' ? knownFields(line) : line;
    this.#record.gather(after === undefined ? known : { ...known, after });
    this.taken++;
    if (++this.#gathered >= AT_ONCE) this.#write();
    return null;
  }

  /** Ends it well. @throws Error where it could not be written */
  end(): void {
    this.#visit.finish();
    this.#write();
    this.#record.close();
    if (this.#record.trouble !== null) throw new Error(this.#record.trouble);
  }

  /** Ends it as it is. */
  abandon(): void {
    this.#record.close(false);
  }

  #write(): void {
    this.#gathered = 0;
    if (!this.#record.write()) throw new Error(this.#record.trouble ?? 'it cannot be written');
  }
}

/** Works a recorded visit out anew, after which it is whole. Everything else gets its turn meanwhile. */
export async function workOut(
  dataDir: string,
  db: Database,
  { key, id, kind, writtenT }: FoundVisit,
): Promise<void> {
  const now = (): number => writtenT;
  const record = new VisitRecord({ dataDir, id, kind, now, monotonic: () => 0 });
  record.anew();
  const visit = new LiveVisit(now);
  visit.recordTo(toldTo(record));
  await playInto(visit, linesOf(db, key));
  visit.finish();
  record.attach();
  record.close();
  if (record.trouble !== null) throw new Error(record.trouble);
}

/** Plays recorded lines, with a turn for everything else now and then. */
export async function playInto(visit: LiveVisit, lines: Iterable<RecordedLine>): Promise<void> {
  let n = 0;
  for (const { after, ...line } of lines) {
    visit.recorded(line, NOBODY, after);
    if (++n % BETWEEN_TURNS === 0) await turn();
  }
}

/** What the session tells goes to the record; the lines are there, or come another way. */
export function toldTo(record: VisitRecord): Recorder {
  return {
    add: () => {},
    frame: (frame) => record.frame(frame),
    chart: (part) => record.chart(part),
    anew: () => record.anew(),
  };
}
