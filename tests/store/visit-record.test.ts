/** The record of a visit on disk: what is acknowledged is there, and what cannot be written waits. */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, onTestFinished, test } from 'vitest';
import type { Line } from '../../adapters/contract.ts';
import { readDatabase } from '../../server/store/database.ts';
import { tempFolder } from '../program.ts';
import { reading, stage, T0 } from './stage.ts';

/** A disk of 24 MiB, where this user may make one. */
const mount = (path: string): boolean =>
  spawnSync('mount', ['-t', 'tmpfs', '-o', 'size=24m', 'tmpfs', path]).status === 0;
function smallDisk(): boolean {
  const temp = tempFolder();
  const can = mount(temp.path);
  if (can) spawnSync('umount', [temp.path]);
  else console.warn('No disk can be mounted: the test of a full one is left out.');
  temp.remove();
  return can;
}

const unit: Line = { type: 'unit', id: 'u1', name: 'Study' };
const note = (text: string): Line => ({ type: 'event', t: T0, kind: 'note', text, id: 'e1' });

describe('what is added', () => {
  test('is there for another program before the caller goes on: set-up at once, a reading when it is written', () => {
    const { open, lines } = stage();
    const record = open();
    record.add(unit);
    expect(lines()).toEqual([unit]);
    record.add(reading(0));
    record.add(reading(1));
    expect(record.write()).toBe(true);
    expect(lines()).toEqual([unit, reading(0), reading(1)]);
    record.add(note('open the door'));
    record.add(reading(2));
    record.tick();
    expect(lines()).toEqual([unit, reading(0), reading(1), note('open the door'), reading(2)]);
    record.close();
  });

  test('keeps its order when readings are sealed into blocks, and when the record is opened again', () => {
    const { open, lines } = stage();
    const all: Line[] = [];
    let record = open();
    for (let i = 0; i < 20_000; i++) {
      if (i % 3000 === 1) {
        const line = note(`at ${i}`);
        all.push(line);
        record.add(line);
      }
      all.push(reading(i));
      record.add(reading(i));
      if (i % 4000 === 0) record.tick();
      if (i % 7000 === 6999) {
        record.close();
        record = open();
      }
    }
    record.close();
    expect(lines()).toEqual(all);
  });

  test('in a burst is sealed block by block, with a turn for everybody else between two', async () => {
    const { open, dataDir, lines } = stage();
    const record = open();
    for (let i = 0; i < 30_000; i++) record.gather(reading(i));
    record.tick();
    const sealed = (): unknown => {
      const db = readDatabase(dataDir);
      const count: unknown = db?.prepare('SELECT COUNT(*) AS n FROM segment').get();
      db?.close();
      return count;
    };
    expect(sealed()).toMatchObject({ n: 1 });
    for (let turn = 0; turn < 10; turn++) await new Promise((resolve) => setImmediate(resolve));
    expect(sealed()).toMatchObject({ n: 3 });
    record.close();
    expect(lines()).toHaveLength(30_000);
  });

  test('to a visit that begins with what was known comes after that; alone that is nothing', () => {
    const { open, lines } = stage();
    const first = open('visit-1');
    first.beginWith([unit]);
    first.tick();
    first.close();
    expect(lines('visit-1')).toEqual([]);
    const second = open('visit-2');
    second.beginWith([unit]);
    second.add(reading(0));
    second.close();
    expect(lines('visit-2')).toEqual([unit, reading(0)]);
  });

  test('can be read by its owner alone', () => {
    const { open, dataDir } = stage();
    const record = open();
    record.add(unit);
    const modes = ['', '-wal', '-shm'].map(
      (end) => statSync(join(dataDir, `plateau.db${end}`)).mode & 0o777,
    );
    expect(modes).toEqual([0o600, 0o600, 0o600]);
    expect(statSync(dataDir).mode & 0o777).toBe(0o700);
    record.close();
  });

  test('stands in the catalog: title, site, units, probes', () => {
    const { open, dataDir } = stage();
    const record = open();
    record.add({ type: 'visit', version: 1, title: 'Orchard Lane 4', customer: 'A. Reader' });
    record.add({ type: 'visit', version: 1, address: 'Orchard Lane 4', altitudeM: 300 });
    record.add({ ...unit, model: 'wall', nominalW: 3500 });
    record.add({ type: 'unit', id: 'u1', serial: '0042', system: 's1' });
    record.add({ type: 'system', id: 's1', lineLengthM: 12 });
    record.add({ type: 'probe', id: 'p1', name: 'R', serial: '7', simulated: true });
    record.add(reading(1));
    record.close();
    const db = readDatabase(dataDir);
    const get = (sql: string): unknown => ({ ...Object(db?.prepare(sql).get()) });
    expect(get('SELECT title, details, simulated, begun_t FROM visit')).toEqual({
      ...{ title: 'Orchard Lane 4', simulated: 1, begun_t: T0 + 250 },
      details: JSON.stringify({ customer: 'A. Reader', address: 'Orchard Lane 4' }),
    });
    expect(get('SELECT name, address, altitude_m FROM site')).toEqual({
      ...{ name: 'Orchard Lane 4', address: 'Orchard Lane 4', altitude_m: 300 },
    });
    expect(get('SELECT name, system, details FROM indoor_unit')).toEqual({
      ...{ name: 'Study', system: 's1' },
      details: JSON.stringify({ model: 'wall', nominalW: 3500, system: 's1', serial: '0042' }),
    });
    expect(get('SELECT details FROM outdoor_system')).toEqual({ details: '{"lineLengthM":12}' });
    expect(get("SELECT name, details FROM probe WHERE id = 'p1'")).toEqual({
      ...{ name: 'R', details: '{"serial":"7"}' },
    });
    db?.close();
  });
});

describe('while nothing can be written', () => {
  test('it says so, keeps what comes, and writes it as soon as that works', () => {
    const { open, lines, dataDir, pass } = stage();
    mkdirSync(dirname(dataDir));
    writeFileSync(dataDir, 'a file where the folder should be');
    const record = open();
    record.add(unit);
    expect(record.trouble).toMatch(
      /^The visit is not being recorded: .* kept in memory\..*--data\.$/,
    );
    record.add(reading(0));
    expect(record.write()).toBe(false);
    rmSync(dataDir);
    pass(1000);
    record.tick();
    expect(record.trouble).toBeNull();
    expect(lines()).toEqual([unit, reading(0)]);
    record.close();
  });

  test.each(['deleted', 'moved away'])(
    'a folder that was %s is made again, with all that it held',
    (how) => {
      const { open, lines, dataDir, pass } = stage();
      const record = open();
      record.add(unit);
      for (let i = 0; i < 9000; i++) record.add(reading(i));
      record.tick();
      if (how === 'deleted') rmSync(dataDir, { recursive: true });
      else renameSync(dataDir, `${dataDir}-moved`);
      record.add(reading(9000));
      pass(1000);
      record.tick();
      expect(existsSync(join(dataDir, 'plateau.db'))).toBe(true);
      pass(1000);
      record.add(note('after'));
      expect(record.trouble).toBeNull();
      expect(lines()).toHaveLength(9003);
      expect(lines().at(-1)).toEqual(note('after'));
      record.close();
    },
  );

  test.runIf(smallDisk())('a disk that is full takes it again once there is room', () => {
    const { open, lines, dataDir, pass } = stage();
    mkdirSync(dataDir, { recursive: true });
    mount(dataDir);
    onTestFinished(() => void spawnSync('umount', ['-l', dataDir]));
    const ballast = join(dataDir, 'ballast');
    writeFileSync(ballast, Buffer.alloc(20 << 20));
    const record = open();
    record.add(unit);
    expect(record.trouble).toBeNull();
    const all: Line[] = [unit];
    for (let i = 0; record.trouble === null || i < 40_000; i++) {
      all.push(reading(i));
      record.add(reading(i));
      if (i % 100 === 0) record.write();
      pass(10);
    }
    expect(record.trouble).toMatch(/^The visit is not being recorded: .*full/);
    rmSync(ballast);
    pass(1000);
    record.tick();
    expect(record.trouble).toBeNull();
    record.close();
    expect(lines()).toEqual(all);
  });

  test('it heals where nothing comes', () => {
    const { open, lines, dataDir, pass } = stage();
    mkdirSync(dirname(dataDir));
    writeFileSync(dataDir, '');
    const record = open();
    record.add(unit);
    expect(record.trouble).not.toBeNull();
    rmSync(dataDir);
    pass(1000);
    record.tick();
    expect(record.trouble).toBeNull();
    // Gone, and back as it was: nothing waits that would have to be written.
    renameSync(dataDir, `${dataDir}-moved`);
    writeFileSync(dataDir, '');
    pass(1000);
    record.tick();
    expect(record.trouble).toMatch(/is gone|not a directory|exists/i);
    rmSync(dataDir);
    renameSync(`${dataDir}-moved`, dataDir);
    pass(1000);
    record.tick();
    expect(record.trouble).toBeNull();
    expect(lines()).toEqual([unit]);
    record.close();
  });

  test('it is full at a limit, before anything is lost', () => {
    const { open, lines, dataDir, pass } = stage();
    mkdirSync(dirname(dataDir));
    writeFileSync(dataDir, '');
    const record = open();
    let taken = 0;
    for (; !record.full; taken++) record.add(reading(taken));
    expect(taken).toBe(200_000);
    pass(1000);
    record.tick();
    expect(record.trouble).toMatch(/\. No more fits into memory: readings are refused\. Free some/);
    rmSync(dataDir);
    pass(1000);
    record.tick();
    expect(record.full).toBe(false);
    record.close();
    expect(lines()).toHaveLength(taken);
  });
});
