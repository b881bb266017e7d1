/** The tables, version by version, and databases that are not ours to touch. */
import { existsSync, mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, onTestFinished, test } from 'vitest';
import {
  databasePath,
  openDatabase,
  readDatabase,
  transaction,
} from '../../server/store/database.ts';
import { MIGRATIONS } from '../../server/store/migrations.ts';
import { tempFolder } from '../program.ts';

function folder(): string {
  const temp = tempFolder();
  onTestFinished(() => temp.remove());
  return temp.path;
}
const versionOf = (dataDir: string): unknown => {
  const db = openDatabase(dataDir);
  const row: unknown = db.prepare('PRAGMA user_version').get();
  db.close();
  return row;
};

describe('a database', () => {
  test('is brought to this version from each earlier one, and holds what it held', () => {
    for (let version = 0; version < MIGRATIONS.length; version++) {
      const dataDir = folder();
      openDatabase(dataDir).close();
      const db = openDatabase(dataDir);
      // As that version made it.
      for (const { name } of db
        .prepare("SELECT name FROM sqlite_master WHERE type = 'table'")
        .all() as { name: string }[]) {
        db.exec(`PRAGMA foreign_keys = OFF; DROP TABLE IF EXISTS ${name}`);
      }
      for (const statements of MIGRATIONS.slice(0, version)) db.exec(statements);
      db.exec(`PRAGMA user_version = ${version}`);
      db.close();
      expect(versionOf(dataDir)).toMatchObject({ user_version: MIGRATIONS.length });
    }
  });

  test('of a later version is left alone, with a sentence', () => {
    const dataDir = folder();
    const db = openDatabase(dataDir);
    db.exec(`PRAGMA user_version = ${MIGRATIONS.length + 1}`);
    db.close();
    expect(() => openDatabase(dataDir)).toThrow(/written by a later version of Plateau/);
    expect(() => readDatabase(dataDir)).toThrow(/written by a later version of Plateau/);
  });

  test('that is none is left as it is', () => {
    const dataDir = join(folder(), 'data');
    expect(readDatabase(dataDir)).toBeNull();
    expect(existsSync(dataDir)).toBe(false);
    mkdirSync(dataDir);
    writeFileSync(
      databasePath(dataDir),
      'Somebody else’s file, and longer than a head of SQLite. '.repeat(20),
    );
    expect(() => openDatabase(dataDir)).toThrow(/not a database/);
    expect(() => readDatabase(dataDir)).toThrow(/cannot be read: .*not a database/);
  });

  test('keeps all of a transaction or nothing', () => {
    const db = openDatabase(folder());
    const insert = "INSERT INTO site (id, name, address) VALUES ('s', '', '')";
    expect(() =>
      transaction(db, () => {
        db.exec(insert);
        throw new Error('power');
      }),
    ).toThrow('power');
    expect(db.prepare('SELECT COUNT(*) AS n FROM site').get()).toMatchObject({ n: 0 });
    transaction(db, () => db.exec(insert), { synced: true });
    expect(db.prepare('SELECT COUNT(*) AS n FROM site').get()).toMatchObject({ n: 1 });
    db.close();
  });
});
