/** A photo through the whole program: acknowledged is on disk, and no record, old or taken in, loses it. */
import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { type Capture, captureSchema, oldVisitSchema } from '../../server/protocol.ts';
import { jpegOf, SECRETS, withTraces } from '../photo/pictures.ts';
import { plateau, tempFolder } from '../program.ts';
import { LONG } from '../long.ts';
import { stage } from './stage.ts';

const on = stage();
const { call, state } = on;

/** A unit that has been steady, with a capture. */
async function captured(): Promise<Capture> {
  const airflow = {
    source: 'entered',
    flowM3s: 0.2,
    basis: 'actual',
    plane: 'supply',
    limitPct: 5,
  };
  await call('/api/visit', 'PUT', { title: 'Wrenfold Lane', mode: 'cooling', altitudeM: 300 });
  await call('/api/units/u1', 'PUT', { name: 'Study', airflow });
  await call('/api/probes/r', 'PUT', { unit: 'u1', place: 'return' });
  await call('/api/probes/s', 'PUT', {
    unit: 'u1',
    place: 'supply',
    limits: { temperatureC: 0.3 },
  });
  await call('/api/visit', 'PUT', { captureAfterS: null });
  const t = Date.now() - 400_000;
  const readings = Array.from({ length: 800 }, (_, i) => ({
    ...{ t: t + Math.floor(i / 2) * 1000, probe: i % 2 === 0 ? 'r' : 's' },
    ...{ temperatureC: i % 2 === 0 ? 26.7 : 12, humidityPct: i % 2 === 0 ? 51 : 94 },
  }));
  const lines = readings.map((reading) => JSON.stringify(reading)).join('\n');
  expect((await call('/api/readings', 'POST', lines)).status).toBe(200);
  expect((await call('/api/events', 'POST', { kind: 'capture', unit: 'u1' })).status).toBe(200);
  const [capture] = (await state()).captures;
  if (capture === undefined) throw new Error('no capture');
  return capture;
}

async function send({ unit, from, to, by }: Capture, picture: Buffer): Promise<string> {
  const query = new URLSearchParams({ unit, by, from: String(from), to: String(to) });
  const answer = await call(`/api/captures/photo?${query.toString()}`, 'POST', picture);
  expect(answer.status).toBe(200);
  return ((await answer.json()) as { id: string }).id;
}
const photo = async (id: string): Promise<Buffer> =>
  Buffer.from(await (await call(`/api/photos/${id}`)).arrayBuffer());

test('survives a kill right after its answer, a restart, the next visit, export and import', async () => {
  await on.run('start');
  const capture = await captured();
  const note = { kind: 'remark', text: 'as found', ...pick(capture) };
  expect((await call('/api/events', 'POST', note)).status).toBe(200);
  const id = await send(capture, withTraces(await jpegOf(1600, 1200)));
  await on.server.end('SIGKILL');

  await on.run('start');
  const [again] = (await state()).captures;
  expect(again).toMatchObject({ note: 'as found', photos: [{ id }] });
  const bytes = await photo(id);
  expect(bytes.length).toBe(again?.photos?.[0]?.bytes);

  const { visit: live } = (await state()).record;
  expect((await call('/api/visits', 'POST', { like: null })).status).toBe(200);
  expect((await state()).captures).toEqual([]);
  const old = oldVisitSchema.parse(await (await call(`/api/visits/${live}`)).json());
  expect(old.captures).toEqual([again]);
  expect((await photo(id)).equals(bytes)).toBe(true);
  const log = await (await call(`/api/visits/${live}/log`)).text();
  for (const word of SECRETS) expect(log).not.toContain(word);
  await on.server.end();

  const other = tempFolder();
  const path = join(other.path, 'log.ndjson');
  const data = join(other.path, 'data');
  writeFileSync(path, log);
  expect(await plateau(['import', path, '--data', data])).toMatchObject({ status: 0, err: '' });
  expect((await plateau(['export', '--data', data])).out).toBe(log);
  expect((await plateau(['doctor', '--data', data])).out).toMatch(
    /1 of 1 visits are whole and well/,
  );
  // The pipeline reads over it: what it prints is the capture with what was said of it.
  const { out, err, status } = await plateau(['analyse', path, '--every', '3600']);
  expect({ err, status }).toEqual({ err: '', status: 0 });
  const printed = out.split('\n').filter((line) => line.includes('"type":"capture"'));
  const said = printed
    .map((line) => captureSchema.parse(JSON.parse(line)))
    .findLast(({ by }) => by === 'touch');
  expect(said).toMatchObject({ note: 'as found', photos: [{ id }] });

  // And so does a replay.
  await on.run('start', '--replay', path, '--speed', '1000');
  await expect
    .poll(async () => (await state()).captures.find(({ by }) => by === 'touch')?.photos?.[0]?.id, {
      timeout: 20_000,
    })
    .toBe(id);
  await expect.poll(async () => (await photo(id)).equals(bytes)).toBe(true);
  other.remove();
}, 60_000);

test('while pictures are read, everybody else is answered', async () => {
  await on.run('start');
  const capture = await captured();
  // A phone's own has 12 million pixels. In the short form a third of them: a second's work all the same.
  const [width, height] = LONG ? [4000, 3000] : [2400, 1800];
  const picture = await jpegOf(width, height, (x, y) => [x / 16, (x * y) & 31, y / 12]);
  let sent = false;
  const health = (async () => {
    const took: number[] = [];
    while (!sent) {
      const begun = performance.now();
      expect((await call('/api/health')).status).toBe(200);
      took.push(performance.now() - begun);
    }
    return took;
  })();
  await Promise.all([
    send(capture, picture),
    send(capture, Buffer.concat([picture.subarray(0, -900)])),
  ]);
  sent = true;
  // How long is measured by the bench; here that a picture, a second or more of work, is in nobody's way.
  expect((await health).length).toBeGreaterThan(100);
  const { status, stdout } = spawnSync('cat', [`/proc/${on.server.child.pid}/status`], {
    encoding: 'utf8',
  });
  if (status !== 0) return; // no such file here
  const peakKb = Number(/VmHWM:\s+(\d+) kB/.exec(stdout)?.[1]);
  expect(peakKb / 1024).toBeLessThan(700);
}, 60_000);

function pick({ unit, from, to, by }: Capture): object {
  return { unit, from, to, by };
}
