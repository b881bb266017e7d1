/** Photos over HTTP: taken, given out, refused. The pictures themselves: tests/photo. */
import { describe, expect, test } from 'vitest';
import { MAX_BODY } from '../../server/http/readings.ts';
import type { Capture } from '../../server/protocol.ts';
import { photoId } from '../../server/store/photos.ts';
import { claims, jpegOf, SECRETS, withTraces } from '../photo/pictures.ts';
import { setUp } from '../session/visit.ts';
import { NOW, type TestServer, testServer } from './app.ts';

const PERSON = { adapter: null, simulated: false };

/** A server whose unit has been steady, and has a capture. */
async function captured(): Promise<{ server: TestServer; capture: () => Capture }> {
  const server = await testServer();
  const { visit } = server;
  for (const line of setUp()) visit.line(line, PERSON);
  for (let s = 0; visit.state().captures.length === 0; s++) {
    const t = NOW + 1000 * s;
    visit.line({ type: 'reading', t, probe: 'r', temperatureC: 26.7, humidityPct: 51 }, PERSON);
    visit.line({ type: 'reading', t, probe: 's', temperatureC: 12, humidityPct: 94 }, PERSON);
    server.clock(1000 * s);
  }
  const capture = (): Capture => {
    const [first] = visit.state().captures;
    if (first === undefined) throw new Error('no capture');
    return first;
  };
  return { server, capture };
}

async function send(
  { app }: TestServer,
  { unit, from, by }: Pick<Capture, 'unit' | 'from' | 'by'>,
  payload: Buffer,
  type = 'image/jpeg',
) {
  const query = new URLSearchParams({ unit, from: String(from), by }).toString();
  const response = await app.inject({
    ...{ method: 'POST', url: `/api/captures/photo?${query}`, payload },
    headers: { host: 'localhost', 'content-type': type },
  });
  const json = response.json<{ id: string; bytes: number; error?: string }>();
  return { status: response.statusCode, json };
}
const get = (server: TestServer, id: string) =>
  server.app.inject({ url: `/api/photos/${id}`, headers: { host: 'localhost' } });

describe('a photo of a capture', () => {
  test('is recorded, told with the capture, and given out without what the camera wrote', async () => {
    const { server, capture } = await captured();
    const { status, json } = await send(server, capture(), withTraces(await jpegOf(320, 200)));
    expect(status).toBe(200);
    expect(capture().photos).toEqual([{ id: json.id, bytes: json.bytes }]);
    const photo = await get(server, json.id);
    expect(photo.statusCode).toBe(200);
    expect(photo.headers).toMatchObject({
      'content-type': 'image/jpeg',
      'content-security-policy': "default-src 'none'; sandbox",
      'x-content-type-options': 'nosniff',
      'cache-control': 'private, max-age=31536000, immutable',
    });
    expect(photo.rawPayload.length).toBe(json.bytes);
    expect(photoId(photo.rawPayload)).toBe(json.id);
    const everything = server.record.join('') + JSON.stringify(server.visit.state());
    const decoded = server.record.map((line) => /"data":"([^"]*)"/.exec(line)?.[1] ?? '').join('');
    for (const word of SECRETS) {
      expect(photo.rawPayload.toString('latin1')).not.toContain(word);
      expect(everything).not.toContain(word);
      expect(Buffer.from(decoded, 'base64').toString('latin1')).not.toContain(word);
    }
    // Of its bytes nothing is in the state.
    expect(JSON.stringify(server.visit.state()).length).toBeLessThan(20_000);
  });

  test('is taken off by a remark, stays in the record, and is not recorded twice', async () => {
    const { server, capture } = await captured();
    const picture = await jpegOf(320, 200);
    const { json } = await send(server, capture(), picture);
    const { unit, from, by } = capture();
    const off = {
      kind: 'remark',
      unit,
      from,
      by,
      photo: json.id,
      off: true,
      text: 'see the filter',
    };
    const response = await server.app.inject({
      ...{ method: 'POST', url: '/api/events', payload: off, headers: { host: 'localhost' } },
    });
    expect(response.statusCode).toBe(200);
    expect(capture()).toMatchObject({ note: 'see the filter' });
    expect(capture()).not.toHaveProperty('photos');
    expect((await get(server, json.id)).statusCode).toBe(200);
    expect(server.told).toEqual([]); // nothing that a simulation would follow
    const pieces = () => server.record.filter((line) => line.includes('"type":"photo"')).length;
    const before = pieces();
    expect((await send(server, capture(), picture)).status).toBe(200);
    expect(pieces()).toBe(before);
    const again = await send(server, capture(), picture);
    expect(again.json.error).toMatch(/^photo: this photo is on this capture already/);
  });
});

describe('is refused with a sentence, and nothing is recorded', () => {
  test.each<[string, number, RegExp, Buffer, string]>([
    ['text', 400, /^This is no picture that can be read/, Buffer.from('hello'), 'image/jpeg'],
    ['nothing', 400, /^The body is empty: send a picture/, Buffer.alloc(0), 'image/jpeg'],
    ['JSON', 415, /of a picture image\/jpeg or image\/png/, Buffer.from('{}'), 'application/json'],
    [
      '60,000 pixels a side',
      400,
      /^This picture has 60000 × 60000/,
      claims(60_000, 60_000),
      'image/png',
    ],
    ['more bytes than are taken', 413, /8 MiB of a picture/, Buffer.alloc(9e6), 'image/jpeg'],
  ])('%s', async (_, status, why, body, type) => {
    const { server, capture } = await captured();
    const lines = server.record.length;
    const answer = await send(server, capture(), body, type);
    expect(answer.status).toBe(status);
    expect(answer.json.error).toMatch(why);
    expect(server.record).toHaveLength(lines);
    expect(capture()).not.toHaveProperty('photos');
  });

  test('a fifth one, one of another capture, one while nothing is recorded', async () => {
    const { server, capture } = await captured();
    for (let i = 1; i < 5; i++) {
      expect((await send(server, capture(), await jpegOf(64 * i, 50))).status).toBe(200);
    }
    const picture = await jpegOf(64, 64);
    const lines = server.record.length;
    expect((await send(server, capture(), picture)).json.error).toMatch(/at most 4 photos/);
    const other = { ...capture(), from: NOW - 1 };
    expect((await send(server, other, picture)).json.error).toMatch(/^from: no capture/);
    expect((await send(server, { ...capture(), unit: 'u9' }, picture)).json.error).toMatch(
      /^unit: /,
    );
    server.setFull('The visit is not being recorded: no space.');
    const full = await send(server, capture(), picture);
    expect(full).toMatchObject({
      status: 507,
      json: { error: 'The visit is not being recorded: no space.' },
    });
    expect(server.record).toHaveLength(lines);
  });

  test('an id that is none, or of no photo', async () => {
    const { server } = await captured();
    expect((await get(server, 'x')).statusCode).toBe(400);
    expect((await get(server, '..%2f..%2fetc')).statusCode).toBe(400);
    const none = await get(server, 'a'.repeat(32));
    expect(none.statusCode).toBe(404);
    expect(none.json<{ error: string }>().error).toMatch(/^photo: there is no "a+" in this record/);
  });

  test('readings are taken as before: a picture’s limit is not theirs', async () => {
    const { server } = await captured();
    const answer = await server.post(Buffer.alloc(MAX_BODY + 1, ' ').toString());
    expect(answer.status).toBe(413);
  });
});
