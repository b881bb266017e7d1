/** Who sees and changes what: asked of the database itself, past the server; and of the server. */
import pg from 'pg';
import * as z from 'zod';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Van } from '../../server/archive/intake.ts';
import { makeToken } from '../../server/archive/tokens.ts';
import { visitKey } from '../../server/archive/visits.ts';
import { openDatabase } from '../../server/store/database.ts';
import { tempFolder } from '../program.ts';
import { OWNER, READER } from './people.ts';
import { POSTGRES } from './postgres.ts';
import { type ArchiveStage, archiveStage, sendingVan } from './stage.ts';
import { record, T0, visitLines } from './visits.ts';

const countRow = z.object({ n: z.coerce.number() });
const TABLES = [
  ...['visit', 'visit_unit', 'version', 'part', 'capture', 'verdict', 'airflow', 'probe_check'],
];

describe.skipIf(POSTGRES === null)('in the database itself', () => {
  const temp = tempFolder();
  let stage: ArchiveStage;
  let mine: Van;
  let other: Van;
  let client: pg.Client;
  beforeAll(async () => {
    stage = await archiveStage();
    record(temp.path, 'visit-1', visitLines({ stretch: 1 }));
    for (const name of ['Mine', 'Other']) {
      const { van, sender } = await sendingVan(stage, { dataDir: temp.path, name });
      expect(await sender().sendAll()).toBe(true);
      if (name === 'Mine') mine = van;
      else other = van;
      // Each of the two sends the same record.
      const local = openDatabase(temp.path);
      local.exec('DELETE FROM sent');
      local.close();
    }
    client = new pg.Client(`${stage.databaseUrl}&options=-csearch_path%3Dplateau`);
    await client.connect();
  });
  afterAll(async () => {
    await client.end();
    await stage.end();
    temp.remove();
  });

  /** As a role, with what the server would say of who asks. @returns rows, or why not */
  async function as(role: string, van: string, statement: string): Promise<number | string> {
    await client.query('BEGIN');
    try {
      await client.query(`SELECT set_config('plateau.van', $1, true)`, [van]);
      await client.query(`SET LOCAL ROLE ${role}`);
      return (await client.query(statement)).rowCount ?? 0;
    } catch (error) {
      return error instanceof Error ? error.message : String(error);
    } finally {
      await client.query('ROLLBACK');
    }
  }

  test.each(TABLES)(
    'a van sees its own rows of %s only, and cannot make any for another',
    async (table) => {
      const all = await as('plateau_reader', '', `SELECT FROM ${table}`);
      const own = await as('plateau_van', mine.van, `SELECT FROM ${table}`);
      expect(Number(own)).toBe(Number(all) / 2);
      expect(
        await as('plateau_van', mine.van, `SELECT FROM ${table} WHERE van = '${other.van}'`),
      ).toBe(0);
      expect(await as('plateau_van', '', `SELECT FROM ${table}`)).toBe(0);
      const another = `INSERT INTO ${table} DEFAULT VALUES`;
      const forged = `UPDATE ${table} SET van = '${other.van}'`;
      expect(await as('plateau_van', mine.van, forged)).toMatch(/permission denied/);
      expect(await as('plateau_van', mine.van, `DELETE FROM ${table}`)).toMatch(
        /permission denied/,
      );
      expect(await as('plateau_reader', '', another)).toMatch(/permission denied/);
      expect(await as('plateau_reader', '', `UPDATE ${table} SET van = van`)).toMatch(
        /permission denied/,
      );
    },
  );

  test('a van cannot put anything into a visit of another, in its own name', async () => {
    const { rows } = await client.query<{ month: string; visit: string; unit: string }>(
      `SELECT month::text, visit, unit FROM version JOIN visit_unit USING (visit)
       WHERE version.van = $1 LIMIT 1`,
      [other.van],
    );
    const [of] = rows;
    if (of === undefined) throw new Error('the other has no visit');
    const version = `'${of.month}', ${of.visit}`;
    for (const forged of [
      `version (month, visit, n, van, hash, bytes, readings, taken_t)
         VALUES (${version}, 2, '${mine.van}', '', 1, 1, 0)`,
      `part (month, visit, n, van, i, kind, data) VALUES (${version}, 1, '${mine.van}', 99, 'l', '')`,
      `baseline (month, visit, n, van, unit, t) VALUES (${version}, 1, '${mine.van}', ${of.unit}, 0)`,
      `photo (id, visit, van) VALUES ('0', ${of.visit}, '${mine.van}')`,
      `visit_unit (visit, id, unit, van) VALUES (${of.visit}, 'u9', ${of.unit}, '${mine.van}')`,
    ]) {
      const statement = `INSERT INTO ${forged}`;
      expect(await as('plateau_van', mine.van, statement), forged).toMatch(/row-level security/);
    }
  });

  test('a van alters nothing that it has sent, and undoes no erasing', async () => {
    for (const alter of [
      `part SET data = ''`,
      `version SET hash = ''`,
      `version SET n = n + 1`,
      'capture SET total_w = 0',
      `photo SET id = ''`,
      'visit SET erased_t = NULL',
    ]) {
      expect(await as('plateau_van', mine.van, `UPDATE ${alter}`), alter).toMatch(
        /permission denied/,
      );
    }
    expect(await as('plateau_van', mine.van, 'UPDATE version SET current = false')).toBe(1);
  });

  test('a partition is no way around', async () => {
    const part = `part_${new Date(T0).toISOString().slice(0, 7).replace('-', '_')}`;
    for (const role of ['plateau_van', 'plateau_reader', 'plateau_door']) {
      expect(await as(role, other.van, `SELECT FROM ${part}`), role).toMatch(/permission denied/);
    }
  });

  test('nobody but the owner sees tokens and the audit, and nobody writes the audit', async () => {
    for (const table of ['token', 'audit', 'alias']) {
      for (const role of ['plateau_van', 'plateau_reader', 'plateau_door']) {
        expect(await as(role, mine.van, `SELECT FROM ${table}`), role).toMatch(/permission denied/);
      }
      expect(Number(await as('plateau_owner', '', `SELECT FROM ${table}`))).toBeGreaterThan(0);
    }
    for (const statement of [
      `INSERT INTO audit (who, did, what) VALUES ('a', 'b', 'c')`,
      'DELETE FROM audit',
      `UPDATE audit SET who = 'nobody'`,
      `UPDATE token SET withdrawn_t = NULL, hash = ''`,
    ]) {
      expect(await as('plateau_owner', '', statement)).toMatch(/permission denied/);
    }
  });

  test('whoever has shown no token may ask for nothing but that', async () => {
    for (const table of [...TABLES, 'site', 'unit', 'van', 'probe', 'incoming']) {
      expect(await as('plateau_door', '', `SELECT FROM ${table}`)).toMatch(/permission denied/);
    }
    expect(await as('plateau_door', '', `SELECT * FROM who_shows('\\x00')`)).toBe(0);
    expect(await as('plateau_van', mine.van, `SELECT site_of('\\x00', 'a', 'b')`)).toBe(1);
    expect(await as('plateau_reader', '', `SELECT site_of('\\x00', 'a', 'b')`)).toMatch(
      /permission denied/,
    );
  });

  test('a van has no way to the office, and a reader none to the intake', async () => {
    const made = await stage.db.as(OWNER, async (ask) => {
      return {
        reader: await makeToken(ask, { role: 'reader', name: 'Desk' }, T0),
        owner: await makeToken(ask, { role: 'owner', name: 'Office' }, T0),
        van: await makeToken(ask, { role: 'van', name: 'Again', van: mine.van }, T0),
      };
    });
    const status = async (who: keyof typeof made | null, method: string, path: string) =>
      (
        await fetch(`${stage.url}${path}`, {
          method,
          headers: who === null ? {} : { authorization: `Bearer ${made[who].token}` },
        })
      ).status;
    const sent = `/api/archive/visits/visit-1/versions/${'0'.repeat(64)}?bytes=9`;
    for (const path of ['/api/visits', '/api/archive/units', '/api/archive/probes']) {
      expect(await status(null, 'GET', path)).toBe(401);
      expect(await status('van', 'GET', path)).toBe(403);
      expect(await status('reader', 'GET', path)).toBe(200);
      expect(await status('owner', 'GET', path)).toBe(200);
    }
    for (const [method, path] of [
      ['GET', '/api/archive/tokens'],
      ['GET', '/api/archive/audit'],
      ['DELETE', '/api/archive/visits/1'],
      ['POST', '/api/archive/sites/1/erase'],
      ['DELETE', '/api/archive/tokens/x'],
    ] as const) {
      expect(await status('reader', method, path), path).toBe(403);
      expect(await status('van', method, path), path).toBe(403);
      expect(await status(null, method, path), path).toBe(401);
    }
    expect(await status('reader', 'GET', sent)).toBe(403);
    expect(await status('van', 'GET', sent)).toBe(200);
    // Withdrawn, it lets nobody in from the next call on.
    expect(await status('owner', 'DELETE', `/api/archive/tokens/${made.reader.id}`)).toBe(200);
    expect(await status('reader', 'GET', '/api/visits')).toBe(401);
    expect(await status('owner', 'DELETE', `/api/archive/tokens/${made.reader.id}`)).toBe(404);
    const { entries } = z
      .object({
        entries: z.array(z.object({ who: z.string(), did: z.string(), what: z.string() })),
      })
      .parse(
        await (
          await fetch(`${stage.url}/api/archive/audit`, {
            headers: { authorization: `Bearer ${made.owner.token}` },
          })
        ).json(),
      );
    expect(entries[0]).toMatchObject({ did: 'withdrew', who: `Office (${made.owner.id})` });
    expect(entries[0]?.what).toContain(made.reader.id);
  });

  test('a visit that is deleted is gone with all its versions, and the audit says by whom', async () => {
    const key = await stage.db.as(READER, (ask) => visitKey(ask, other.van, 'visit-1'));
    await stage.db.as(OWNER, (ask) => ask.run('DELETE FROM visit WHERE key = $1', [key]));
    for (const table of TABLES) {
      const left = await stage.db.as(READER, (ask) =>
        ask.one(countRow, `SELECT count(*) AS n FROM ${table} WHERE van = $1`, [other.van]),
      );
      expect(left?.n, table).toBe(0);
    }
    expect(await as('plateau_owner', '', `SELECT FROM audit WHERE did = 'deleted'`)).toBe(1);
  });
});
