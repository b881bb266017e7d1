/** A copy of the whole record in one file, made while a server writes to it. */
import { closeSync, existsSync, fsyncSync, openSync, renameSync, rmSync } from 'node:fs';
import { readDatabase } from './database.ts';

/**
 * @throws Error with a sentence where there is no record, or the file is there already
 */
export function backUp(dataDir: string, file: string): void {
  if (existsSync(file)) throw new Error(`${file} is there already: choose another name`);
  const db = readDatabase(dataDir);
  if (db === null) throw new Error(`there is no record in ${dataDir}: choose a folder with --data`);
  const aside = `${file}.part`;
  try {
    rmSync(aside, { force: true });
    db.prepare('VACUUM INTO ?').run(aside);
    const written = openSync(aside, 'r+');
    fsyncSync(written);
    closeSync(written);
    renameSync(aside, file);
  } catch (error) {
    rmSync(aside, { force: true });
    throw error;
  } finally {
    db.close();
  }
}
