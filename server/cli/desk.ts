/**
 * The visit that is live, and how another takes its place: ended in order, its record closed, and a
 * new one begun, at a new site or at that of an earlier visit, or an earlier one gone on with.
 */
import type { Line } from '../../adapters/contract.ts';
import type {
  EarlierAirflows,
  EarlierCaptures,
  KnownOutlets,
  OldVisit,
  VisitItem,
} from '../protocol.ts';
import { capturesCsv, readingsCsv } from '../report/csv.ts';
import { type Database, readDatabase } from '../store/database.ts';
import { outletLines } from '../store/outlet-lines.ts';
import { readPhoto } from '../store/photos.ts';
import { linesOf } from '../store/visit-lines.ts';
import {
  earlierAirflows,
  earlierCaptures,
  searchVisits,
  showVisit,
  type VisitSearch,
} from '../store/visit-list.ts';
import { VisitRecord } from '../store/visit-record.ts';
import { allVisits, siteOf, visitById, visitId } from '../store/visits.ts';
import type { LiveVisit } from '../visit.ts';
import { played, probeLines, siteLines } from './begin-with.ts';
import { logOf } from './export.ts';
import { reportAside } from './report-thread.ts';
import { knownOutlets } from './known-outlets.ts';
import { playInto, toldTo, workOut } from './work-out.ts';
import type { ReportDesk, ReportForm } from '../http/reports.ts';
import type { VisitDesk } from '../http/stage.ts';

const NOBODY = { adapter: null, simulated: false };

export interface DeskOptions {
  dataDir: string;
  visit: LiveVisit;
  record: VisitRecord;
  /** The built program that makes a report. */
  reportFile: string;
  /** Called when a visit has been begun: sources that set up units do so again. */
  begun: () => void;
  /** Called when the visit that was live has ended. */
  ended: () => void;
}

export class Desk implements VisitDesk, ReportDesk {
  /** The record of the live visit. */
  record: VisitRecord;
  #busy = false;
  #working: Promise<void> = Promise.resolve();
  readonly #options: DeskOptions;

  constructor(options: DeskOptions) {
    this.#options = options;
    this.record = options.record;
  }

  get live(): string {
    return this.record.id;
  }

  list(search: VisitSearch): VisitItem[] {
    this.record.sync(); // the live one with what has just been said of it
    return this.#read((db) => searchVisits(db, search)) ?? [];
  }

  knownOutlets(): KnownOutlets['outlets'] {
    return knownOutlets(this.#read((db) => outletLines(db, this.live)) ?? []);
  }

  earlierCaptures(): EarlierCaptures['captures'] {
    return this.#read((db) => earlierCaptures(db, this.live)) ?? [];
  }

  earlierAirflows(): EarlierAirflows['airflows'] {
    return this.#read((db) => earlierAirflows(db, this.live)) ?? [];
  }

  has(id: string): boolean {
    return id === this.live || this.#read((db) => visitById(db, id)) !== null;
  }

  async show(id: string, most: number): Promise<OldVisit | null> {
    const { visit } = this.#options;
    if (id !== this.live) {
      await this.workOut(id); // its server was killed
      return this.#read((db) => showVisit(db, id, most));
    }
    this.record.sync();
    const stored = this.#read((db) => showVisit(db, id, 3));
    const { captures, events, airflows } = visit.state();
    const history = visit.history(-Infinity, Infinity, most);
    return stored && { ...stored, captures, events, airflows, history };
  }

  /** Works out what the servers that were killed have left, one visit after another. */
  async workOutAll(): Promise<void> {
    const left = this.#read((db) => allVisits(db).filter(({ whole }) => !whole)) ?? [];
    for (const { id } of left) await this.workOut(id);
  }

  /** Works a visit out that is not whole, once for all who ask. */
  async workOut(id: string): Promise<void> {
    const before = this.#working;
    this.#working = before.then(async () => {
      const db = readDatabase(this.#options.dataDir);
      const found = db && visitById(db, id);
      try {
        if (db && found && !found.whole && id !== this.live) {
          await workOut(this.#options.dataDir, db, found);
        }
      } catch {
        // Damaged: what is there is shown, and doctor says what is wrong.
      } finally {
        db?.close();
      }
    });
    await this.#working;
  }

  photo(id: string): Uint8Array | 'damaged' | null {
    return this.#read((db) => readPhoto(db, id));
  }

  log(id: string): Iterable<string> | null {
    return this.has(id) ? this.#log(id) : null;
  }

  report(id: string, form: ReportForm): Promise<Uint8Array | null> {
    const { dataDir, reportFile } = this.#options;
    this.record.sync(); // the live one as it stands
    return reportAside(reportFile, { of: { dataDir, visit: id }, ...form, madeT: Date.now() });
  }

  async captures(id: string): Promise<string | null> {
    const visit = await this.show(id, 3);
    return visit === null ? null : capturesCsv(visit);
  }

  async readings(id: string): Promise<Iterable<string> | null> {
    this.record.sync();
    const simulated = this.#read((db) => showVisit(db, id, 3)?.simulated ?? null) ?? null;
    return simulated === null ? null : readingsCsv(this.#lines(id), simulated);
  }

  async begin(like: string | null, kept: boolean): Promise<string | null> {
    const { visit, begun } = this.#options;
    const site = like === null ? [] : (this.#read((db) => linesOfSite(db, like)) ?? []);
    return this.#change({ id: visitId(Date.now()), kept }, (record) => {
      const first = [...site, ...probeLines(visit.probes())];
      visit.begin();
      for (const line of first) visit.recorded(line, NOBODY);
      record.beginWith(first);
      visit.recordTo(record);
    }).then((why) => {
      if (why === null) begun();
      return why;
    });
  }

  goOn(id: string): Promise<string | null> {
    const { visit, dataDir } = this.#options;
    return this.#change({ id, kept: true }, async (record) => {
      visit.begin();
      record.anew();
      visit.recordTo(toldTo(record));
      const db = readDatabase(dataDir);
      const found = db && visitById(db, id);
      if (db && found) await playInto(visit, linesOf(db, found.key));
      db?.close();
      visit.recordTo(record);
      visit.resume(false);
      record.attach();
    });
  }

  *#log(id: string): Generator<string> {
    this.record.sync();
    yield* this.#of(id, logOf);
  }

  *#lines(id: string): Generator<Line> {
    yield* this.#of(id, linesOf);
  }

  /** What is read of a visit piece by piece; nothing where there is none of that id. */
  *#of<T>(id: string, read: (db: Database, key: number) => Iterable<T>): Generator<T> {
    const db = readDatabase(this.#options.dataDir);
    const found = db && visitById(db, id);
    try {
      if (db && found) yield* read(db, found.key);
    } finally {
      db?.close();
    }
  }

  /** Writes the quick look down that is live. @returns why not, or null */
  keep(id: string): string | null {
    if (id !== this.live) return 'visit: it is not the one that is live';
    this.record.keep();
    this.#say();
    return this.record.trouble;
  }

  #say(): void {
    const { id, trouble, kept } = this.record;
    this.#options.visit.recording(id, trouble, kept);
  }

  async #change(
    { id, kept }: { id: string; kept: boolean },
    to: (record: VisitRecord) => void | Promise<void>,
  ): Promise<string | null> {
    const { visit, dataDir } = this.#options;
    if (this.#busy) return 'Another visit is being opened: try again in a moment.';
    if (id === this.live) return 'visit: it is the one that is live';
    if (this.record.trouble !== null) return this.record.trouble;
    this.#busy = true;
    try {
      await this.#working; // it may be the very one
      visit.finish();
      this.record.close();
      this.#options.ended();
      const clocks = { now: Date.now, monotonic: () => performance.now() };
      this.record = new VisitRecord({ dataDir, id, kind: 'visit', kept, ...clocks });
      await to(this.record);
      return null;
    } finally {
      this.#busy = false;
      this.#say();
      visit.showAll();
    }
  }

  #read<T>(work: (db: Database) => T): T | null {
    const db = readDatabase(this.#options.dataDir);
    if (db === null) return null;
    try {
      return work(db);
    } finally {
      db.close();
    }
  }
}

function linesOfSite(db: Database, id: string): Line[] {
  const found = visitById(db, id);
  return found === null ? [] : siteLines(played(linesOf(db, found.key)), siteOf(db, found.key));
}
