/** Photos in the record: what goes in comes out byte by byte, and what was changed on the way does not. */
import fc from 'fast-check';
import { createHash } from 'node:crypto';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { Line } from '../../adapters/contract.ts';
import { examine } from '../../server/cli/doctor.ts';
import { exportVisits } from '../../server/cli/export.ts';
import { importLog } from '../../server/cli/import.ts';
import { openDatabase, readDatabase } from '../../server/store/database.ts';
import { photoId, readPhoto } from '../../server/store/photos.ts';
import { readTold } from '../../server/store/results.ts';
import { allVisits } from '../../server/store/visits.ts';
import { MOST_PHOTO_BYTES, piecesOf } from '../../server/visit-log/photo-pieces.ts';
import { MAX_LINE } from '../../server/visit-log/recorded.ts';
import { LiveVisit } from '../../server/visit.ts';
import { setUp } from '../session/visit.ts';
import { stage, type Stage, T0 } from './stage.ts';

const PERSON = { adapter: null, simulated: false };

/** Bytes that begin as a JPEG does; what follows is nobody's business here. */
const photoBytes = fc
  .uint8Array({ minLength: 0, maxLength: 40_000 })
  .map((bytes) => Uint8Array.from([0xff, 0xd8, 0xff, ...bytes]));

/** A recorded visit with a capture, and photos put to it. */
function recorded(photos: readonly Uint8Array[], at: Stage = stage()): Stage {
  const record = at.open();
  const visit = new LiveVisit(() => T0);
  visit.recordTo(record);
  for (const line of setUp()) visit.line(line, PERSON);
  let t = T0;
  while (visit.state().captures.length === 0) {
    t += 1000;
    visit.line({ type: 'reading', t, probe: 'r', temperatureC: 26.7, humidityPct: 51 }, PERSON);
    visit.line({ type: 'reading', t, probe: 's', temperatureC: 12, humidityPct: 94 }, PERSON);
  }
  const [capture] = visit.state().captures;
  if (capture === undefined) throw new Error('no capture');
  const { unit, from, by } = capture;
  for (const photo of photos) {
    const id = photoId(photo);
    if (!visit.hasPhoto(id)) {
      for (const piece of piecesOf(id, photo)) expect(visit.line(piece, PERSON)).toBeNull();
    }
    const remark: Line = { type: 'event', kind: 'remark', t, unit, from, by, photo: id };
    visit.line(remark, PERSON);
    visit.line({ ...remark, text: 'as found', off: true }, PERSON);
    visit.line(remark, PERSON);
  }
  visit.finish();
  record.close();
  return at;
}
function read<T>(
  dataDir: string,
  work: (db: NonNullable<ReturnType<typeof readDatabase>>) => T,
): T {
  const db = readDatabase(dataDir);
  if (db === null) throw new Error('no record');
  const result = work(db);
  db.close();
  return result;
}
const photoOf = (dataDir: string, id: string) => read(dataDir, (db) => readPhoto(db, id));
async function exported(dataDir: string): Promise<string> {
  let text = '';
  const write = async (piece: string): Promise<void> => void (text += piece);
  await exportVisits({ dataDir, visit: null, allTo: null }, write);
  return text;
}
async function takenIn(text: string): Promise<{ dataDir: string; refused: string[] }> {
  const { folder, dataDir } = stage();
  const refused: string[] = [];
  writeFileSync(join(folder, 'log.ndjson'), text);
  await importLog(dataDir, join(folder, 'log.ndjson'), {
    ...{ id: 'import-1', kind: 'import', writtenT: T0 },
    refused: (_, why) => refused.push(why),
  });
  return { dataDir, refused };
}
const captures = (dataDir: string) =>
  read(dataDir, (db) => readTold(db, allVisits(db)[0]?.key ?? -1).captures);
async function found(dataDir: string): Promise<string[]> {
  const told: string[] = [];
  for await (const { state, text } of examine(dataDir)) told.push(`${state}: ${text}`);
  return told;
}
const PHOTO = Uint8Array.from([0xff, 0xd8, 0xff, ...new Array<number>(30_000).fill(7)]);

describe('a photo', () => {
  test('comes out of the record, and of a log that was taken in, byte by byte; the log is the same', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(photoBytes, { minLength: 1, maxLength: 4 }), async (photos) => {
        const { dataDir } = recorded(photos);
        const text = await exported(dataDir);
        const again = await takenIn(text);
        expect(again.refused).toEqual([]);
        for (const photo of photos) {
          // By the standard's own sum, not by our name for it.
          const id = createHash('sha256').update(photo).digest('hex').slice(0, 32);
          for (const folder of [dataDir, again.dataDir]) {
            const out = photoOf(folder, id);
            expect(out instanceof Uint8Array && Buffer.from(out).equals(photo)).toBe(true);
          }
        }
        expect(await exported(again.dataDir)).toBe(text);
        expect(captures(again.dataDir)).toEqual(captures(dataDir));
        expect(captures(dataDir)[0]?.photos?.length).toBe(new Set(photos.map(photoId)).size);
      }),
      { numRuns: 8 },
    );
  }, 60_000);

  test('is not kept with the figures: of a capture there are its id and its size', () => {
    const { dataDir } = recorded([PHOTO]);
    expect(captures(dataDir)[0]?.photos).toEqual([{ id: photoId(PHOTO), bytes: PHOTO.length }]);
  });

  test('the largest fits into lines of a log', () => {
    for (const piece of piecesOf('0'.repeat(32), new Uint8Array(MOST_PHOTO_BYTES))) {
      expect(JSON.stringify({ ...piece, after: 4_102_444_800_000 }).length).toBeLessThan(MAX_LINE);
    }
  });

  test('stands in the record with the capture that it is of, or not at all', () => {
    const { open, lines, dataDir } = stage();
    const record = open();
    const visit = new LiveVisit(() => T0);
    visit.recordTo(record);
    visit.line({ type: 'visit', version: 1, title: 'x' }, PERSON);
    for (const piece of piecesOf(photoId(PHOTO), PHOTO)) visit.line(piece, PERSON);
    expect(lines().map(({ type }) => type)).toEqual(['visit']);
    visit.line({ type: 'event', kind: 'note', t: T0, text: 'x' }, PERSON);
    expect(lines()).toHaveLength(6);
    expect(photoOf(dataDir, photoId(PHOTO))).toBeInstanceOf(Uint8Array);
    record.close();
  });
});

describe('a log that was tampered with', () => {
  const id = photoId(PHOTO);
  const spoilt = async (change: (lines: string[]) => string[]) =>
    takenIn(change((await exported(recorded([PHOTO]).dataDir)).trimEnd().split('\n')).join('\n'));
  const isPiece = (part: number) => (line: string) =>
    line.includes('"type":"photo"') && line.includes(`"part":${part},`);

  test('a piece is missing: the photo is left out with a sentence, all else is taken', async () => {
    const { dataDir, refused } = await spoilt((lines) => lines.filter((l) => !isPiece(1)(l)));
    expect(refused[0]).toMatch(/^part: 2 of 4 does not follow/);
    expect(refused.at(-1)).toMatch(/^photo: .*pieces of it are missing/);
    expect(photoOf(dataDir, id)).toBe('damaged');
    expect(captures(dataDir)[0]).not.toHaveProperty('photos');
  });

  test('its bytes are others: the photo is left out with a sentence', async () => {
    const { dataDir, refused } = await spoilt((lines) =>
      lines.map((l) => (isPiece(2)(l) ? l.replace('BwcH', 'BwcI') : l)),
    );
    expect(refused[0]).toMatch(/^data: the photo .* was changed: its SHA-256 is another/);
    expect(photoOf(dataDir, id)).toBe('damaged');
    expect(captures(dataDir)[0]).not.toHaveProperty('photos');
  });

  test('what is no JPEG is no photo, whatever its sum', async () => {
    const page = Buffer.from('<script>alert(1)</script>');
    const lines = piecesOf(photoId(page), page).map((line) => JSON.stringify(line));
    const { dataDir, refused } = await takenIn(['{"type":"unit","id":"u1"}', ...lines].join('\n'));
    expect(refused).toEqual([expect.stringMatching(/^data: the photo .* is no JPEG/)]);
    expect(photoOf(dataDir, photoId(page))).toBeNull();
  });

  test('endless photos: those that are too many are refused', async () => {
    const many = Array.from({ length: 100 }, (_, n) => {
      const photo = Uint8Array.from([0xff, 0xd8, 0xff, n]);
      return piecesOf(photoId(photo), photo)
        .map((line) => JSON.stringify(line))
        .join('\n');
    });
    const { refused } = await takenIn(many.join('\n'));
    expect(refused).toHaveLength(40);
    expect(refused[0]).toMatch(/^photo: it would be one too many: a visit has at most 60 photos/);
  });
});

test('doctor says where a piece of a photo is missing, or was changed', async () => {
  const { dataDir } = recorded([PHOTO]);
  expect(await found(dataDir)).toEqual(['well: 1 of 1 visits are whole and well']);
  const db = openDatabase(dataDir);
  db.prepare(
    'DELETE FROM photo_piece WHERE line_n = (SELECT n FROM line WHERE line LIKE \'%"part":2,%\')',
  ).run();
  db.prepare('DELETE FROM line WHERE line LIKE \'%"part":2,%\'').run();
  db.close();
  expect(photoOf(dataDir, photoId(PHOTO))).toBe('damaged');
  const [first] = await found(dataDir);
  expect(first).toMatch(
    /^open: visit-1: pieces of the photo [0-9a-f]{32} are missing or were changed/,
  );
});
