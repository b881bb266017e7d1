/** `plateau import FILE`: visit logs, or the visits of a backup, into the data folder's database. */
import { createHash } from 'node:crypto';
import { createReadStream, openSync, readSync, closeSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { allVisits, visitById, type VisitKind } from '../store/visits.ts';
import { openDatabase, readDatabaseFile } from '../store/database.ts';
import { linesOf } from '../store/visit-lines.ts';
import { lockFolder } from '../store/lock.ts';
import { LogReader } from '../visit-log/reader.ts';
import { VisitTaker } from './work-out.ts';

export interface LogImport {
  id: string;
  kind: VisitKind;
  /** When the log was written, ms. */
  writtenT: number;
  refused: (lineNumber: number, why: string) => void;
}

/**
 * Takes a visit log in.
 * @returns how many lines were taken
 * @throws Error with a sentence where the file or the folder is of no use
 */
export async function importLog(dataDir: string, path: string, log: LogImport): Promise<number> {
  const taker = new VisitTaker({ dataDir, ...log });
  const reader = new LogReader({
    line: (line, lineNumber, after) => {
      const why = taker.line(line, after);
      if (why !== null) log.refused(lineNumber, why);
    },
    refused: log.refused,
  });
  try {
    for await (const chunk of createReadStream(path, { highWaterMark: 1 << 18 })) {
      if (chunk instanceof Uint8Array) reader.write(chunk);
    }
    reader.end();
    taker.end();
  } finally {
    taker.abandon();
  }
  return taker.taken;
}

/**
 * Runs it: a visit log, a backup, or a folder of visit logs.
 * @returns the exit status: 1 where a line or a file was refused
 */
export async function importAll(
  dataDir: string,
  path: string,
  out: (text: string) => void,
  tell: (text: string) => void,
): Promise<0 | 1> {
  lockFolder(dataDir);
  const isFolder = statSync(path).isDirectory();
  const files = isFolder
    ? readdirSync(path)
        .filter((name) => name.endsWith('.ndjson'))
        .sort()
        .map((name) => join(path, name))
    : [path];
  let status: 0 | 1 = 0;
  for (const file of files) {
    if (isDatabase(file)) importBackup(dataDir, file, out);
    else if (!(await importOne(dataDir, file, out, tell))) status = 1;
  }
  return status;
}

async function importOne(
  dataDir: string,
  file: string,
  out: (text: string) => void,
  tell: (text: string) => void,
): Promise<boolean> {
  const id = `import-${await hashOf(file)}`;
  if (isThere(dataDir, id)) {
    out(`${file} is there already, as ${id}\n`);
    return true;
  }
  let refused = 0;
  const taken = await importLog(dataDir, file, {
    id,
    kind: 'import',
    writtenT: statSync(file).mtimeMs,
    refused: (lineNumber, why) => {
      refused++;
      tell(`${file}: line ${lineNumber}: ${why}`);
    },
  });
  if (taken === 0) tell(`${file} holds no line of a visit: nothing was taken`);
  else out(`${file} is taken as ${id}: ${taken} lines\n`);
  return refused === 0 && taken > 0;
}

function importBackup(dataDir: string, file: string, out: (text: string) => void): void {
  const from = readDatabaseFile(file);
  for (const visit of allVisits(from)) {
    if (isThere(dataDir, visit.id)) {
      out(`${visit.id} is there already\n`);
      continue;
    }
    const { id, kind, writtenT } = visit;
    const taker = new VisitTaker({ dataDir, id, kind, writtenT });
    for (const { after, ...line } of linesOf(from, visit.key)) taker.line(line, after);
    taker.end();
    out(`${id} is taken: ${taker.taken} lines\n`);
  }
  from.close();
}

function isThere(dataDir: string, id: string): boolean {
  const db = openDatabase(dataDir);
  const there = visitById(db, id) !== null;
  db.close();
  return there;
}

const SQLITE = 'SQLite format 3';
function isDatabase(path: string): boolean {
  const head = Buffer.alloc(SQLITE.length);
  const file = openSync(path, 'r');
  readSync(file, head, 0, head.length, 0);
  closeSync(file);
  return head.toString('latin1') === SQLITE;
}

/** So that the same log is not taken twice. */
async function hashOf(path: string): Promise<string> {
  const hash = createHash('sha256');
  for await (const chunk of createReadStream(path)) {
    if (chunk instanceof Uint8Array) hash.update(chunk);
  }
  return hash.digest('hex').slice(0, 16);
}
