/** `plateau analyse`, as it is run: what it prints, says and returns. */
import { spawn } from 'node:child_process';
import { appendFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import {
  type Capture,
  captureSchema,
  snapshotSchema,
  type Snapshot,
} from '../../server/protocol.ts';
import { plateau, ROOT, tempFolder } from '../program.ts';

const folder = tempFolder();
afterAll(folder.remove);

const T = 1_777_885_200_000;
const SET_UP = [
  '{"type":"visit","version":1,"title":"Orchard Lane 4","pressurePa":98300,"mode":"cooling","simulated":false}',
  '{"type":"unit","id":"u1","name":"Study","airflow":{"source":"entered","flowM3s":0.151,"basis":"actual","plane":"supply","limitPct":6}}',
  '{"type":"probe","id":"p1","name":"R","unit":"u1","place":"return","limits":{"temperatureC":0.5,"humidityPct":2.5}}',
  '{"type":"probe","id":"p2","name":"S","unit":"u1","place":"supply","limits":{"temperatureC":0.5,"humidityPct":2.5}}',
];
const at = (ms: number, probe: string, temperatureC: number, humidityPct: number): string =>
  JSON.stringify({ type: 'reading', t: T + ms, probe, temperatureC, humidityPct });
const seconds = (n: number): string[] =>
  Array.from({ length: n }, (_, s) => [
    at(s * 1000, 'p1', 26.61, 48.2),
    at(s * 1000 + 400, 'p2', 14.02, 88),
  ]).flat();

let n = 0;
function file(lines: string[] | Buffer): string {
  const path = join(folder.path, `log-${n++}.ndjson`);
  writeFileSync(path, Array.isArray(lines) ? lines.join('\n') + '\n' : lines);
  return path;
}
const snapshots = (out: string): Snapshot[] =>
  out
    .split('\n')
    .filter((line) => line.includes('"type":"snapshot"'))
    .map((line) => snapshotSchema.parse(JSON.parse(line)));

beforeAll(() => plateau(['--version']), 60_000); // builds

describe('output', () => {
  test('a snapshot a second that fits the protocol, then a capture of the steady span', async () => {
    const { status, out, err } = await plateau(['analyse', file([...SET_UP, ...seconds(300)])]);
    expect(err).toBe('');
    expect(status).toBe(0);
    const all = snapshots(out);
    expect(all).toHaveLength(301);
    expect(all.map((s) => s.t)).toEqual(Array.from({ length: 301 }, (_, s) => T + s * 1000));
    const last = all.at(-1)?.units['u1'];
    expect(last?.settling.state).toBe('steady');
    expect(last?.doubts.map((d) => d.code)).toEqual([
      'check-missing',
      'airflow-not-measured',
      'supply-single',
    ]);
    const lines = out.trim().split('\n');
    const capture = captureSchema.parse(JSON.parse(lines.at(-1) ?? ''));
    expect(capture.totalW).toBeCloseTo(last?.capacity.totalW ?? 0, 1);
    expect(lines).toHaveLength(302);
  });

  test('a capture that was struck is printed again with why, and never as a result after it', async () => {
    const log = (strike: object[]): string =>
      file([
        ...SET_UP,
        ...seconds(300),
        JSON.stringify({ type: 'event', t: T + 300_000, kind: 'setpoint', unit: 'u1', valueC: 20 }),
        ...strike.map((each) => JSON.stringify({ type: 'event', t: T + 301_000, ...each })),
        at(302_000, 'p1', 26.61, 48.2),
      ]);
    const captures = async (path: string): Promise<Capture[]> => {
      const { status, out, err } = await plateau(['analyse', path, '--every', '60']);
      expect([status, err]).toEqual([0, '']);
      return out
        .split('\n')
        .filter((line) => line.includes('"type":"capture"'))
        .map((line) => captureSchema.parse(JSON.parse(line)));
    };
    const [made, ...none] = await captures(log([]));
    expect(none).toEqual([]);
    const { unit, from, by } = made ?? {};
    const strike = { kind: 'strike', unit, from, by, text: 'wrong speed' };
    const struck = { t: T + 301_000, text: 'wrong speed' };
    expect(await captures(log([strike]))).toEqual([made, { ...made, struck }]);
    const back = { ...strike, struck: false };
    expect(await captures(log([strike, back]))).toEqual([made, { ...made, struck }, made]);
  });

  test('one capture of each span, whatever the log says of when they are made', async () => {
    const visit = (captureAfterS: number | null): string =>
      JSON.stringify({ type: 'visit', version: 1, captureAfterS });
    const outputs: string[] = [];
    for (const captureAfterS of [null, 0]) {
      const path = file([...SET_UP, visit(captureAfterS), ...seconds(900)]);
      const { status, out } = await plateau(['analyse', path, '--every', '3600']);
      expect(status).toBe(0);
      const captures = out.split('\n').filter((line) => line.includes('"type":"capture"'));
      outputs.push(captures.join('\n'));
      expect(captures).toHaveLength(1);
      const capture = captureSchema.parse(JSON.parse(captures[0] ?? ''));
      expect(capture.by).toBe('itself');
      expect(capture.to).toBeGreaterThan(T + 850_000);
      expect(capture).not.toHaveProperty('open');
    }
    expect(outputs[0]).toBe(outputs[1]);
  });

  test('a capture after a setpoint says what has changed, and one by touch is printed too', async () => {
    const event = (s: number, more: object): string =>
      JSON.stringify({ type: 'event', t: T + s * 1000, ...more });
    const lines = seconds(2000);
    lines.splice(2 * 1900, 0, event(1900, { kind: 'capture', unit: 'u1' }));
    lines.splice(2 * 900, 0, event(900, { kind: 'setpoint', unit: 'u1', valueC: 20 }));
    const { out } = await plateau(['analyse', file([...SET_UP, ...lines]), '--every', '3600']);
    const captures = out
      .split('\n')
      .filter((line) => line.includes('"type":"capture"'))
      .map((line) => captureSchema.parse(JSON.parse(line)));
    expect(captures.map((c) => c.by)).toEqual(['itself', 'touch', 'itself']);
    expect(captures[0]?.before).toBeUndefined();
    for (const { before } of captures.slice(1)) {
      expect(before).toMatchObject({ event: { kind: 'setpoint', t: T + 900_000, valueC: 20 } });
      // Nothing has changed in the air: the difference is none, and as good as certain.
      expect(before?.differenceW).toBeCloseTo(0, 3);
      expect(before?.differenceU95W).toBeLessThan(1);
    }
  });

  test('--every by the log’s clock', async () => {
    const path = file([...SET_UP, ...seconds(130)]);
    const { out } = await plateau(['analyse', path, '--every', '60']);
    expect(snapshots(out).map((s) => s.t - T)).toEqual([0, 60_000, 120_000]);
  });

  test('an airflow line holds from its time on', async () => {
    const airflow = `{"type":"airflow","t":${T + 10_000},"unit":"u1","airflow":{"source":"entered","flowM3s":0.0755,"basis":"actual","plane":"supply","limitPct":6}}`;
    const lines = seconds(20);
    lines.splice(20, 0, airflow);
    const { out } = await plateau(['analyse', file([...SET_UP, ...lines])]);
    const total = (s: number): number => snapshots(out)[s]?.units['u1']?.capacity.totalW ?? NaN;
    expect(total(15) / total(5)).toBeCloseTo(0.5, 6);
  });
});

describe('bad lines: line and field are named, what was good is kept', () => {
  test.each([
    ['truncated', '{"type":"reading","t":1777885', /line 15: is cut short/],
    [
      'wrong type',
      at(4500, 'p1', 26, 48).replace('26', '"26"'),
      /line 15: temperatureC: "26" is a string/,
    ],
    ['duplicate', at(4000, 'p1', 26.61, 48.2), /line 15: t: .*"p1".*already/],
    ['future-dated', at(3_600_000 * 24 * 365 * 5, 'p1', 26, 48), /line 15: t: .*in the future/],
    [
      'an hour ahead',
      at(3_600_000, 'p1', 26, 48),
      /line 15: t: .*in the future of the lines around/,
    ],
    ['too late', at(-60_000, 'p1', 26, 48), /line 15: t: .*older than the newest reading of "p1"/],
    ['huge', 'x'.repeat(100_000), /line 15: is longer than/],
    ['binary', '\u0000\u0007\u0001', /line 15: is not text but binary data/],
  ])('%s', async (_, bad, why) => {
    const lines = [...SET_UP, ...seconds(8)];
    lines.splice(14, 0, bad);
    const path = file(lines);
    const stopped = await plateau(['analyse', path]);
    expect(stopped.status).toBe(1);
    expect(stopped.err).toMatch(why);
    expect(stopped.err.trim().split('\n')).toHaveLength(1);
    expect(snapshots(stopped.out).length).toBeGreaterThanOrEqual(4);
    const kept = await plateau(['analyse', path, '--keep-going']);
    expect(kept.status).toBe(1);
    expect(kept.err).toMatch(why);
    expect(kept.err).toMatch(/1 line was refused and skipped/);
    const clean = await plateau(['analyse', file([...SET_UP, ...seconds(8)])]);
    expect(kept.out).toBe(clean.out);
  });

  test('a file of noise ends with a sentence a line and no snapshot', async () => {
    const noise = Buffer.from(Array.from({ length: 5000 }, (_, i) => (i * 7919) % 251));
    const { status, out, err } = await plateau(['analyse', '--keep-going', file(noise)]);
    expect(status).toBe(1);
    expect(out).toBe('');
    expect(err).toMatch(/line 1: is not text but binary data/);
  });

  test('no file, a folder', async () => {
    const none = await plateau(['analyse', join(folder.path, 'none.ndjson')]);
    expect(none).toMatchObject({ status: 1, out: '' });
    expect(none.err).toMatch(/there is no such file/);
    expect((await plateau(['analyse', folder.path])).err).toMatch(/is a folder/);
  });
});

test('a bad line late in a log: the seconds before it are kept, none after it is worked out', async () => {
  const lines = [...SET_UP, ...seconds(40)];
  lines.splice(4 + 2 * 20, 0, 'nonsense');
  const { status, out } = await plateau(['analyse', file(lines)]);
  expect(status).toBe(1);
  expect(snapshots(out).map((s) => (s.t - T) / 1000)).toEqual(
    Array.from({ length: 21 }, (_, s) => s),
  );
});

test('a gap of months after a pair of far readings is passed over at once', async () => {
  const far = (t: number, probe: string): string =>
    JSON.stringify({ type: 'reading', t, probe, temperatureC: 20 });
  const lines = [
    far(1e12, 'a'),
    far(1.15e12, 'a'),
    far(1.15e12 + 3000, 'b'),
    far(T, 'c'),
    far(T + 1, 'd'),
  ];
  const { out } = await plateau(['analyse', file(lines)]);
  expect(out.split('\n').length).toBeLessThan(20_000);
});

test('what is nested deep, or larger than any number, is refused in words, as any other line', async () => {
  const deep = '['.repeat(7000) + ']'.repeat(7000);
  const path = file([...SET_UP, ...seconds(3)]);
  const lines = [
    `{"type":${deep}}`,
    `{"type":"reading","t":1777885200000,"probe":${deep},"temperatureC":1}`,
    '{"type":"reading","t":1777885200000,"probe":"r","temperatureC":1e999}',
    '{"type":"reading","t":-1e999,"probe":"r","temperatureC":1}',
  ];
  appendFileSync(path, `${lines.join('\n')}\n`);
  const { status, err } = await plateau(['analyse', '--keep-going', path]);
  expect(status).toBe(1);
  expect(err).toMatch(/type: a value nested too deep to be read is not known/);
  expect(err).toMatch(/probe: a value nested too deep to be read is/);
  expect(err).toMatch(/temperatureC: is larger than any number can be/);
  expect(err).toMatch(/ t: is larger than any number can be/);
  expect(err).toMatch(/4 lines were refused/);
  expect(err).not.toMatch(/call stack/);
  const within = await plateau(['analyse', `${path}/x`]);
  expect(within.err).toMatch(/there is no such file: a part of its path is no folder/);
});

test('whoever reads it may stop reading: it ends without a word', async () => {
  const child = spawn(
    process.execPath,
    ['server/launch.mjs', 'analyse', file([...SET_UP, ...seconds(20_000)])],
    {
      cwd: ROOT,
    },
  );
  let err = '';
  child.stderr.setEncoding('utf8').on('data', (text: string) => (err += text));
  child.stdout.once('data', () => child.stdout.destroy());
  const status = await new Promise((resolve) => child.on('close', resolve));
  expect({ status, err }).toEqual({ status: 0, err: '' });
});

describe('the command line', () => {
  test.each([
    [['analyse'], /needs a file/],
    [['analyse', 'a', 'b'], /one too many/],
    [['analyse', 'a', '--evry', '3'], /--evry/],
    [['analyse', 'a', '--every', '0'], /--every is a number from 1/],
    [['demo', '--port', 'x'], /--port is a whole number from 0 to 65535, not "x"/],
    [['demo', '--speed', '61'], /--speed is a number from 1 to 60/],
    [['demo', '--scenario', 'nowhere'], /nowhere/],
    [['start', '--seed', '1'], /--seed belongs to demo/],
    [['start', '--port', '--host'], /--port needs a value; one that begins with -/],
    [['demo', '--cert', 'x'], /--cert and --key go together/],
    [['demo', '--cert', 'nowhere', '--key', 'y'], /--cert nowhere: there is no such file/],
    [
      ['demo', '--cert', 'README.md', '--key', 'README.md'],
      /README\.md are no certificate with its key, in PEM/,
    ],
    [['start', '--lan', '--host', '127.0.0.1'], /--lan listens on all addresses.*leave out --host/],
    [['start', '--replay'], /--replay needs a value/],
    [['start', '--replay', 'x', '--adapter', 'y'], /--replay plays a log and nothing else/],
    [['demo', '--replay', 'x', '--seed', '1'], /--replay plays a log and nothing else/],
    [['start', '--data', ''], /--data needs the name of a folder/],
    [['start', '--data', 'README.md'], /README\.md is no folder/],
    [['start', '--adapter', ',a\nb'], /--adapter needs the name/],
    [['start', '--replay', 'server'], /--replay server: is a folder; it takes a visit log/],
    [['start', '--replay', 'nowhere'], /--replay nowhere: there is no such file/],
    [['start', '--probe-description', 'server'], /server cannot be read: it is a folder/],
    [['dance'], /"dance" is not a command/],
  ])('%j: one line, status 2', async (args, why) => {
    const { status, out, err } = await plateau(args);
    expect(err).toMatch(why);
    expect(err.trim().split('\n')).toHaveLength(1);
    expect({ status, out }).toEqual({ status: 2, out: '' });
  });

  test('--help names every command and option', async () => {
    const { status, out } = await plateau(['--help']);
    expect(status).toBe(0);
    for (const word of [
      'demo',
      'start',
      'analyse',
      '--port',
      '--host',
      '--data',
      '--every',
      '--keep-going',
      '--adapter',
    ]) {
      expect(out).toContain(word);
    }
  });
});
