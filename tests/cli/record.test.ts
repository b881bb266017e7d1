/** The record through the command line: export and import to the digit, backup, doctor, old records. */
import {
  chmodSync,
  existsSync,
  openSync,
  closeSync,
  readdirSync,
  readFileSync,
  statSync,
  writeFileSync,
  writeSync,
  mkdirSync,
} from 'node:fs';
import { join } from 'node:path';
import { describe, expect, onTestFinished, test } from 'vitest';
import { fanTable } from '../../adapters/simulated/fan-table.ts';
import { setUpLines } from '../../adapters/simulated/set-up.ts';
import { examine } from '../../server/cli/doctor.ts';
import { exportVisits } from '../../server/cli/export.ts';
import { importLog } from '../../server/cli/import.ts';
import { backUp } from '../../server/store/backup.ts';
import { readDatabase } from '../../server/store/database.ts';
import { readChart, readTold } from '../../server/store/results.ts';
import { VisitRecord } from '../../server/store/visit-record.ts';
import { allVisits } from '../../server/store/visits.ts';
import { LiveVisit } from '../../server/visit.ts';
import { scenario, SCENARIO_NAMES } from '../../simulator/scenarios.ts';
import { System } from '../../simulator/system.ts';
import { plateau, tempFolder } from '../program.ts';
import { LAB_DAYS, readRows, visitLog } from '../reference/lab/convert.ts';
import { LONG } from '../long.ts';

const T0 = 1_777_885_200_000;
const PERSON = { adapter: null, simulated: false };
const SOURCE = { adapter: 'simulated', simulated: true };

function folder(): string {
  const temp = tempFolder();
  onTestFinished(() => temp.remove());
  return temp.path;
}

async function exported(dataDir: string, visit: string | null = null): Promise<string> {
  let text = '';
  const write = async (piece: string): Promise<void> => void (text += piece);
  await exportVisits({ dataDir, visit, allTo: null }, write);
  return text;
}

/** What is kept of the only visit of a folder beside its lines. */
function kept(dataDir: string): object {
  const db = readDatabase(dataDir);
  const [visit] = db === null ? [] : allVisits(db);
  if (db === null || visit === undefined) throw new Error('there is no visit');
  const told = { ...readTold(db, visit.key), chart: [...readChart(db, visit.key)] };
  db.close();
  return told;
}

async function takeIn(text: string): Promise<{ dataDir: string; refused: string[] }> {
  const dataDir = folder();
  const refused: string[] = [];
  const path = join(dataDir, 'log.ndjson');
  writeFileSync(path, text);
  await importLog(join(dataDir, 'data'), path, {
    ...{ id: 'import-1', kind: 'import', writtenT: T0 },
    refused: (n, why) => refused.push(`${n}: ${why}`),
  });
  return { dataDir: join(dataDir, 'data'), refused };
}

function recordOf(dataDir: string): VisitRecord {
  return new VisitRecord({
    ...{ dataDir, id: 'visit-1', kind: 'visit' },
    ...{ now: () => T0, monotonic: () => 0 },
  });
}

/** A visit to a simulated site, as the server records it, with what a person does meanwhile. */
function recorded(name: string): string {
  const dataDir = folder();
  const parameters = scenario(name);
  const system = new System(parameters, 1, T0);
  const visit = new LiveVisit(() => T0);
  let record = recordOf(dataDir);
  visit.recordTo(record);
  const airflowOf = (id: string) => {
    const unit = parameters.units.find((each) => each.id === id);
    return unit && { first: fanTable(unit, parameters.mode, 1)(unit.fan) };
  };
  for (const line of setUpLines(parameters, airflowOf, T0)) visit.line(line, SOURCE);
  const unit = parameters.units[0]?.id ?? 'u1';
  for (let s = 1; s <= 700; s++) {
    const t = T0 + 1000 * s;
    for (const reading of system.advance(t)) visit.line({ type: 'reading', ...reading }, SOURCE);
    if (s === 100)
      visit.line({ type: 'event', t, kind: 'note', unit, text: 'filter “clean”' }, PERSON);
    if (s === 400) visit.line({ type: 'event', t, kind: 'setpoint', unit, valueC: 17 }, PERSON);
    if (s === 500)
      visit.line({ type: 'event', t, kind: 'amend', event: 'e1', text: 'first' }, PERSON);
    if (s % 60 === 0) record.tick();
    if (s !== 450) continue;
    record.close(); // seals its readings, as a start of the server does
    record = recordOf(dataDir);
    visit.recordTo(record);
  }
  visit.finish();
  record.close();
  return dataDir;
}

describe('export and import', () => {
  test.each(SCENARIO_NAMES)('give a simulated visit (%s) again to the digit', async (name) => {
    const dataDir = recorded(name);
    const text = await exported(dataDir);
    const again = await takeIn(text);
    expect(again.refused).toEqual([]);
    expect(await exported(again.dataDir)).toBe(text);
    expect(kept(again.dataDir)).toEqual(kept(dataDir));
  });

  test.each(LONG ? LAB_DAYS : LAB_DAYS.slice(0, 1))(
    'give a day of a laboratory ($file) again to the digit',
    async (day) => {
      const lines = visitLog(day, readRows(day));
      const { dataDir, refused } = await takeIn(
        lines.map((line) => JSON.stringify(line)).join('\n'),
      );
      expect(refused).toEqual([]);
      const text = await exported(dataDir);
      const again = text.trimEnd().split('\n');
      expect(again.map((line): unknown => JSON.parse(line))).toEqual(
        lines.map((line): unknown => JSON.parse(JSON.stringify(line))),
      );
      expect(await exported((await takeIn(text)).dataDir)).toBe(text);
    },
  );
});

describe('the commands', () => {
  test('export gives the newest visit, one by its name, or all; import takes them once', async () => {
    const dataDir = recorded('demo');
    const text = await exported(dataDir);
    const one = await plateau(['export', '--data', dataDir, '--visit', 'visit-1']);
    expect(one).toMatchObject({ status: 0, err: '' });
    expect(one.out).toBe(text);
    const none = await plateau(['export', '--data', dataDir, '--visit', 'x']);
    expect(none).toMatchObject({ status: 1, out: '' });
    expect(none.err).toBe('plateau: there is no visit "x": the newest are visit-1\n');
    const all = join(dataDir, 'all');
    expect((await plateau(['export', '--data', dataDir, '--all', all])).status).toBe(0);
    expect(readFileSync(join(all, 'visit-1.ndjson'), 'utf8')).toBe(text);

    const other = join(dataDir, 'other');
    const first = await plateau(['import', all, '--data', other]);
    expect(first).toMatchObject({ status: 0, err: '' });
    expect(first.out).toMatch(/is taken as import-[0-9a-f]{16}: \d+ lines\n$/);
    const second = await plateau(['import', all, '--data', other]);
    expect(second.out).toMatch(/is there already, as import-/);
    expect((await plateau(['export', '--data', other])).out).toBe(text);
  });

  test('a file that is no visit log is told of line by line, and nothing good is lost', async () => {
    const path = join(folder(), 'log.ndjson');
    writeFileSync(path, '{"type":"visit","version":1,"title":"x"}\n{"type":"unit"}\n');
    const { status, out, err } = await plateau(['import', path, '--data', folder()]);
    expect({ status, err }).toEqual({ status: 1, err: `${path}: line 2: id: is missing\n` });
    expect(out).toMatch(/: 1 lines\n$/);
    const none = await plateau(['import', `${path}.not`, '--data', folder()]);
    expect(none).toMatchObject({ status: 1, out: '' });
    expect(none.err).toMatch(/^plateau: .*log\.ndjson\.not.*\n$/);
  });

  test('a backup holds every visit; import takes them out of it', async () => {
    const dataDir = recorded('demo');
    const file = join(folder(), 'backup.db');
    backUp(dataDir, file);
    expect(() => backUp(dataDir, file)).toThrow(/is there already/);
    const other = join(folder(), 'other');
    expect((await plateau(['import', file, '--data', other])).status).toBe(0);
    expect(await exported(other, 'visit-1')).toBe(await exported(dataDir));
  });
});

describe('records of an earlier version, one visit log a visit', () => {
  test('are taken in when the server starts, and kept', async () => {
    const text = await exported(recorded('demo'));
    const dataDir = folder();
    writeFileSync(join(dataDir, 'visit-2026-05-04T09-00-00-000Z.ndjson'), text);
    writeFileSync(join(dataDir, 'replay-2026-05-04T09-00-00-000Z.ndjson'), `${text}{"type":"rea`);
    const { takeOldRecords } = await import('../../server/cli/old-records.ts');
    const told: string[] = [];
    await takeOldRecords(dataDir, (message) => told.push(message));
    expect(told).toEqual([expect.stringMatching(/replay-.*: line \d+: is cut short/)]);
    for (const name of ['visit', 'replay'])
      expect(await exported(dataDir, `${name}-2026-05-04T09-00-00-000Z`)).toBe(text);
    expect(readdirSync(join(dataDir, 'imported'))).toHaveLength(2);
    expect(readdirSync(dataDir).filter((name) => name.endsWith('.ndjson'))).toEqual([]);
  });
});

describe('doctor', () => {
  const found = async (dataDir: string): Promise<string[]> => {
    const told: string[] = [];
    for await (const { state, text } of examine(dataDir)) told.push(`${state}: ${text}`);
    return told;
  };

  test('finds nothing wrong with a good record', async () => {
    expect(await found(recorded('demo'))).toEqual(['well: 1 of 1 visits are whole and well']);
  });

  test('closes what others could read', async () => {
    const dataDir = recorded('demo');
    chmodSync(dataDir, 0o755);
    chmodSync(join(dataDir, 'plateau.db'), 0o644);
    expect((await found(dataDir)).map((text) => text.split(':')[0])).toEqual([
      'mended',
      'mended',
      'well',
    ]);
    expect(statSync(join(dataDir, 'plateau.db')).mode & 0o777).toBe(0o600);
  });

  test('works out anew what a killed server left', async () => {
    const dataDir = recorded('demo');
    const before = kept(dataDir);
    // As a kill leaves it: the lines are there, what was told of them is not.
    const record = recordOf(dataDir);
    record.anew();
    record.attach();
    record.close(false);
    expect(kept(dataDir)).not.toEqual(before);
    expect(await found(dataDir)).toEqual([
      expect.stringMatching(/^mended: visit-1 was not ended in order: its \d+ lines/),
      'well: 0 of 1 visits are whole and well',
    ]);
    expect(kept(dataDir)).toEqual(before);
  });

  /** Spoils 4 KiB of the record, so many pages after the head of a block of readings. */
  function spoil(dataDir: string, pages: number): void {
    const path = join(dataDir, 'plateau.db');
    const block = readFileSync(path).lastIndexOf('{"version":1,"readings"');
    expect(block).toBeGreaterThan(0);
    const file = openSync(path, 'r+');
    const from = (Math.floor(block / 4096) + pages) * 4096;
    writeSync(file, Buffer.alloc(4096, 0xa5), 0, 4096, from);
    closeSync(file);
  }

  test('says which visit cannot be read to its end', async () => {
    const dataDir = recorded('demo');
    const path = join(dataDir, 'plateau.db');
    const bytes = readFileSync(path);
    bytes.fill(0x7b, bytes.indexOf('{"version":1,"readings"'), bytes.indexOf('"readings"'));
    writeFileSync(path, bytes);
    expect(await found(dataDir)).toEqual([
      expect.stringMatching(
        /^open: visit-1 cannot be read to its end: after reading \d{3,}: a block of readings is damaged: /,
      ),
      'well: 0 of 1 visits are whole and well',
    ]);
  });

  test('saves what can be read of a damaged record, and keeps the damaged one', async () => {
    const dataDir = recorded('demo');
    const before = (await exported(dataDir)).trimEnd().split('\n');
    spoil(dataDir, 1);
    const told = await found(dataDir);
    expect(told[0]).toMatch(/^open: the record is damaged: /);
    expect(told[1]).toMatch(/^mended: visit-1: \d+ lines are saved, up to where it is damaged/);
    expect(told[2]).toMatch(/^open: the damaged record is kept as .*plateau-damaged-/);
    const after = (await exported(dataDir)).trimEnd().split('\n');
    expect(after.length).toBeGreaterThan(10);
    expect(before.slice(0, after.length)).toEqual(after);
    expect(await found(dataDir)).toEqual(['well: 1 of 1 visits are whole and well']);
  });

  test('of a folder that is none, or holds no record, is a sentence', async () => {
    expect((await found('/nowhere'))[0]).toMatch(/^open: there is no folder/);
    const dataDir = join(folder(), 'data');
    mkdirSync(dataDir, { mode: 0o700 });
    expect(await found(dataDir)).toEqual(['well: no visit has been recorded here yet']);
    writeFileSync(
      join(dataDir, 'plateau.db'),
      'this is not a database at all, but it is long enough',
    );
    expect((await found(dataDir)).at(-1)).toMatch(/^open: .*cannot be opened .*backup/);
    expect(existsSync(join(dataDir, 'plateau.db'))).toBe(true);
  });
});
