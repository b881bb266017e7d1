/**
 * One rule for a live visit and for reading its record: whatever was acknowledged is read back, in the
 * order in which it was taken, and makes the same visit again. Checked against the visit itself, so by
 * nothing outside of the project: it proves that the two agree.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { State } from '../../server/protocol.ts';
import { LogReader } from '../../server/visit-log/reader.ts';
import { LiveVisit } from '../../server/visit.ts';
import { setUp } from '../session/visit.ts';
import { jpegOf } from '../photo/pictures.ts';
import { NOW, type TestServer, testServer } from './app.ts';
import { LONG as LONG_FORM, runs } from '../long.ts';

const PHOTOS = await Promise.all(
  [1, 2, 3, 4, 5, 6].map((n) => jpegOf(40 * n, 30, (x, y) => [x * n, y, 40 * n])),
);
const NOBODY = { adapter: null, simulated: false };
const ADAPTER = { adapter: 'rig', simulated: true };

/** The visit that a record makes, at the same time; everything in it has to be taken, and in its order. */
function readAgain(record: readonly string[], first: LiveVisit): LiveVisit {
  let now = NOW;
  const visit = new LiveVisit(() => now);
  const refused: string[] = [];
  const read: unknown[] = [];
  const reader = new LogReader({
    line: (line, n, after) => {
      read.push({ ...line, ...(after === undefined ? {} : { after }) });
      const why = visit.recorded(line, NOBODY, after);
      if (why !== null) refused.push(`${n}: ${why}: ${record[n - 1]}`);
    },
    refused: (n, why) => refused.push(`${n}: ${why}: ${record[n - 1]}`),
  });
  for (const line of record) reader.write(`${line}\n`);
  reader.end();
  expect(refused).toEqual([]);
  expect(read).toEqual(record.map((text): unknown => JSON.parse(text)));
  now += first.time() - visit.time();
  visit.tick();
  return visit;
}

/**
 * What a visit knows, without what the record does not hold: who brought a reading, how it is linked, and
 * since when there is nothing to wait for: a long silence is passed over in other steps.
 */
function known({ t, units, visit, events, captures, probes }: State): unknown {
  const own = Object.entries(probes).map(([id, p]) => [
    id,
    { ...p, adapter: null, signalDbm: null, state: null },
  ]);
  const ofUnits = Object.entries(units).map(([name, { settling, ...unit }]) => {
    const since = settling.state === 'waiting' ? null : settling.since;
    // In a long silence it is said now and then how long it is.
    const doubts = unit.doubts.map((d) => ({ ...d, text: d.text.replace(/for \d+ \w+/, 'long') }));
    return [name, { ...unit, doubts, settling: { ...settling, since } }];
  });
  return { t, ofUnits, visit, events, captures, probes: own };
}

async function call(
  server: TestServer,
  method: 'PUT' | 'POST' | 'DELETE',
  url: string,
  payload: object = {},
): Promise<number> {
  const headers = { host: 'localhost' };
  const response = await server.app.inject({
    ...{ method, url, headers },
    ...(method === 'DELETE' ? {} : { payload }),
  });
  return response.statusCode;
}

const LONG = '\u0001'.repeat(128);
const IDS = [
  'r',
  's',
  '__proto__',
  'constructor',
  '☃ 7',
  '\u0000',
  'a"b\\c',
  ' ',
  LONG,
  'ud\ud800',
];
const id = fc.constantFrom(...IDS, ...IDS.slice(0, 2), ...IDS.slice(0, 2));
const unitId = fc.constantFrom('u1', 'u1', ...IDS);
const text = fc.oneof(
  fc.string({ unit: 'binary', maxLength: 20 }),
  fc.constantFrom('\u0007'.repeat(2000), '"'.repeat(2000), '\n', '', '\u2028é'),
);
/** From the present, ms: as clocks and lines of radio differ, and now and then by far more. */
const near = fc.oneof(
  fc.integer({ min: -13_000, max: 2000 }),
  fc.integer({ min: -60, max: 0 }).map((n) => n * 100),
);
const far = fc.constantFrom(602_000, 599_000, 3_600_000, -3_600_000, -9999, 0.5, 1e9);
const place = fc.constantFrom('return', 'supply', 'outlet', null);

type Step = (server: TestServer, world: { ms: number }) => Promise<unknown> | void;
const url = (kind: 'units' | 'probes', name: string): string =>
  `/api/${kind}/${name.endsWith('\ud800') ? 'ill' : encodeURIComponent(name)}`;

const pushed = fc
  .tuple(
    fc.array(fc.tuple(id, near, fc.double({ min: 10, max: 30, noNaN: true })), { maxLength: 6 }),
  )
  .map(
    ([rows]): Step =>
      (server, { ms }) =>
        server.post(
          rows.map(([probe, dt, temperatureC]) => ({
            t: NOW + ms + dt,
            probe,
            temperatureC,
            after: 7,
          })),
        ),
  );
/** From a source of its own: nobody looks whether it is ahead of the clock. */
const emitted = fc
  .tuple(id, fc.oneof(near, near, near, far), fc.integer({ min: 20, max: 90 }))
  .map(([probe, dt, humidityPct]): Step => ({ visit }, { ms }) => {
    if (probe !== '__proto__') {
      visit.line({ type: 'reading', t: Math.max(0, NOW + ms + dt), probe, humidityPct }, ADAPTER);
    }
  });
const linked = id.map((probe): Step => ({ visit }) => {
  if (probe !== '__proto__') visit.link(probe, { state: 'connecting' }, ADAPTER);
});
const announced = fc.tuple(id, fc.boolean()).map(([probe, forgotten]): Step => ({ visit }) => {
  if (probe === '__proto__') return;
  visit.line({ type: 'probe', id: probe, ...(forgotten ? { forgotten } : { name: 'A' }) }, ADAPTER);
});
const passed = fc
  .tuple(
    fc.oneof(fc.integer({ min: 0, max: 3000 }), fc.constantFrom(602_000, 3_600_000)),
    fc.boolean(),
  )
  .map(([ms, ticks]): Step => (server, world) => {
    world.ms += ms;
    server.clock(world.ms);
    if (ticks) server.visit.tick();
  });
const clockSet = fc
  .constantFrom(-3_600_000, -10_000, 5000, 10_000, 3_600_000)
  .map((ms): Step => (server, world) => {
    world.ms += ms;
    server.setClock(ms);
  });
const unitPut = fc.tuple(unitId, text).map(
  ([unit, name]): Step =>
    (server) =>
      call(server, 'PUT', url('units', unit), {
        name: name.slice(0, 200),
        fanSpeeds: Array(20).fill(LONG.slice(0, 40)),
      }),
);
const probePut = fc.tuple(id, unitId, place, fc.boolean()).map(
  ([probe, unit, at, checked]): Step =>
    (server, { ms }) =>
      call(server, 'PUT', url('probes', probe), {
        ...{ unit, place: at },
        ...(checked ? { check: { t: NOW + ms, probes: Array(64).fill(LONG), atC: 20 } } : {}),
      }),
);
const airflowPut = fc.tuple(unitId, fc.double({ min: 0.1, max: 0.3, noNaN: true })).map(
  ([unit, flowM3s]): Step =>
    (server) =>
      call(server, 'PUT', `${url('units', unit)}/airflow`, {
        source: 'entered',
        flowM3s,
        basis: 'actual',
        plane: 'supply',
      }),
);
const removed = id.map(
  (probe): Step =>
    (server) =>
      call(server, 'DELETE', url('probes', probe)),
);
const event = fc.oneof(
  fc.record({
    kind: fc.constant('setpoint'),
    unit: unitId,
    valueC: fc.constantFrom(16, 1e-300, 22),
  }),
  fc.record({ kind: fc.constant('fan'), unit: unitId, speed: text.map((s) => s.slice(0, 40)) }),
  fc.record({ kind: fc.constant('note'), text }),
  fc.record({
    kind: fc.constant('check'),
    phase: fc.constantFrom('start', 'end'),
    probes: fc.array(id, { maxLength: 64 }),
  }),
  fc.record({
    kind: fc.constant('walk'),
    phase: fc.constantFrom('start', 'go', 'end'),
    unit: unitId,
    place: fc.constantFrom('return', 'supply'),
    probe: id,
  }),
  fc.record({ kind: fc.constant('capture'), unit: unitId }),
  fc.record({
    kind: fc.constant('amend'),
    event: fc.constantFrom('e1', 'e2', 'e3', 'd1'),
    text: text.map((s) => s.slice(0, 200)),
  }),
);
const told = fc.tuple(event, fc.option(fc.oneof(near, far), { nil: undefined })).map(
  ([body, dt]): Step =>
    (server, { ms }) =>
      call(
        server,
        'POST',
        '/api/events',
        dt === undefined ? body : { ...body, t: Math.max(0, NOW + ms + dt) },
      ),
);
const struck = fc.tuple(fc.nat(3), fc.boolean()).map(([n, back]): Step => (server) => {
  const capture = server.visit.state().captures[n];
  if (capture === undefined) return;
  const { unit, from, to, by } = capture;
  return call(server, 'POST', '/api/events', { kind: 'strike', unit, from, to, by, struck: !back });
});
const remarked = fc.tuple(fc.nat(3), fc.boolean(), text).map(([n, off, note]): Step => (server) => {
  const capture = server.visit.state().captures[n];
  if (capture === undefined) return;
  const { unit, from, to, by, photos = [] } = capture;
  const more = off && photos[0] !== undefined ? { photo: photos[0].id, off } : { text: note };
  return call(server, 'POST', '/api/events', { kind: 'remark', unit, from, to, by, ...more });
});
const photographed = fc.tuple(fc.nat(3), fc.nat(6)).map(([n, which]): Step => async (server) => {
  const capture = server.visit.state().captures[n];
  const payload = PHOTOS[which];
  if (capture === undefined || payload === undefined) return;
  const { unit, from, to, by } = capture;
  const query = new URLSearchParams({ unit, by, from: String(from), to: String(to) });
  return server.app.inject({
    ...{ method: 'POST', url: `/api/captures/photo?${query.toString()}`, payload },
    headers: { host: 'localhost', 'content-type': 'image/jpeg' },
  });
});
const step = fc.oneof(
  { weight: 6, arbitrary: pushed },
  { weight: 4, arbitrary: emitted },
  { weight: 6, arbitrary: passed },
  { weight: 6, arbitrary: told },
  { weight: 1, arbitrary: linked },
  { weight: 1, arbitrary: announced },
  { weight: 1, arbitrary: unitPut },
  { weight: 2, arbitrary: probePut },
  { weight: 1, arbitrary: airflowPut },
  { weight: 3, arbitrary: removed },
  { weight: 1, arbitrary: struck },
  { weight: 1, arbitrary: remarked },
  { weight: 1, arbitrary: photographed },
  { weight: 4, arbitrary: clockSet },
);

/** A machine that has settled: then there are captures to be made and struck. */
function settled(server: TestServer, world: { ms: number }): void {
  for (let s = 0; s < 420; s++) {
    for (const [probe, temperatureC, humidityPct] of [
      ['r', 26.7, 51] as const,
      ['s', 12, 94] as const,
    ]) {
      // Up to 1.4 s under way: now and then its second has been worked out meanwhile.
      const t = NOW + world.ms - ((s * 379) % 1400);
      server.visit.line({ type: 'reading', t, probe, temperatureC, humidityPct }, NOBODY);
    }
    world.ms += 1000;
    server.clock(world.ms);
    server.visit.tick();
  }
}

describe('what was acknowledged is read back', () => {
  test('whatever comes, in whatever order', async () => {
    let accepted = 0;
    let clocks = 0;
    await fc.assert(
      fc.asyncProperty(fc.boolean(), fc.array(step, { maxLength: 60 }), async (steady, steps) => {
        const server = await testServer();
        const world = { ms: 0 };
        for (const line of setUp()) server.visit.line(line, NOBODY);
        if (steady) settled(server, world);
        for (const each of steps) await each(server, world);
        accepted += server.record.length;
        clocks += server.record.filter((line) => line.includes('"kind":"clock"')).length;
        // An event may have been told some seconds ahead, and have been refused.
        server.clock(world.ms + 6000);
        server.visit.tick();
        const again = readAgain(server.record, server.visit);
        expect(known(again.state())).toEqual(known(server.visit.state()));
        await server.app.close();
      }),
      { numRuns: runs(150) },
    );
    expect(accepted).toBeGreaterThan(LONG_FORM ? 10_000 : 1000);
    expect(clocks, 'settings of the clock').toBeGreaterThan(0);
  }, 120_000);
});

describe('a line that could not be read back is not taken', () => {
  test('an id that is none', async () => {
    const server = await testServer();
    expect(await call(server, 'PUT', '/api/units/__proto__', {})).toBe(400);
    expect(await call(server, 'PUT', '/api/probes/__proto__', {})).toBe(400);
    expect(server.record).toEqual([]);
  });

  test('texts and ids that are too long all together', async () => {
    const server = await testServer();
    await call(server, 'PUT', '/api/probes/p');
    const check = { t: NOW, atC: 20, probes: Array(64).fill(LONG) };
    const response = await server.app.inject({
      ...{ method: 'PUT', url: '/api/probes/p', headers: { host: 'localhost' } },
      payload: { check },
    });
    expect(response.statusCode).toBe(400);
    expect(response.json<{ error: string }>().error).toMatch(/longer than 16320 characters/);
    expect(server.record).toHaveLength(1);
    expect(
      await call(server, 'PUT', '/api/probes/p', { check: { ...check, probes: ['a', 'b'] } }),
    ).toBe(200);
    const again = readAgain(server.record, server.visit);
    expect(again.probeName('p')).toBe('p');
  });

  test('a time that looks like seconds, before there is any reading', async () => {
    const server = await testServer();
    const note = { kind: 'note', text: 'x', t: 1_777_885_200 };
    expect(await call(server, 'POST', '/api/events', note)).toBe(400);
  });
});

describe('by example', () => {
  const at = (server: TestServer, t: number, probe: string): unknown =>
    server.visit.line({ type: 'reading', t: NOW + t, probe, temperatureC: 20 }, ADAPTER);

  test.each([
    ['an event ahead, then readings that are late', 'note', [0, 4000]],
    [
      'a gap of ten minutes and two seconds, then a line three seconds late',
      null,
      [0, 602_000, 599_000],
    ],
    ['one reading after an hour', null, [0, 3_600_000]],
  ])('%s', async (_, kind, times) => {
    const server = await testServer();
    at(server, 0, 'p');
    if (kind !== null) {
      expect(await call(server, 'POST', '/api/events', { kind, text: 'x', t: NOW + 5000 })).toBe(
        200,
      );
    }
    for (const t of times.slice(1)) expect(at(server, t, 'p')).toBeNull();
    const marked = server.record.filter((text) => text.includes('"after":'));
    expect(marked.length).toBeGreaterThan(0);
    readAgain(server.record, server.visit);
  });

  test('a probe that jumped by an hour and was forgotten then', async () => {
    const server = await testServer();
    at(server, 0, 'p');
    at(server, 3_600_000, 'q');
    expect(await call(server, 'DELETE', '/api/probes/q')).toBe(200);
    expect(readAgain(server.record, server.visit).probeName('q')).toBeNull();
  });

  test('the same late reading twice: it told nothing either time', async () => {
    const server = await testServer();
    for (const t of [0, 4000, 2000, 2000]) expect(at(server, t, 'p')).toBeNull();
    readAgain(server.record, server.visit);
  });
});
