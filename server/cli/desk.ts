/**
 * The visit that is live, and how another takes its place: ended in order, its record closed, and a
 * new one begun, at a new site or at that of an earlier visit, or an earlier one gone on with.
 */
import { setImmediate as turn } from 'node:timers/promises';
import type { Line } from '../../adapters/contract.ts';
import type { VisitDesk } from '../http/visits.ts';
import type { OldVisit, VisitItem } from '../protocol.ts';
import { type Database, readDatabase } from '../store/database.ts';
import { linesOf } from '../store/visit-lines.ts';
import { searchVisits, showVisit, type VisitSearch } from '../store/visit-list.ts';
import { VisitRecord } from '../store/visit-record.ts';
import { siteOf, visitById, visitId } from '../store/visits.ts';
import type { LiveVisit } from '../visit.ts';
import { played, probeLines, siteLines } from './begin-with.ts';
import { logOf } from './export.ts';
import { toldTo, workOut } from './work-out.ts';

/** Lines that are played in one go, between two turns of everything else. */
const AT_ONCE = 200;
const NOBODY = { adapter: null, simulated: false };

export interface DeskOptions {
  dataDir: string;
  visit: LiveVisit;
  record: VisitRecord;
  /** Called when a visit has been begun: sources that set up units do so again. */
  begun: () => void;
}

export class Desk implements VisitDesk {
  /** The record of the live visit. */
  record: VisitRecord;
  #busy = false;
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

  has(id: string): boolean {
    return id === this.live || this.#read((db) => visitById(db, id)) !== null;
  }

  show(id: string, most: number): OldVisit | null {
    const { dataDir, visit } = this.#options;
    if (id === this.live) {
      this.record.sync();
      const stored = this.#read((db) => showVisit(db, id, 3));
      const { captures, events } = visit.state();
      return (
        stored && { ...stored, captures, events, history: visit.history(-Infinity, Infinity, most) }
      );
    }
    return this.#read((db) => {
      const found = visitById(db, id);
      if (found === null) return null;
      if (!found.whole) workOut(dataDir, db, found); // its server was killed
      return showVisit(db, id, most);
    });
  }

  log(id: string): Iterable<string> | null {
    return this.has(id) ? this.#log(id) : null;
  }

  async begin(like: string | null): Promise<string | null> {
    const { visit, begun } = this.#options;
    const site = like === null ? [] : (this.#read((db) => linesOfSite(db, like)) ?? []);
    return this.#change(visitId(Date.now()), (record) => {
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
    return this.#change(id, async (record) => {
      visit.begin();
      record.anew();
      visit.recordTo(toldTo(record));
      const db = readDatabase(dataDir);
      const found = db && visitById(db, id);
      let n = 0;
      for (const { after, ...line } of db && found ? linesOf(db, found.key) : []) {
        visit.recorded(line, NOBODY, after);
        if (++n % AT_ONCE === 0) await turn();
      }
      db?.close();
      visit.recordTo(record);
      visit.resume(false);
      record.attach();
    });
  }

  *#log(id: string): Generator<string> {
    this.record.sync();
    const db = readDatabase(this.#options.dataDir);
    const found = db && visitById(db, id);
    try {
      if (db && found) yield* logOf(db, found.key);
    } finally {
      db?.close();
    }
  }

  async #change(
    id: string,
    to: (record: VisitRecord) => void | Promise<void>,
  ): Promise<string | null> {
    const { visit, dataDir } = this.#options;
    if (this.#busy) return 'Another visit is being opened: try again in a moment.';
    if (id === this.live) return 'visit: it is the one that is live';
    if (this.record.trouble !== null) return this.record.trouble;
    this.#busy = true;
    try {
      visit.finish();
      this.record.close();
      const clocks = { now: Date.now, monotonic: () => performance.now() };
      this.record = new VisitRecord({ dataDir, id, kind: 'visit', ...clocks });
      await to(this.record);
      return null;
    } finally {
      this.#busy = false;
      visit.recording(this.record.id, this.record.trouble);
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
