/** The lock of the data folder: one server, and no innocent program to be ended. */
import { execFile } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, statSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { build } from 'esbuild';
import { afterAll, describe, expect, test } from 'vitest';
import { troubleWith } from '../../server/store/folder.ts';
import { lockFolder } from '../../server/store/lock.ts';
import { ourselves } from '../../server/store/running.ts';
import { ROOT, tempFolder } from '../program.ts';

const folder = tempFolder();
afterAll(() => folder.remove());
let n = 0;
const fresh = (): string => {
  const path = join(folder.path, `data${n++}`);
  mkdirSync(path);
  return path;
};
const lockOf = (dir: string): unknown => JSON.parse(readFileSync(join(dir, 'server.lock'), 'utf8'));
const leave = (dir: string, text: string): void => writeFileSync(join(dir, 'server.lock'), text);

describe('the lock', () => {
  test('says who has it, for its owner only', () => {
    const dir = join(fresh(), 'new');
    lockFolder(dir);
    expect(lockOf(dir)).toEqual(ourselves());
    expect(statSync(join(dir, 'server.lock')).mode & 0o777).toBe(0o600);
    expect(statSync(dir).mode & 0o777).toBe(0o700);
  });

  // The parent of this process stands for any program: it runs, and is nobody's server.
  test.skipIf(process.platform === 'win32')(
    'left behind by a process whose number another one has now is taken over',
    () => {
      const dir = fresh();
      leave(dir, JSON.stringify({ pid: process.ppid, began: 'another boot 12345' }));
      lockFolder(dir);
      expect(lockOf(dir)).toEqual(ourselves());
      expect(existsSync(join(dir, 'server.lock.taking'))).toBe(false);
    },
  );

  test('of a process that runs is respected; so is one of the old kind, by its number alone', () => {
    for (const text of [JSON.stringify({ pid: process.ppid, began: null }), `${process.ppid}`]) {
      const dir = fresh();
      leave(dir, text);
      expect(() => lockFolder(dir)).toThrow(`in use by process ${process.ppid}`);
    }
  });

  test.each(['', '{"pid":', '{"pid":-1,"began":null}', '{"pid":999999999,"began":"x"}', '[]'])(
    'left behind with %j in it is taken over',
    (text) => {
      const dir = fresh();
      leave(dir, text);
      lockFolder(dir);
      expect(lockOf(dir)).toEqual(ourselves());
    },
  );

  test('left behind is taken by one of eight that start at once', async () => {
    const file = join(folder.path, 'take.mjs');
    await build({
      stdin: {
        contents: `
          import { lockFolder } from './server/store/lock.ts';
          const [dir, at] = process.argv.slice(2);
          while (Date.now() < Number(at));
          try { lockFolder(dir); console.log('mine'); setTimeout(() => {}, 3000); }
          catch (error) { console.log(error.message); }`,
        resolveDir: ROOT,
        loader: 'ts',
      },
      ...{ bundle: true, platform: 'node', format: 'esm', outfile: file, logLevel: 'error' },
    });
    const dir = fresh();
    leave(dir, JSON.stringify({ pid: 999_999_999, began: 'x' }));
    const at = String(Date.now() + 1500);
    const run = promisify(execFile);
    const said = await Promise.all(
      Array.from({ length: 8 }, () => run(process.execPath, [file, dir, at])),
    );
    const mine = said.filter(({ stdout }) => stdout.trim() === 'mine');
    expect(mine).toHaveLength(1);
    for (const { stdout } of said) expect(stdout).toMatch(/^mine|is in use by process \d+: end it/);
  });
});

describe('the data folder', () => {
  test('is made for its owner only', async () => {
    const dir = join(fresh(), 'a', 'b');
    expect(await troubleWith(dir)).toBeNull();
    expect(statSync(dir).mode & 0o777).toBe(0o700);
  });

  test('that never answers is told of, and not waited for', async () => {
    const never = (): Promise<null> => new Promise(() => {});
    const words = /^the data folder \/mnt\/away has not answered for 0\.05 s: connect its drive/;
    expect(await troubleWith('/mnt/away', never, 50)).toMatch(words);
  });

  test('that is a file, or holds what may never answer, is told of', async () => {
    const dir = fresh();
    expect(await troubleWith('/dev/null')).toMatch(/is no folder/);
    symlinkSync('/dev/zero', join(dir, 'visit-2026.ndjson'));
    expect(await troubleWith(dir)).toMatch(/visit-2026\.ndjson is no file .*take it out/);
  });
});
