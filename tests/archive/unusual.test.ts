/** What comes to an archive that no van should send, or nearly none: it is taken whole, or refused in words. */
import { createHash } from 'node:crypto';
import { join } from 'node:path';
import pg from 'pg';
import * as z from 'zod';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import {
  type Head,
  headSchema,
  type Part,
  partBytes,
  type PartKind,
  partsOf,
} from '../../server/archive/parcel.ts';
import { Intake, MOST_PIECE_BYTES } from '../../server/archive/intake.ts';
import { makeToken } from '../../server/archive/tokens.ts';
import { listTypes } from '../../server/archive/types.ts';
import { archivedPhoto, searchArchive } from '../../server/archive/visits.ts';
import { tempFolder } from '../program.ts';
import { newVan, OWNER, READER } from './people.ts';
import { POSTGRES } from './postgres.ts';
import { type ArchiveStage, archiveStage, logOf, sendingVan } from './stage.ts';
import { parcelOf, record, T0, visitLines } from './visits.ts';

const pidRow = z.object({ pid: z.number() });
const answerSchema = z.object({ error: z.string().default(''), taken: z.boolean().default(false) });

describe.skipIf(POSTGRES === null)('an archive', () => {
  const temp = tempFolder();
  const kept = join(temp.path, 'kept');
  let stage: ArchiveStage;
  let van: Awaited<ReturnType<typeof newVan>>;
  beforeAll(async () => {
    stage = await archiveStage();
    record(kept, 'visit-1', visitLines({ stretch: 0.1 }));
    van = await newVan(stage.db, 'Van 1');
  });
  afterAll(async () => {
    await stage.end();
    temp.remove();
  });

  /** Calls it with a token. */
  async function call(token: string, method: string, path: string, body?: Uint8Array | object) {
    const isBytes = body instanceof Uint8Array;
    const type = isBytes ? 'application/octet-stream' : 'application/json';
    const response = await fetch(`${stage.url}${path}`, {
      method,
      headers: {
        authorization: `Bearer ${token}`,
        ...(body === undefined ? {} : { 'content-type': type }),
      },
      ...(body === undefined ? {} : { body: isBytes ? Buffer.from(body) : JSON.stringify(body) }),
    });
    return { status: response.status, ...answerSchema.parse(await response.json()) };
  }
  const hashOf = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');
  const logOfVan = (of: string, visit: string): Promise<string> => logOf(stage.db, of, visit);

  test('keeps and is asked for the one character that PostgreSQL has not', async () => {
    const dataDir = join(temp.path, 'none');
    record(dataDir, 'visit-0', visitLines({ stretch: 0.1, customer: 'A\0B' }));
    const one = await sendingVan(stage, { dataDir, name: 'Van 2' });
    const sender = one.sender();
    expect(await sender.sendAll()).toBe(true);
    expect(sender.state.trouble).toBe(null);
    expect(await logOfVan(one.van.van, 'visit-0')).toContain(String.raw`"A\u0000B"`);
    const text = { text: 'a\0b', since: -1e15, until: 1e15, most: 10 };
    expect(await stage.db.as(READER, (ask) => searchArchive(ask, text))).toHaveLength(1);
    const { token } = await stage.db.as(OWNER, (ask) =>
      makeToken(ask, { role: 'owner', name: 'Office' }, T0),
    );
    expect((await call(token, 'GET', '/api/visits?text=%00x')).status).toBe(200);
    expect((await call(token, 'GET', '/api/archive/units?text=%00x')).status).toBe(200);
    for (const what of ['types', 'probes']) {
      expect((await call(token, 'GET', `/api/archive/${what}/%00`)).status, what).toBe(404);
    }
    expect((await call(token, 'DELETE', '/api/archive/tokens/%00')).status).toBe(404);
    const named = { role: 'reader', name: 'E\0F' };
    expect((await call(token, 'POST', '/api/archive/tokens', named)).status).toBe(200);
  });

  /** The kept visit, with its head as it is changed. */
  function headed(change: (head: Head) => Partial<Record<keyof Head, unknown>>): Buffer {
    return withPart('h', (text) => {
      const head = headSchema.parse(JSON.parse(text));
      return JSON.stringify({ ...head, ...change(head) });
    });
  }
  /** With each part of a kind changed. */
  function withPart(kind: PartKind, change: (text: string) => string): Buffer {
    const changed = ({ kind: its, data }: Part): Part =>
      its === kind
        ? { kind, data: Buffer.from(change(Buffer.from(data).toString())) }
        : { kind: its, data };
    return Buffer.concat(
      partsOf(parcelOf(kept, 'visit-1').bytes).map((part) => partBytes(changed(part))),
    );
  }
  const put = (parcel: Uint8Array, hash = hashOf(parcel), bytes = parcel.length) =>
    call(
      van.token,
      'PUT',
      `/api/archive/visits/visit-1/versions/${hash}?bytes=${bytes}&at=0`,
      parcel,
    );

  test.each<[string, (head: Head) => Partial<Record<keyof Head, unknown>>]>([
    ['begins at no time at all', () => ({ begunT: 1e300 })],
    ['begins in the year 33,658', () => ({ begunT: 1e15 })],
    ['begins before all clocks', () => ({ begunT: -1e14 })],
    [
      'names a type longer than any index holds',
      ({ units }) => ({
        units: units.map((unit) => ({
          ...unit,
          details: { model: Array.from({ length: 400 }, (_, i) => hashOf(Buffer.of(i))).join() },
        })),
      }),
    ],
  ])('refuses in words a visit that %s', async (_, change) => {
    const { status, error } = await put(headed(change));
    expect(error).toMatch(/^The visit "visit-1" was not taken: ./);
    expect(status).toBe(422);
  });

  test('refuses in words a visit of which all came, and nothing fits', async () => {
    const hash = '0'.repeat(64);
    expect((await put(Buffer.alloc(1000), hash, 2000)).status).toBe(200);
    // It is asked for as if it were shorter; or the server was killed before it was looked over.
    const path = `/api/archive/visits/visit-1/versions/${hash}`;
    const asked = await call(van.token, 'GET', `${path}?bytes=1000`);
    expect(asked.error).toBe('The visit "visit-1" was not taken: it was changed on its way.');
    expect(asked.status).toBe(422);
    expect((await call(van.token, 'GET', `${path}?bytes=2000`)).status).toBe(200);
  });

  test('refuses a visit whose log could not be read again', async () => {
    const late = withPart('l', (text) => text.replace(/^\d+(?=\t.*"setpoint")/gm, '999999'));
    expect(await put(late)).toMatchObject({
      status: 422,
      error: expect.stringContaining('a line stands behind more readings than came'),
    });
    // The last byte of a block says of which probe its last reading is.
    const parts = partsOf(parcelOf(kept, 'visit-1').bytes);
    for (const probe of [0, 9]) {
      const forged = parts.map(({ kind, data }) => {
        const bytes = Buffer.from(data);
        if (kind === 's') bytes[bytes.length - 1] = probe;
        return partBytes({ kind, data: bytes });
      });
      expect(await put(Buffer.concat(forged)), String(probe)).toMatchObject({
        status: 422,
        error: expect.stringContaining('a block of readings does not hold those that it names'),
      });
    }
    expect(await logOfVan(van.van, 'visit-1')).toBe('');
  });

  test('keeps a visit of more bytes than a statement or a piece holds, to the byte', async () => {
    const many = await newVan(stage.db, 'Van 4');
    const parts = partsOf(parcelOf(kept, 'visit-1').bytes);
    const chart = parts.filter(({ kind }) => kind === 'c');
    const size = chart.reduce((bytes, { data }) => bytes + data.length, 0);
    const copies = Array.from({ length: Math.ceil(9e6 / size) }, () => chart).flat();
    const all = [...parts, ...copies];
    const parcel = Buffer.concat(all.map(partBytes));
    const of = { visit: 'visit-1', hash: hashOf(parcel), bytes: parcel.length };
    const intake = new Intake(stage.db, () => T0);
    for (let at = 0; at < parcel.length; at += MOST_PIECE_BYTES) {
      await intake.take(many, of, at, parcel.subarray(at, at + MOST_PIECE_BYTES));
    }
    const row = z.object({ i: z.number(), kind: z.string(), data: z.instanceof(Buffer) });
    const held = await stage.db.as(READER, (ask) =>
      ask.rows(row, 'SELECT i, kind, data FROM part WHERE van = $1 ORDER BY i', [many.van]),
    );
    expect(held.map(({ i }) => i)).toEqual(all.map((_, i) => i));
    expect(held.map(({ kind }) => kind)).toEqual(all.map(({ kind }) => kind));
    const sum = (parts: readonly { data: Uint8Array }[]): string =>
      hashOf(Buffer.concat(parts.map(({ data }) => data)));
    expect(sum(held)).toBe(sum(all));
  });

  test('says that its database is away where that ends what is asked, and goes on', async () => {
    const superuser = new pg.Client(stage.cluster.superuserUrl('postgres'));
    await superuser.connect();
    const broken = stage.db.as(READER, async (ask) => {
      const { pid } = (await ask.one(pidRow, 'SELECT pg_backend_pid() AS pid')) ?? { pid: -1 };
      await superuser.query('SELECT pg_terminate_backend($1)', [pid]);
      return ask.one(pidRow, 'SELECT pg_backend_pid() AS pid');
    });
    await expect(broken).rejects.toMatchObject({
      statusCode: 503,
      message: expect.stringContaining('does not answer now'),
    });
    await superuser.end();
    expect(await stage.db.as(READER, listTypes)).not.toEqual([]);
  });

  test('shows a photo whole that another van has sent damaged, under the same id', async () => {
    const dataDir = join(temp.path, 'photo');
    record(dataDir, 'visit-1', visitLines({ stretch: 0.1, photo: true }));
    const { van: sound, sender } = await sendingVan(stage, { dataDir, name: 'Van 3' });
    const damaged = partsOf(parcelOf(dataDir, 'visit-1').bytes).map(({ kind, data }) => {
      const text = Buffer.from(data).toString();
      return partBytes(
        kind === 'l'
          ? { kind, data: Buffer.from(text.replace('"data":"/9j/', '"data":"/9j9')) }
          : { kind, data },
      );
    });
    expect((await put(Buffer.concat(damaged))).status).toBe(200);
    expect(await sender().sendAll()).toBe(true);
    const id = /"type":"photo","id":"([0-9a-f]{32})"/.exec(
      await logOfVan(sound.van, 'visit-1'),
    )?.[1];
    const photo = await stage.db.as(READER, (ask) => archivedPhoto(ask, id ?? ''));
    expect(photo).toBeInstanceOf(Uint8Array);
  });

  test('says what is wrong with a word of an address', async () => {
    const piece = Buffer.alloc(10);
    expect((await put(piece, 'a'.repeat(63))).error).toBe(
      'hash: is not a SHA-256 in hexadecimal digits',
    );
    const path = `/api/archive/visits/__proto__/versions/${'a'.repeat(64)}?bytes=20&at=0`;
    expect((await call(van.token, 'PUT', path, piece)).error).toBe(
      'visit: "__proto__" is not taken as a name',
    );
  });

  test('of a month whose parts were put away, that come late, are taken', async () => {
    const dataDir = join(temp.path, 'late');
    const t = Date.UTC(2031, 2, 10);
    record(dataDir, 'visit-0', visitLines({ t, stretch: 0.1 }));
    const { van: made, sender } = await sendingVan(stage, { dataDir, name: 'Late' });
    await sender().sendAll();
    const client = new pg.Client(`${stage.databaseUrl}&options=-csearch_path%3Dplateau`);
    await client.connect();
    await client.query(`CREATE SCHEMA put_away; ALTER TABLE part DETACH PARTITION part_2031_03;
      ALTER TABLE part_2031_03 SET SCHEMA put_away`);
    await client.end();
    record(dataDir, 'visit-1', visitLines({ t: t + 86_400_000, stretch: 0.1 }));
    await sender().sendAll();
    expect(await logOfVan(made.van, 'visit-1')).not.toBe('');
    expect(await logOfVan(made.van, 'visit-0')).toBe('');
  });
});
