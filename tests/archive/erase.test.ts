/** What is personal of a site can be erased: nothing of it is left anywhere, and every figure stays. */
import { createHash } from 'node:crypto';
import { join } from 'node:path';
import pg from 'pg';
import * as z from 'zod';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Line } from '../../adapters/contract.ts';
import type { Ask, Asker } from '../../server/archive/database.ts';
import { Intake } from '../../server/archive/intake.ts';
import { deleteVisit, erasePersonal } from '../../server/archive/office.ts';
import { partBytes, partsOf } from '../../server/archive/parcel.ts';
import { takeVisit } from '../../server/archive/taking.ts';
import { readParcel } from '../../server/archive/visit-parts.ts';
import { archivedLog, searchArchive, showArchived, visitKey } from '../../server/archive/visits.ts';
import { LogReader } from '../../server/visit-log/reader.ts';
import { openDatabase } from '../../server/store/database.ts';
import { tempFolder } from '../program.ts';
import { OWNER, READER } from './people.ts';
import { POSTGRES } from './postgres.ts';
import { type ArchiveStage, archiveStage, sendingVan } from './stage.ts';
import { parcelOf, record, T0, visitLines } from './visits.ts';

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

  /** Erases the site of a van's visit. */
  async function erase(van: string): Promise<void> {
    const of = await stage.db.as(READER, (ask) =>
      ask.one(siteRow, 'SELECT site FROM visit WHERE van = $1 LIMIT 1', [van]),
    );
    expect(await stage.db.as(OWNER, (ask) => erasePersonal(ask, of?.site ?? -1, T0))).toBe(true);
  }

  test('takes with it an address that was corrected, and the units that were found there', async () => {
    const dataDir = join(temp.path, 'corrected');
    const personal = {
      ...{ title: 'Cottage', address: '9 Heron Lane', unitName: 'Larder', serial: 'QQ-77' },
      stretch: 0.1,
    };
    record(dataDir, 'visit-1', visitLines(personal));
    const { van, sender } = await sendingVan(stage, { dataDir, name: 'Van 2' });
    await sender().sendAll();
    const db = openDatabase(dataDir);
    db.exec(`UPDATE visit SET written_t = written_t + 1,
      details = json_set(details, '$.address', '9 Stork Lane')`);
    db.close();
    await sender().sendAll();
    expect(await stands('stork lane')).toContain('site');
    await erase(van.van);
    for (const word of ['heron', 'stork', 'cottage', 'larder', 'qq-77']) {
      expect(await stands(word), word).toEqual([]);
    }
  });

  test('keeps what is called by another site, to which a unit was moved since', async () => {
    const dataDir = join(temp.path, 'moved');
    const unit = { serial: 'QQ-78', stretch: 0.1 };
    record(
      dataDir,
      'visit-1',
      visitLines({ ...unit, address: '1 Tern Road', unitName: 'Scullery' }),
    );
    record(dataDir, 'visit-2', visitLines({ ...unit, address: '2 Gull Road', unitName: 'Pantry' }));
    const { van, sender } = await sendingVan(stage, { dataDir, name: 'Van 3' });
    await sender().sendAll();
    const place = async (visit: string) =>
      stage.db.as(READER, (ask) =>
        ask.one(
          z.object({ site: z.coerce.number(), unit: z.coerce.number() }),
          `SELECT site, unit FROM visit JOIN visit_unit ON visit_unit.visit = visit.key
           WHERE visit.van = $1 AND visit.id = $2`,
          [van.van, visit],
        ),
      );
    const [one, two] = [await place('visit-1'), await place('visit-2')];
    expect(one?.unit).toBe(two?.unit);
    await stage.db.as(OWNER, (ask) => erasePersonal(ask, one?.site ?? -1, T0));
    expect([await stands('scullery'), await stands('tern road')]).toEqual([[], []]);
    expect(await stands('pantry')).toContain('unit');
    await stage.db.as(OWNER, (ask) => erasePersonal(ask, two?.site ?? -1, T0));
    for (const word of ['pantry', 'gull road', 'qq-78']) expect(await stands(word)).toEqual([]);
  });

  test.each(['erased', 'deleted'])(
    'that is %s leaves nothing, nor of what had begun to come',
    async (how) => {
      const dataDir = join(temp.path, how);
      record(dataDir, 'visit-1', visitLines({ title: `Boathouse ${how}`, stretch: 0.1 }));
      const { van, sender } = await sendingVan(stage, { dataDir, name: how });
      await sender().sendAll();
      const intake = new Intake(stage.db, () => T0);
      const { bytes } = parcelOf(dataDir, 'visit-1');
      const of = { visit: 'visit-1', hash: 'f'.repeat(64), bytes: bytes.length };
      expect(await intake.take(van, of, 0, bytes.subarray(0, 2000))).toMatchObject({ held: 2000 });
      expect(await stands(`boathouse ${how}`)).toContain('incoming');
      if (how === 'erased') await erase(van.van);
      else {
        const key = await stage.db.as(READER, (ask) => visitKey(ask, van.van, 'visit-1'));
        await stage.db.as(OWNER, (ask) => deleteVisit(ask, key ?? -1));
      }
      expect(await stands(`boathouse ${how}`)).toEqual([]);
      expect(await intake.held(van, of)).toEqual({ held: 0, taken: false });
    },
  );

  test('keeps no field that is not known, and nothing that leads to other visits there', async () => {
    const dataDir = join(temp.path, 'fields');
    const [visit, ...rest] = visitLines({ title: 'Ferry', address: '4 Quay', stretch: 0.1 });
    if (visit?.type !== 'visit') throw new Error('the first line is no visit');
    record(dataDir, 'visit-1', [{ ...visit, site: 'miller-house' }, ...rest]);
    const { van } = await sendingVan(stage, { dataDir, name: 'Van 7' });
    // As one of a later version would be; a log may carry more than this one understands.
    const parts = partsOf(parcelOf(dataDir, 'visit-1').bytes).map(({ kind, data }) => {
      const text = Buffer.from(data).toString();
      return kind === 'l'
        ? partBytes({ kind, data: Buffer.from(text.replace('{', '{"phone":"555-0199",')) })
        : partBytes({ kind, data });
    });
    const parcel = Buffer.concat(parts);
    const hash = createHash('sha256').update(parcel).digest('hex');
    const of = { visit: 'visit-1', hash, bytes: parcel.length };
    expect(await new Intake(stage.db, () => T0).take(van, of, 0, parcel)).toMatchObject({
      taken: true,
    });
    for (const word of ['555-0199', 'miller-house']) expect(await stands(word)).toEqual(['part']);
    await erase(van.van);
    for (const word of ['555-0199', 'miller-house']) expect(await stands(word)).toEqual([]);
  });

  /** Begins a transaction and holds it open. @returns what lets it end */
  async function held(asker: Asker, work: (ask: Ask) => Promise<unknown>) {
    let go: () => void = () => undefined;
    const gate = new Promise<void>((done) => (go = done));
    let begun: () => void = () => undefined;
    const isBegun = new Promise<void>((done) => (begun = done));
    const ended = stage.db.as(asker, async (ask) => {
      await work(ask);
      begun();
      await gate;
    });
    await Promise.race([isBegun, ended]);
    return { go, ended };
  }
  const SHORTLY = 200;
  const shortly = (): Promise<void> => new Promise((done) => setTimeout(done, SHORTLY));

  test.each(['a new version', 'a new visit'])(
    'while %s of it is taken, is erased whole',
    async (what) => {
      const dataDir = join(temp.path, what);
      const title = what.replaceAll(' ', '-');
      // Without units: nothing but the site is shared.
      const lines = (seed: number): Line[] =>
        visitLines({ title, address: title, stretch: 0.1 }, seed).filter(
          ({ type }) => type === 'visit' || type === 'reading',
        );
      record(dataDir, 'visit-1', lines(1));
      const { van, sender } = await sendingVan(stage, { dataDir, name: 'Van 8' });
      await sender().sendAll();
      const next = what === 'a new visit' ? 'visit-2' : 'visit-1';
      const more = join(temp.path, `more ${what}`);
      record(more, next, lines(2));
      const parcel = parcelOf(more, next);
      const sent = readParcel(parcel.bytes);
      const taking = await held(van, (ask) =>
        takeVisit(ask, van, sent, {
          ...{ hash: Buffer.from(parcel.hash, 'hex'), bytes: parcel.bytes.length, now: T0 },
        }),
      );
      const erased = erase(van.van);
      await shortly();
      taking.go();
      await Promise.all([taking.ended, erased]);
      expect(await stands(title)).toEqual([]);
    },
  );

  test('while it is erased, gets its new version freed', async () => {
    const dataDir = join(temp.path, 'meanwhile');
    record(dataDir, 'visit-1', visitLines({ title: 'Windmill', address: '3 Sails', stretch: 0.1 }));
    const { van, sender } = await sendingVan(stage, { dataDir, name: 'Van 9' });
    await sender().sendAll();
    const of = await stage.db.as(READER, (ask) =>
      ask.one(siteRow, 'SELECT site FROM visit WHERE van = $1', [van.van]),
    );
    const erasing = await held(OWNER, (ask) => erasePersonal(ask, of?.site ?? -1, T0));
    const db = openDatabase(dataDir);
    db.exec(`UPDATE visit SET title = 'The windmill', written_t = written_t + 1`);
    db.close();
    const sending = sender().sendAll();
    await shortly();
    erasing.go();
    await erasing.ended;
    expect(await sending).toBe(true);
    for (const word of ['windmill', '3 sails']) expect(await stands(word), word).toEqual([]);
  });

  async function linesOf(key: number): Promise<string[]> {
    const log = await stage.db.as(READER, (ask) => archivedLog(ask, key));
    return [...(log ?? [])].join('').split('\n').filter(Boolean);
  }
});
