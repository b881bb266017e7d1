/** What the page of operation says of backups, run as it stands there: every visit comes back, with its rights. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import pg from 'pg';
import * as z from 'zod';
import { afterAll, beforeAll, describe, expect, onTestFinished, test } from 'vitest';
import { ArchiveDatabase, type Asker } from '../../server/archive/database.ts';
import { deleteVisit } from '../../server/archive/office.ts';
import { visitKey } from '../../server/archive/visits.ts';
import { ROOT, tempFolder } from '../program.ts';
import { newVan, OWNER, READER } from './people.ts';
import { type Cluster, POSTGRES, startCluster } from './postgres.ts';
import { archiveStage, type ArchiveStage, logOf, sendingVan } from './stage.ts';
import { record, visitLines } from './visits.ts';

const page = readFileSync(join(ROOT, 'server/archive/README.md'), 'utf8');
const section = /### Backup[^]*?(?=\n### )/.exec(page)?.[0] ?? '';
/** The blocks of that section, in order. */
const [DUMP = '', RESTORE = '', KEEP = '', GO_BACK = ''] = [
  ...section.matchAll(/^```\n([^]*?)^```$/gm),
].map(([, block = '']) => block);
const BASE = /`(pg_basebackup [^`]*)`/.exec(section)?.[1] ?? '';

/** Lines of `postgresql.conf` as a server is told them. */
const settings = (lines: string): string[] =>
  lines
    .trim()
    .split('\n')
    .map((line) => line.replace(' = ', '=').replaceAll("'", ''));

/** The titles of the visits that somebody is let see. */
const titles = (db: ArchiveDatabase, asker: Asker = READER): Promise<string[]> =>
  db.as(asker, async (ask) =>
    (await ask.rows(z.object({ title: z.string() }), 'SELECT title FROM visit ORDER BY title')).map(
      ({ title }) => title,
    ),
  );
const textOf = (db: ArchiveDatabase, { van }: Asker, id: string): Promise<string> =>
  logOf(db, van ?? '', id);

test('the page has the commands', () => {
  expect(DUMP).toMatch(/^pg_dumpall --roles-only.*\npg_dump .*\n$/);
  expect(RESTORE).toMatch(/pg_restore /);
  expect(KEEP).toMatch(/archive_command = /);
  expect(GO_BACK).toMatch(/recovery_target_time = '[-\d]+ [:\d]+\+00'/);
  expect(BASE).toMatch(/--pgdata=BASE/);
});

describe.skipIf(POSTGRES === null)('a backup', () => {
  const temp = tempFolder();
  let stage: ArchiveStage;
  let van: Asker;
  let send: (id: string, title: string) => Promise<void>;
  beforeAll(async () => {
    stage = await archiveStage({ settings: settings(KEEP.replaceAll('SAFE', '../safe')) });
    stage.cluster.run('mkdir safe');
    const { van: made, sender } = await sendingVan(stage, { dataDir: temp.path });
    van = made;
    send = async (id, title) => {
      record(temp.path, id, visitLines({ title, address: `${title} Street` }));
      await sender().sendAll();
    };
  });
  afterAll(async () => {
    await stage.end();
    temp.remove();
  });

  /** The archive on another cluster, as its own login finds it. */
  async function opened(cluster: Cluster, database: string): Promise<ArchiveDatabase> {
    const db = await ArchiveDatabase.open(cluster.ownUrl(database));
    onTestFinished(() => db.close());
    return db;
  }

  test('of a night is put back into another cluster: visits to the byte, and who may see them', async () => {
    await send('visit-1', 'Dumped');
    const { cluster } = stage;
    const name = 'archive1';
    cluster.run(DUMP.replace(/archive\n$/, `${name}\n`));
    const other = await startCluster();
    onTestFinished(() => other.end());
    const here = RESTORE.replace(/\barchive\.dump/, `${cluster.folder}/archive.dump`).replace(
      'roles.sql',
      `${cluster.folder}/roles.sql`,
    );
    for (const line of here.trim().split('\n')) other.run(line);
    const db = await opened(other, 'archive');
    expect(await titles(db)).toEqual(['Dumped']);
    expect(await textOf(db, van, 'visit-1')).toBe(await textOf(stage.db, van, 'visit-1'));
    expect(await titles(db, van)).toEqual(['Dumped']);
    expect(await titles(db, await newVan(db, 'Another'))).toEqual([]);
  });

  test('goes back to a moment: before a visit was deleted by mistake', async () => {
    const { cluster } = stage;
    cluster.run(BASE);
    await send('visit-2', 'Deleted by mistake');
    const before = await textOf(stage.db, van, 'visit-2');
    const client = new pg.Client(cluster.superuserUrl('archive1'));
    await client.connect();
    onTestFinished(() => client.end());
    const { rows } = await client.query<{ now: string }>(
      `SELECT to_char(clock_timestamp() AT TIME ZONE 'UTC', 'YYYY-MM-DD HH24:MI:SS.US') || '+00' AS now`,
    );
    await stage.db.as(OWNER, async (ask) => {
      const key = await visitKey(ask, van.van ?? '', 'visit-2');
      expect(await deleteVisit(ask, key ?? NaN)).toBe(true);
    });
    expect(await titles(stage.db)).toEqual(['Dumped']);
    // What archive_timeout does within a minute.
    await client.query('SELECT pg_switch_wal()');
    const archived = async (): Promise<unknown> =>
      (await client.query<{ n: string }>('SELECT archived_count AS n FROM pg_stat_archiver')).rows;
    const count = await archived();
    await expect.poll(archived, { timeout: 30_000 }).not.toEqual(count);

    cluster.run('touch BASE/recovery.signal');
    const back = GO_BACK.replace('SAFE', `${cluster.folder}/safe`).replace(
      /[-\d]+ [:\d]+\+00/,
      rows[0]?.now ?? '',
    );
    const other = await startCluster(settings(back), `${cluster.folder}/BASE`);
    onTestFinished(() => other.end());
    const db = await opened(other, 'archive1');
    expect(await titles(db)).toEqual(['Deleted by mistake', 'Dumped']);
    expect(await textOf(db, van, 'visit-2')).toBe(before);
  });
});
