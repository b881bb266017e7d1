/** What is personal of a site can be erased: nothing of it is left anywhere, and every figure stays. */
import pg from 'pg';
import * as z from 'zod';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { erasePersonal } from '../../server/archive/office.ts';
import { archivedLog, searchArchive, showArchived, visitKey } from '../../server/archive/visits.ts';
import { LogReader } from '../../server/visit-log/reader.ts';
import { openDatabase } from '../../server/store/database.ts';
import { tempFolder } from '../program.ts';
import { OWNER, READER } from './people.ts';
import { POSTGRES } from './postgres.ts';
import { type ArchiveStage, archiveStage, sendingVan } from './stage.ts';
import { record, T0, visitLines } from './visits.ts';

const PERSONAL = ['library', 'orchard', 'the town', 'alder', 'birch', 'reading room', 'sn-4711'];
const siteRow = z.object({ site: z.coerce.number() });

describe.skipIf(POSTGRES === null)('a site that is erased', () => {
  const temp = tempFolder();
  let stage: ArchiveStage;
  beforeAll(async () => {
    stage = await archiveStage();
  });
  afterAll(async () => {
    await stage.end();
    temp.remove();
  });

  /** Whether a word stands anywhere in the database's tables, the bytes of the parts included. */
  async function stands(word: string): Promise<string[]> {
    const client = new pg.Client(`${stage.databaseUrl}&options=-csearch_path%3Dplateau`);
    await client.connect();
    const { rows } = await client.query<{ name: string }>(
      `SELECT relname AS name FROM pg_class WHERE relnamespace = 'plateau'::regnamespace
       AND relkind IN ('r', 'p') AND NOT relispartition`,
    );
    const found: string[] = [];
    for (const { name } of rows) {
      const bytes = name === 'part' || name === 'incoming' ? `|| encode(data, 'escape')` : '';
      const { rowCount } = await client.query(
        `SELECT FROM ${name} AS x WHERE lower(x::text ${bytes}) LIKE $1`,
        [`%${word}%`],
      );
      if ((rowCount ?? 0) > 0) found.push(name);
    }
    await client.end();
    return found;
  }

  test('says nothing of people any more, keeps every figure, and does not come back', async () => {
    record(temp.path, 'visit-1', visitLines({ photo: true, serial: 'SN-4711' }));
    const { van, sender } = await sendingVan(stage, { dataDir: temp.path });
    await sender().sendAll();
    // A second version, so that there is an old one as well.
    const rename = (title: string): void => {
      const db = openDatabase(temp.path);
      db.prepare('UPDATE visit SET title = ?, written_t = written_t + 1').run(title);
      db.close();
    };
    rename('The old library');
    await sender().sendAll();
    const key = (await stage.db.as(READER, (ask) => visitKey(ask, van.van, 'visit-1'))) ?? -1;
    const before = await stage.db.as(READER, (ask) => showArchived(ask, key, 500));
    const logBefore = await linesOf(key);
    for (const word of PERSONAL) expect(await stands(word), word).not.toEqual([]);

    const site = await stage.db.as(READER, (ask) =>
      ask.one(siteRow, 'SELECT site FROM visit WHERE key = $1', [key]),
    );
    expect(await stage.db.as(OWNER, (ask) => erasePersonal(ask, site?.site ?? -1, T0))).toBe(true);
    expect(await stage.db.as(OWNER, (ask) => erasePersonal(ask, site?.site ?? -1, T0))).toBe(false);
    for (const word of PERSONAL) expect(await stands(word), word).toEqual([]);

    const after = await stage.db.as(READER, (ask) => showArchived(ask, key, 500));
    expect(after?.history).toEqual(before?.history);
    expect(after?.captures.map(({ totalW, totalU95W, at }) => [totalW, totalU95W, at])).toEqual(
      before?.captures.map(({ totalW, totalU95W, at }) => [totalW, totalU95W, at]),
    );
    expect(after?.verdicts).toEqual(before?.verdicts);
    expect(after?.checks).toEqual(before?.checks);
    expect(after?.captures.length).toBeGreaterThan(0);
    const logAfter = await linesOf(key);
    expect(logAfter.filter((line) => line.includes('"reading"'))).toEqual(
      logBefore.filter((line) => line.includes('"reading"')),
    );
    // It is still a log that can be read.
    const refused: string[] = [];
    const reader = new LogReader({ line: () => undefined, refused: (_, why) => refused.push(why) });
    reader.write(Buffer.from(logAfter.join('\n') + '\n'));
    reader.end();
    expect(refused).toEqual([]);
    const found = await stage.db.as(READER, (ask) =>
      searchArchive(ask, { text: 'library', since: -1e15, until: 1e15, most: 10 }),
    );
    expect(found).toEqual([]);

    // The van changes its visit and sends it again: freed of what is personal before it is taken.
    rename('The library, once more');
    expect(await sender().sendAll()).toBe(true);
    for (const word of PERSONAL) expect(await stands(word), word).toEqual([]);
    const again = await stage.db.as(READER, (ask) => showArchived(ask, key, 500));
    expect(again?.captures.length).toBe(before?.captures.length);
  });

  async function linesOf(key: number): Promise<string[]> {
    const log = await stage.db.as(READER, (ask) => archivedLog(ask, key));
    return [...(log ?? [])].join('').split('\n').filter(Boolean);
  }
});
