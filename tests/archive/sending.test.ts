/**
 * A van sends its visits over a line that breaks, from a computer and to a database that are killed: the
 * archive holds each visit once, whole, identical to the digit.
 */
import { copyFileSync, mkdirSync } from 'node:fs';
import { join } from 'node:path';
import * as z from 'zod';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { ArchiveDatabase } from '../../server/archive/database.ts';
import { logOf } from '../../server/cli/export.ts';
import { databasePath, openDatabase, readDatabase } from '../../server/store/database.ts';
import { visitById } from '../../server/store/visits.ts';
import { randomStream } from '../../simulator/random.ts';
import { tempFolder } from '../program.ts';
import { OWNER, READER } from './people.ts';
import { POSTGRES } from './postgres.ts';
import { type ArchiveStage, archiveStage, cutLine, logOf as logIn, sendingVan } from './stage.ts';
import { parcelOf, record, T0, visitLines } from './visits.ts';

const CUTS = 50;
const countRow = z.object({ n: z.coerce.number() });

describe.skipIf(POSTGRES === null)('visits of a van', () => {
  const temp = tempFolder();
  const kept = join(temp.path, 'kept');
  let stage: ArchiveStage;
  let local = '';
  let bytes = 0;
  beforeAll(async () => {
    stage = await archiveStage();
    expect(record(kept, 'visit-1', visitLines({ photo: true }))).toEqual([]);
    local = localLog(kept, 'visit-1');
    bytes = parcelOf(kept, 'visit-1').bytes.length;
  });
  afterAll(async () => {
    await stage.end();
    temp.remove();
  });

  /** The same record in a folder of its own. */
  function copied(name: string): string {
    const folder = join(temp.path, name);
    mkdirSync(folder);
    copyFileSync(databasePath(kept), databasePath(folder));
    return folder;
  }
  const logOfVan = (van: string, visit = 'visit-1', db = stage.db): Promise<string> =>
    logIn(db, van, visit);
  const versions = async (van: string): Promise<number> =>
    (
      await stage.db.as(READER, (ask) =>
        ask.one(countRow, 'SELECT count(*) AS n FROM version WHERE van = $1', [van]),
      )
    )?.n ?? -1;

  test(`cut ${CUTS} times, at any byte of what is sent or answered, arrive once and whole`, async () => {
    const dataDir = copied('cut');
    const ids = ['visit-1', ...['a', 'b', 'c', 'd'].map((id) => `visit-${id}`)];
    for (const [i, id] of ids.entries()) {
      if (i > 0) record(dataDir, id, visitLines({ t: T0 + i * 1e7, stretch: 0.2, photo: true }, i));
    }
    const line = await cutLine(stage.url);
    const random = randomStream(7, 'cuts');
    const { van, sender } = await sendingVan(stage, { dataDir, url: line.url, firstPiece: 6000 });
    const most = (1.2 * bytes) / CUTS;
    let broken = 0;
    // Each time a new program: nothing is remembered but what stands in the record and the archive.
    for (let tries = 0; broken < CUTS; tries++) {
      expect(tries).toBeLessThan(3 * CUTS);
      line.cutAfter(tries % 3 === 2 ? Infinity : Math.floor(random.between(0, most)));
      line.cutAnswersAfter(tries % 3 === 2 ? Math.floor(random.between(0, 1500)) : Infinity);
      if (!(await sender().sendAll())) broken++;
    }
    line.cutAfter(Infinity);
    line.cutAnswersAfter(Infinity);
    expect(await sender().sendAll()).toBe(true);
    line.end();
    for (const id of ids) expect(await logOfVan(van.van, id), id).toBe(localLog(dataDir, id));
    expect(await versions(van.van)).toBe(ids.length);
    const left = await stage.db.as(van, (ask) =>
      ask.one(countRow, 'SELECT count(*) AS n FROM incoming'),
    );
    expect(left?.n).toBe(0);
    expect(localLog(dataDir, 'visit-1')).toBe(local); // nothing was taken away here
  });

  test('sent by two programs at once, and again, are there once', async () => {
    const { van, sender } = await sendingVan(stage, { dataDir: copied('twice'), name: 'Van 2' });
    expect(await Promise.all([sender().sendAll(), sender().sendAll()])).toEqual([true, true]);
    expect(await sender().sendAll()).toBe(true);
    expect(await logOfVan(van.van)).toBe(local);
    expect(await versions(van.van)).toBe(1);
  });

  test('that are the first of a month, of many vans at once, are all there', async () => {
    const vans = await Promise.all(
      Array.from({ length: 6 }, async (_, i) => {
        const dataDir = join(temp.path, `month-${i}`);
        record(dataDir, 'visit-m', visitLines({ t: T0 + 40 * 86_400_000, stretch: 0.1 }, i));
        return sendingVan(stage, { dataDir, name: `Month ${i}` });
      }),
    );
    const sent = await Promise.all(vans.map(({ sender }) => sender().sendAll()));
    expect(sent).toEqual(vans.map(() => true));
    for (const { van } of vans) expect(await logOfVan(van.van, 'visit-m')).not.toBe('');
  });

  test('that are changed later make a new version, and overwrite nothing', async () => {
    const dataDir = copied('changed');
    const { van, sender } = await sendingVan(stage, { dataDir, name: 'Van 3' });
    await sender().sendAll();
    const db = openDatabase(dataDir);
    db.exec(`UPDATE visit SET title = 'The new library', written_t = written_t + 1`);
    db.close();
    expect(await sender().sendAll()).toBe(true);
    expect(await versions(van.van)).toBe(2);
    const held = await stage.db.as(READER, (ask) =>
      ask.rows(
        z.object({ n: z.number(), current: z.boolean(), parts: z.coerce.number() }),
        `SELECT n, current, (SELECT count(*) FROM part WHERE part.visit = version.visit
           AND part.n = version.n) AS parts FROM version WHERE van = $1 ORDER BY n`,
        [van.van],
      ),
    );
    expect(held.map(({ n, current }) => [n, current])).toEqual([
      [1, false],
      [2, true],
    ]);
    expect(held.every(({ parts }) => parts > 3)).toBe(true);
    const captures = await stage.db.as(READER, (ask) =>
      ask.one(countRow, 'SELECT count(*) AS n FROM capture WHERE van = $1 AND current', [van.van]),
    );
    expect(captures?.n).toBe(2);
  });

  test('that were only opened again, and are as they were, make none', async () => {
    const dataDir = copied('opened');
    const { van, sender } = await sendingVan(stage, { dataDir, name: 'Van 4' });
    await sender().sendAll();
    const db = openDatabase(dataDir);
    db.exec('UPDATE visit SET written_t = written_t + 1');
    db.close();
    await sender().sendAll();
    expect(await versions(van.van)).toBe(1);
  });

  test('outlive a database that is killed while they come', async () => {
    const dataDir = copied('killed');
    const { van, sender } = await sendingVan(stage, { dataDir, name: 'Van 5', firstPiece: 6000 });
    const line = await cutLine(stage.url);
    line.cutAfter(40_000);
    expect(await sender(line.url).sendAll()).toBe(false);
    line.end();
    await stage.cluster.kill();
    const down = sender();
    expect(await down.sendAll()).toBe(false);
    expect(down.state.trouble).toMatch(
      /database of the archive does not answer now[\s\S]*They are kept here/,
    );
    await stage.cluster.start();
    expect(await sender().sendAll()).toBe(true);
    expect(await logOfVan(van.van)).toBe(local);
    expect(await versions(van.van)).toBe(1);
  });

  test('wait while they go on, are simulated, or were played', async () => {
    const dataDir = join(temp.path, 'waiting');
    record(dataDir, 'real', visitLines({ stretch: 0.1 }));
    record(dataDir, 'made-up', [
      { type: 'visit', version: 1, simulated: true },
      ...visitLines({ stretch: 0.1 }),
    ]);
    const { van, sender } = await sendingVan(stage, { dataDir, name: 'Van 6' });
    await sender().sendAll();
    expect(await logOfVan(van.van, 'real')).not.toBe('');
    expect(await logOfVan(van.van, 'made-up')).toBe('');
  });

  test('of a van whose token was withdrawn are refused, and stay in its record', async () => {
    const dataDir = copied('withdrawn');
    const { van, sender } = await sendingVan(stage, { dataDir, name: 'Van 7' });
    await stage.db.as(OWNER, (ask) =>
      ask.run('UPDATE token SET withdrawn_t = $2 WHERE id = $1', [van.id, T0]),
    );
    const refused = sender();
    expect(await refused.sendAll()).toBe(false);
    expect(refused.state.trouble).toContain('This needs a token');
    expect(localLog(dataDir, 'visit-1')).toBe(local);
    expect(await versions(van.van)).toBe(0);
  });

  test('that are damaged are refused in words, once, and the others arrive', async () => {
    const dataDir = copied('damaged');
    record(dataDir, 'visit-2', visitLines({ t: T0 + 86_400_000, stretch: 0.1 }));
    const db = openDatabase(dataDir);
    db.exec(`UPDATE segment SET data = substr(data, 1, 200) WHERE visit = 1`);
    db.close();
    const { van, sender } = await sendingVan(stage, { dataDir, name: 'Van 8' });
    const one = sender();
    expect(await one.sendAll()).toBe(true);
    expect(one.state.trouble).toMatch(/"visit-1" was not taken: a block of readings is cut short/);
    expect(await logOfVan(van.van, 'visit-2')).not.toBe('');
    expect(await one.sendAll()).toBe(true);
    expect(one.state.waiting).toBe(0);
  });

  test('are there for another server of the same database', async () => {
    const other = await ArchiveDatabase.open(stage.databaseUrl);
    const { van, sender } = await sendingVan(stage, { dataDir: copied('other'), name: 'Van 9' });
    await sender().sendAll();
    expect(await logOfVan(van.van, 'visit-1', other)).toBe(local);
    await other.close();
  });
});

function localLog(dataDir: string, id: string): string {
  const db = readDatabase(dataDir);
  const log = db && [...logOf(db, visitById(db, id)?.key ?? -1)].join('');
  db?.close();
  return log ?? '';
}
