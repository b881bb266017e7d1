/** Visits come in pieces, whole, once, and as they were; versions follow each other. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { ArchiveDatabase } from '../../server/archive/database.ts';
import { Intake, OutOfTurn, Unfit, type Van } from '../../server/archive/intake.ts';
import { archivedLog, visitKey } from '../../server/archive/visits.ts';
import { logOf } from '../../server/cli/export.ts';
import { readDatabase } from '../../server/store/database.ts';
import { visitById } from '../../server/store/visits.ts';
import { tempFolder } from '../program.ts';
import { newVan, READER } from './people.ts';
import { type Cluster, POSTGRES, startCluster } from './postgres.ts';
import { parcelOf, record, T0, visitLines } from './visits.ts';

describe.skipIf(POSTGRES === null)('a visit that comes', () => {
  const temp = tempFolder();
  let cluster: Cluster;
  let db: ArchiveDatabase;
  let intake: Intake;
  let van: Van;
  beforeAll(async () => {
    cluster = await startCluster();
    db = await ArchiveDatabase.open(await cluster.newDatabase());
    van = await newVan(db, 'Van 1');
    intake = new Intake(db, () => T0);
  });
  afterAll(async () => {
    await db.close();
    await cluster.end();
    temp.remove();
  });

  test('in one piece is there, and is read back to the digit', async () => {
    expect(record(temp.path, 'whole', visitLines({ photo: true }))).toEqual([]);
    const { bytes, ...of } = parcelOf(temp.path, 'whole');
    const announced = { ...of, bytes: bytes.length };
    expect(await intake.held(van, announced)).toEqual({ held: 0, taken: false });
    expect(await intake.take(van, announced, 0, bytes)).toEqual({
      held: bytes.length,
      taken: true,
    });
    expect(await intake.held(van, announced)).toEqual({ held: bytes.length, taken: true });
    const local = readDatabase(temp.path);
    const log = local && [...logOf(local, visitById(local, 'whole')?.key ?? -1)].join('');
    local?.close();
    const key = (await db.as(READER, (ask) => visitKey(ask, van.van, 'whole'))) ?? -1;
    const archived = await db.as(READER, (ask) => archivedLog(ask, key));
    expect(archived?.join('')).toBe(log);
  });
});
