/**
 * The record of the live visit. What is added is in the database before the caller goes on, in the
 * operating system's hands for a reading (`write`), on the disk for anything else (`sync`); every
 * second all of it is on the disk. While nothing can be written (no space, a folder that is read-only
 * or gone), what comes is kept in memory, up to a limit, and written as soon as that works again.
 */
import { mkdirSync, statSync } from 'node:fs';
import type { HistoryPart } from '../history.ts';
import type { Frame } from '../protocol.ts';
import type { RecordedLine } from '../visit-log/recorded.ts';
import { Catalog } from './catalog.ts';
import {
  closeDatabase,
  type Database,
  databasePath,
  openDatabase,
  transaction,
} from './database.ts';
import { Results } from './results.ts';
import { VisitLines } from './visit-lines.ts';
import { beginVisit, type VisitKind } from './visits.ts';
import { sent } from '../words/sent.ts';

/** Lines kept in memory while nothing can be written: an hour of sixteen probes is 57,600. */
const MOST_WAITING = 200_000;
/** Lines written at once, of those that waited. */
const AT_ONCE = 10_000;
/** After a failure nothing is tried for so long, ms. */
const PAUSE_MS = 900;

export interface RecordOptions {
  dataDir: string;
  /** The visit's id; it is begun with the first line where there is none of that id. */
  id: string;
  kind: VisitKind;
  /** Wall clock and a clock that nobody sets, ms. */
  now: () => number;
  monotonic: () => number;
  /** False: nothing is written until `keep`, and nothing is left where that never comes. */
  kept?: boolean;
}

export class VisitRecord {
  readonly id: string;
  /** Why nothing can be written, as a sentence, or null. */
  trouble: string | null = null;
  readonly #options: RecordOptions;
  readonly #results = new Results();
  #db: Database | null = null;
  #lines: VisitLines | null = null;
  #catalog: Catalog | null = null;
  #key = -1;
  /** The file that is written to, as the system names it: another one in its place is not ours. */
  #file = '';
  #waiting: RecordedLine[] = [];
  /** Of use only once something comes. */
  #first: readonly RecordedLine[] = [];
  /** Of the readings since it was opened, ms. */
  #firstT = Infinity;
  #lastT = -Infinity;
  /** Committed, but not surely on the disk. */
  #unsynced = false;
  #pausedUntil = -Infinity;
  #closed = false;
  #kept: boolean;

  constructor(options: RecordOptions) {
    this.#options = options;
    this.id = options.id;
    this.#kept = options.kept ?? true;
  }

  /** Whether what comes is written down: a quick look is not, until a person wants it to be. */
  get kept(): boolean {
    return this.#kept;
  }

  /** Writes down what a quick look has gathered, and from now on what comes. */
  keep(): void {
    this.#kept = true;
    this.sync();
  }

  /** Nothing more can be taken: a line that is added now would be lost. */
  get full(): boolean {
    return this.#waiting.length >= MOST_WAITING;
  }

  /** Takes a line. A reading waits for `write` or `sync`; anything else is on the disk afterwards. */
  add(line: RecordedLine): void {
    this.gather(line);
    if (line.type !== 'reading') this.sync();
  }

  /** Takes a line, which waits for `write` or `sync`. */
  gather(line: RecordedLine): void {
    if (this.#first.length > 0) this.#waiting.push(...this.#first);
    this.#first = [];
    this.#waiting.push(line);
  }

  /** What a new visit begins with; kept back until anything else comes. */
  beginWith(lines: readonly RecordedLine[]): void {
    this.#first = lines;
  }

  /** Keeps what the session tells; written with the next `sync`. */
  frame(frame: Frame): void {
    this.#results.frame(frame);
  }

  /** Rows of the chart that come after those before. */
  chart(part: HistoryPart): void {
    this.#results.chart(part);
  }

  /** What the session told before is told anew: the lines are played again. */
  anew(): void {
    this.#results.anew();
  }

  /** Goes on with a visit that is there, without a line that comes. */
  attach(): void {
    this.#try(() => {
      const db = this.#open();
      transaction(db, () => this.#begin(db));
    });
  }

  /** Puts what waits into the system's hands. @returns whether all of it is there */
  write(): boolean {
    return this.#commit(false);
  }

  /** Puts what waits on the disk. @returns whether all of it is there */
  sync(): boolean {
    return this.#commit(true);
  }

  /** Every second: sees to it that the file is still ours, and syncs. */
  tick(): void {
    if (!this.#kept) return;
    this.#look();
    this.sync();
    this.#seal();
  }

  /** Block by block, each some milliseconds of work: everybody else has a turn between two. */
  #seal(): void {
    if (this.#db === null || this.#closed || this.trouble !== null) return;
    let isMore = false;
    this.#try(() => (isMore = this.#lines?.sealBlock() ?? false));
    if (isMore) setImmediate(() => this.#seal());
  }

  /** @param whole what was told is complete: the visit need not be worked out again to be shown */
  close(whole = true): void {
    if (this.#closed) return;
    this.#closed = !this.#kept;
    if (this.#closed) return;
    this.#pausedUntil = -Infinity;
    this.sync();
    this.#try(() => {
      if (this.#db === null) return;
      this.#lines?.sealAll();
      const done = this.#db.prepare('UPDATE visit SET whole = ? WHERE key = ?');
      transaction(this.#db, () => done.run(Number(whole), this.#key), { synced: true });
    });
    this.#closed = true;
    this.#drop();
  }

  #commit(synced: boolean): boolean {
    // A person wants it so: what is gathered counts as taken, up to the limit.
    if (!this.#kept) return true;
    const results = synced && this.#results.waiting && this.#key >= 0;
    if (this.#waiting.length === 0 && !(synced && (this.#unsynced || results))) {
      return this.trouble === null;
    }
    if (this.#closed || this.#options.monotonic() < this.#pausedUntil) return false;
    return this.#try(() => {
      const db = this.#open();
      do this.#append(db, synced);
      while (this.#waiting.length > 0);
      this.#unsynced = !synced;
    });
  }

  #append(db: Database, synced: boolean): void {
    const some = this.#waiting.slice(0, AT_ONCE);
    const mark = this.#lines?.mark();
    try {
      const work = (): void => {
        if (some.length > 0) this.#begin(db);
        for (const line of some) {
          this.#lines?.append(line);
          this.#catalog?.take(line);
          if (line.type !== 'reading') continue;
          this.#firstT = Math.min(this.#firstT, line.t);
          this.#lastT = line.t;
        }
        // Of a reading as few pages as can be; of a visit that has not begun nothing.
        if (!synced || this.#lines === null) return;
        this.#written(db);
        this.#results.write(db, this.#key);
      };
      transaction(db, work, { synced });
    } catch (error) {
      if (mark === undefined) this.#lines = null;
      else this.#lines?.backTo(mark);
      this.#catalog?.forget();
      throw error;
    }
    if (synced) this.#results.written();
    this.#waiting = this.#waiting.slice(some.length);
  }

  #begin(db: Database): void {
    if (this.#lines !== null) return;
    const { id, kind, now } = this.#options;
    this.#key = beginVisit(db, id, kind, now());
    this.#lines = new VisitLines(db, this.#key);
    this.#catalog = new Catalog(db, this.#key);
  }

  #written(db: Database): void {
    const [first, last] = this.#lastT === -Infinity ? [null, null] : [this.#firstT, this.#lastT];
    db.prepare(
      `UPDATE visit SET written_t = :now, whole = 0, begun_t = COALESCE(begun_t, :first),
         last_t = COALESCE(:last, last_t) WHERE key = :visit`,
    ).run({ now: this.#options.now(), first, last, visit: this.#key });
  }

  #open(): Database {
    if (this.#db !== null) return this.#db;
    const db = openDatabase(this.#options.dataDir);
    this.#db = db;
    this.#lines = null;
    this.#file = fileName(this.#options.dataDir);
    return db;
  }

  /**
   * A folder that was deleted or moved away: what is written would go nowhere, without an error. All
   * that the file holds is still to be had through it, and goes into a new one.
   */
  #look(): void {
    const db = this.#db;
    const { dataDir } = this.#options;
    if (db === null || fileName(dataDir) === this.#file) return;
    this.#fail(new Error(sent`${databasePath(dataDir)} is gone`));
    this.#try(() => {
      mkdirSync(dataDir, { recursive: true, mode: 0o700 });
      if (fileName(dataDir) === '') db.prepare('VACUUM INTO ?').run(databasePath(dataDir));
      this.#drop();
      this.#open();
      this.#unsynced = true;
    });
  }

  #try(work: () => unknown): boolean {
    try {
      work();
      this.trouble = null;
      return true;
    } catch (error) {
      this.#fail(error);
      return false;
    }
  }

  #fail(error: unknown): void {
    const reason = error instanceof Error ? error.message : String(error);
    const kept = this.full
      ? sent`No more fits into memory: readings are refused`
      : sent`What comes is kept in memory`;
    this.trouble = sent`The visit is not being recorded: ${reason}. ${kept}. Free some space, see to the folder ${this.#options.dataDir}, or choose another with --data.`;
    this.#pausedUntil = this.#options.monotonic() + PAUSE_MS;
    this.#unsynced = true; // so that it is tried again, also where nothing comes
  }

  #drop(): void {
    try {
      if (this.#db !== null) closeDatabase(this.#db);
    } catch {
      // It was of no use any more.
    }
    this.#db = null;
  }
}

/** What the system calls the database's file; empty where there is none. */
function fileName(dataDir: string): string {
  try {
    const { dev, ino } = statSync(databasePath(dataDir));
    return `${dev}:${ino}`;
  } catch {
    return '';
  }
}
