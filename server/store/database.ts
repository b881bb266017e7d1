/**
 * The database of a data folder, and how surely something is written. Every commit is in the
 * operating system's hands: a killed process loses nothing. What is committed with `synced` is on the
 * disk, and so is everything committed before it: a power cut does not take it.
 */
import { chmodSync, closeSync, existsSync, fsyncSync, mkdirSync, openSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { DatabaseSync } from '@photostructure/sqlite';
import * as z from 'zod';
import { MIGRATIONS } from './migrations.ts';

/** The file of a data folder that holds everything. */
export function databasePath(dataDir: string): string {
  return join(dataDir, 'plateau.db');
}

export type Database = InstanceType<typeof DatabaseSync>;
export type Statement = ReturnType<Database['prepare']>;

/** What a statement is given, in the order of its question marks or by name. */
type Given = readonly (string | number | null | Uint8Array)[] | [Record<string, string | number>];
/** Anything that checks a value, as a schema does. */
interface Schema<T> {
  parse(value: unknown): T;
}

/** The first row of what a statement finds; undefined where it finds none. */
export function one<T>(statement: Statement, schema: Schema<T>, ...given: Given): T | undefined {
  const row: unknown = statement.get(...given);
  return row === undefined ? undefined : schema.parse(row);
}

/** All rows of what a statement finds. */
export function all<T>(statement: Statement, schema: Schema<T>, ...given: Given): T[] {
  return statement.all(...given).map((row: unknown) => schema.parse(row));
}

/** Another program (a backup) may hold the file for so long, ms. */
const BUSY_MS = 5000;

/**
 * Opens the database of a folder for writing, and makes it or brings it to this version's tables where
 * need be.
 * @param path another file of the folder instead
 * @throws Error where it cannot be opened, is damaged, or belongs to a later version
 */
export function openDatabase(dataDir: string, path = databasePath(dataDir)): Database {
  mkdirSync(dataDir, { recursive: true, mode: 0o700 });
  // Made before SQLite does, so that nobody else can read it, nor the files beside it.
  closeSync(openSync(path, 'a', 0o600));
  const db = new DatabaseSync(path, { timeout: BUSY_MS });
  try {
    db.exec('PRAGMA journal_mode = WAL; PRAGMA synchronous = NORMAL; PRAGMA foreign_keys = ON');
    migrate(db);
    // The names of the files are on the disk as well, not only what is in them.
    syncFolder(dataDir);
    syncFolder(dirname(dataDir));
    return db;
  } catch (error) {
    db.close();
    throw error;
  }
}

/** Opens a folder's database to read only; a server may be writing to it. Null where there is none. */
export function readDatabase(dataDir: string): Database | null {
  const path = databasePath(dataDir);
  return existsSync(path) ? readDatabaseFile(path) : null;
}

/**
 * Opens a database, or a backup of one, to read only.
 * @throws Error with a sentence where it is none of this version
 */
export function readDatabaseFile(path: string): Database {
  const { db, found } = opened(path);
  if (found === MIGRATIONS.length) return db;
  db.close();
  throw new Error(
    found > MIGRATIONS.length
      ? `${path} was written by a later version of Plateau: use that one`
      : `${path} was written by an earlier version of Plateau: start the server on it once`,
  );
}

function opened(path: string): { db: Database; found: number } {
  let why = '';
  // After a power cut its last commits lie beside it, and putting them in their place is writing.
  for (const readOnly of [true, false]) {
    const db = new DatabaseSync(path, { readOnly, timeout: BUSY_MS });
    try {
      return { db, found: versionOf(db) };
    } catch (error) {
      db.close();
      why = error instanceof Error ? error.message : String(error);
    }
  }
  throw new Error(`${path} cannot be read: ${why}`);
}

/** Runs `work` as one transaction: all of it or nothing. */
export function transaction<T>(db: Database, work: () => T, { synced = false } = {}): T {
  if (synced) db.exec('PRAGMA synchronous = FULL');
  try {
    db.exec('BEGIN IMMEDIATE');
    try {
      const result = work();
      db.exec('COMMIT');
      return result;
    } catch (error) {
      if (db.isTransaction) db.exec('ROLLBACK');
      throw error;
    }
  } finally {
    if (synced) db.exec('PRAGMA synchronous = NORMAL');
  }
}

const versionRow = z.object({ user_version: z.number() });
/** Closes it, with all that was written in the one file. */
export function closeDatabase(db: Database): void {
  try {
    db.exec('PRAGMA wal_checkpoint(TRUNCATE)');
  } catch {
    // Another program reads, or the disk is full: it is in the file beside it, as surely.
  }
  db.close();
}

function versionOf(db: Database): number {
  return one(db.prepare('PRAGMA user_version'), versionRow)?.user_version ?? 0;
}

function migrate(db: Database): void {
  const found = versionOf(db);
  if (found > MIGRATIONS.length) {
    throw new Error(`it was written by a later version of Plateau (${found}): use that one`);
  }
  MIGRATIONS.slice(found).forEach((statements, i) => {
    const work = (): void => db.exec(`${statements}; PRAGMA user_version = ${found + i + 1}`);
    transaction(db, work, { synced: true });
  });
}

function syncFolder(path: string): void {
  try {
    const folder = openSync(path, 'r');
    fsyncSync(folder);
    closeSync(folder);
  } catch {
    // Windows opens no folders, and keeps their entries by itself.
  }
}

/** Makes the files of the database readable by its owner alone. */
export function closeToOthers(dataDir: string): void {
  for (const end of ['', '-wal', '-shm']) {
    try {
      chmodSync(databasePath(dataDir) + end, 0o600);
    } catch {
      // Not there.
    }
  }
}
