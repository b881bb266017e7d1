/** What comes to an archive that no van should send, or nearly none: it is taken whole, or refused in words. */
import { join } from 'node:path';
import * as z from 'zod';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { makeToken } from '../../server/archive/tokens.ts';
import { archivedLog, searchArchive, visitKey } from '../../server/archive/visits.ts';
import { tempFolder } from '../program.ts';
import { OWNER, READER } from './people.ts';
import { POSTGRES } from './postgres.ts';
import { type ArchiveStage, archiveStage, sendingVan } from './stage.ts';
import { record, T0, visitLines } from './visits.ts';

const answerSchema = z.object({ error: z.string().default(''), taken: z.boolean().default(false) });

describe.skipIf(POSTGRES === null)('an archive', () => {
  const temp = tempFolder();
  let stage: ArchiveStage;
  beforeAll(async () => {
    stage = await archiveStage();
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
  const logOfVan = (of: string, visit: string): Promise<string> =>
    stage.db.as(READER, async (ask) => {
      const key = await visitKey(ask, of, visit);
      return ((key !== null && (await archivedLog(ask, key))) || []).join('');
    });

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
});
