/** `plateau export`: visits of the record as visit logs, as their lines were taken. */
import { mkdirSync, openSync, writeSync, closeSync } from 'node:fs';
import { join } from 'node:path';
import type { Database } from '../store/database.ts';
import { readDatabase } from '../store/database.ts';
import { linesOf } from '../store/visit-lines.ts';
import { allVisits, type FoundVisit, newestVisit, visitById } from '../store/visits.ts';

/** Bytes that are written at once. */
const PIECE = 1 << 16;

/** The text of a visit's log, in pieces of whole lines. */
export function* logOf(db: Database, visit: number): Generator<string> {
  let piece: string[] = [];
  let size = 0;
  for (const line of linesOf(db, visit)) {
    const text = `${JSON.stringify(line)}\n`;
    piece.push(text);
    size += text.length;
    if (size < PIECE) continue;
    yield piece.join('');
    piece = [];
    size = 0;
  }
  yield piece.join('');
}

export interface ExportOptions {
  dataDir: string;
  /** Null: the newest. */
  visit: string | null;
  /** A folder for all visits, each in a file of its own; null: one, to standard output. */
  allTo: string | null;
}

/**
 * Runs it. A server may be writing to the record meanwhile.
 * @param write standard output; resolves when it can take more
 * @throws Error with a sentence where there is nothing of that name
 */
export async function exportVisits(
  { dataDir, visit, allTo }: ExportOptions,
  write: (text: string) => Promise<void>,
): Promise<void> {
  const db = readDatabase(dataDir);
  if (db === null) throw new Error(`there is no record in ${dataDir}: choose a folder with --data`);
  try {
    if (allTo !== null) {
      mkdirSync(allTo, { recursive: true });
      for (const each of allVisits(db)) {
        const path = join(allTo, `${each.id}.ndjson`);
        toFile(path, logOf(db, each.key));
        await write(`${path}\n`);
      }
      return;
    }
    for (const text of logOf(db, findVisit(db, visit).key)) await write(text);
  } finally {
    db.close();
  }
}

/**
 * The visit of that id, or the newest.
 * @throws Error with a sentence where there is none
 */
export function findVisit(db: Database, id: string | null): FoundVisit {
  const found = id === null ? (newestVisit(db) ?? allVisits(db).at(-1)) : visitById(db, id);
  if (found) return found;
  const known = allVisits(db).slice(-5);
  throw new Error(
    id === null
      ? 'there is no visit in this record yet'
      : `there is no visit "${id}": the newest are ${known.map((each) => each.id).join(', ')}`,
  );
}

function toFile(path: string, pieces: Iterable<string>): void {
  const file = openSync(path, 'w', 0o600);
  try {
    for (const piece of pieces) writeSync(file, piece);
  } finally {
    closeSync(file);
  }
}
