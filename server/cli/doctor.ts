/** `plateau doctor`: looks a data folder over, says what is wrong, and mends what it safely can. */
import {
  chmodSync,
  existsSync,
  readdirSync,
  renameSync,
  statSync,
  accessSync,
  constants,
} from 'node:fs';
import { join } from 'node:path';
import * as z from 'zod';
import type { Line } from '../../adapters/contract.ts';
import {
  all,
  closeDatabase,
  closeToOthers,
  type Database,
  databasePath,
  openDatabase,
} from '../store/database.ts';
import { lockFolder } from '../store/lock.ts';
import { photosAmiss } from '../store/photos.ts';
import { linesOf } from '../store/visit-lines.ts';
import { allVisits, type FoundVisit } from '../store/visits.ts';
import { VisitTaker, workOut } from './work-out.ts';

/** What was found; `open`: it wants a person. */
export interface Finding {
  text: string;
  state: 'well' | 'mended' | 'open';
}

const OTHERS = 0o077;
const textRow = z.record(z.string(), z.unknown()).transform((row) => String(Object.values(row)[0]));

/** Looks the folder over, sentence by sentence. */
export async function* examine(dataDir: string): AsyncGenerator<Finding> {
  if (!existsSync(dataDir)) {
    yield { state: 'open', text: `there is no folder ${dataDir}: choose one with --data` };
    return;
  }
  try {
    accessSync(dataDir, constants.R_OK | constants.W_OK);
    lockFolder(dataDir);
  } catch (error) {
    yield { state: 'open', text: error instanceof Error ? error.message : String(error) };
    return;
  }
  yield* modes(dataDir);
  const old = readdirSync(dataDir).filter((name) => /^(visit|replay)-.*\.ndjson$/.test(name));
  if (old.length > 0) {
    const text = `${old.length} visits are in files of an earlier version: start the server once, and they are taken in`;
    yield { state: 'open', text };
  }
  if (!existsSync(databasePath(dataDir))) {
    yield { state: 'well', text: 'no visit has been recorded here yet' };
    return;
  }
  yield* database(dataDir);
}

/** Who can read it. */
function* modes(dataDir: string): Generator<Finding> {
  if (process.platform === 'win32') return;
  if ((statSync(dataDir).mode & OTHERS) !== 0) {
    chmodSync(dataDir, 0o700);
    yield { state: 'mended', text: 'others could look into the folder: now only its owner can' };
  }
  const path = databasePath(dataDir);
  if (existsSync(path) && (statSync(path).mode & OTHERS) !== 0) {
    closeToOthers(dataDir);
    yield { state: 'mended', text: 'others could read the record: now only its owner can' };
  }
}

async function* database(dataDir: string): AsyncGenerator<Finding> {
  let db: Database;
  try {
    db = openDatabase(dataDir);
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    const text = `${databasePath(dataDir)} cannot be opened (${why}): put a backup in its place`;
    yield { state: 'open', text };
    return;
  }
  const damage = damageOf(db);
  if (damage.length > 0) {
    yield* salvage(dataDir, db, damage);
    return;
  }
  const visits = allVisits(db);
  let well = 0;
  for (const visit of visits) {
    const finding = await examineVisit(dataDir, db, visit);
    if (finding === null) well++;
    else yield finding;
  }
  closeDatabase(db);
  yield { state: 'well', text: `${well} of ${visits.length} visits are whole and well` };
}

/** What the engine itself finds, in its words. */
function damageOf(db: Database): string[] {
  try {
    const found = all(db.prepare('PRAGMA integrity_check(5)'), textRow).filter((t) => t !== 'ok');
    if (found.length > 0) return found;
    const cutOff = all(db.prepare('PRAGMA foreign_key_check'), textRow);
    return cutOff.map((table) => `${table} is cut off`);
  } catch (error) {
    return [error instanceof Error ? error.message : String(error)];
  }
}

async function examineVisit(
  dataDir: string,
  db: Database,
  visit: FoundVisit,
): Promise<Finding | null> {
  try {
    let lines = 0;
    const counted = function* (): Generator<Line> {
      for (const line of linesOf(db, visit.key)) {
        lines++;
        yield line;
      }
    };
    const [photo, ...others] = photosAmiss(counted());
    if (!visit.whole) await workOut(dataDir, db, visit);
    if (photo !== undefined) {
      const more = others.length === 0 ? '' : ` (and of ${others.length} more)`;
      const text =
        `${visit.id}: pieces of the photo ${photo}${more} are missing or were changed: it cannot be ` +
        'shown. Figures and notes are not touched by that; a backup may hold the photo';
      return { state: 'open', text };
    }
    if (visit.whole) return null;
    const text = `${visit.id} was not ended in order: its ${lines} lines are worked out anew`;
    return { state: 'mended', text };
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    return { state: 'open', text: `${visit.id} cannot be read to its end: ${why}` };
  }
}

/** Every line that can be read goes into a new database; the damaged one stays beside it. */
function* salvage(dataDir: string, db: Database, damage: string[]): Generator<Finding> {
  yield { state: 'open', text: `the record is damaged: ${damage.join('; ')}` };
  db.close();
  const path = databasePath(dataDir);
  const aside = join(dataDir, `plateau-damaged-${Date.now()}.db`);
  renameSync(path, aside);
  for (const end of ['-wal', '-shm'])
    if (existsSync(path + end)) renameSync(path + end, aside + end);
  const from = openDatabase(dataDir, aside);
  for (const { id, kind, writtenT, key } of allVisits(from)) {
    const taker = new VisitTaker({ dataDir, id, kind, writtenT });
    let why = '';
    try {
      for (const { after, ...line } of linesOf(from, key)) taker.line(line, after);
    } catch (error) {
      why = `, up to where it is damaged (${error instanceof Error ? error.message : String(error)})`;
    }
    taker.end();
    yield { state: 'mended', text: `${id}: ${taker.taken} lines are saved${why}` };
  }
  from.close();
  yield { state: 'open', text: `the damaged record is kept as ${aside}; a backup may hold more` };
}
