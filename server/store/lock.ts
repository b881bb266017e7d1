/** One server a data folder: two would write into one record. */
import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import * as z from 'zod';
import { type Holder, isRunning, ourselves } from './running.ts';

/** Another server that is just taking the folder needs no longer, ms. */
const TAKES_MS = 2000;
const PAUSE_MS = 20;

const holderSchema = z.object({ pid: z.number().int().positive(), began: z.string().nullable() });

/**
 * Takes the folder for this process, until it ends.
 * @param self who takes it
 * @throws Error with a sentence when another running process has it
 */
export function lockFolder(dataDir: string, self: Holder = ourselves()): void {
  const path = join(dataDir, 'server.lock');
  try {
    mkdirSync(dataDir, { recursive: true, mode: 0o700 });
    takeLock(path, dataDir, self);
    process.on('exit', () => rmSync(path, { force: true }));
  } catch (error) {
    if (error instanceof FolderTaken) throw error;
    // A folder that cannot be written to is told of by the record; there is nothing to keep apart.
  }
}

class FolderTaken extends Error {
  constructor(dataDir: string, { pid }: Holder) {
    super(
      `the data folder ${dataDir} is in use by process ${pid}: end it, or choose another folder with --data`,
    );
  }
}

function takeLock(path: string, dataDir: string, self: Holder): void {
  if (create(path, self)) return;
  const holder = holderOf(path);
  if (holder !== null && isOther(holder, self) && isRunning(holder)) {
    throw new FolderTaken(dataDir, holder);
  }
  // It was left behind. Only one may take it away: who does holds a second lock meanwhile.
  const aside = `${path}.taking`;
  for (let waitedMs = 0; !create(aside, self); waitedMs += PAUSE_MS) {
    const taking = holderOf(aside);
    if (taking === null || !isRunning(taking)) rmSync(aside, { force: true });
    else if (waitedMs >= TAKES_MS) throw new FolderTaken(dataDir, taking);
    pause();
  }
  try {
    const now = holderOf(path);
    if (now !== null && isOther(now, self) && isRunning(now)) throw new FolderTaken(dataDir, now);
    rmSync(path, { force: true });
    if (!create(path, self)) throw new FolderTaken(dataDir, holderOf(path) ?? self);
  } finally {
    rmSync(aside, { force: true });
  }
}

const isOther = (holder: Holder, self: Holder): boolean =>
  holder.pid !== self.pid || (holder.began !== null && holder.began !== self.began);

/** Makes the file, if there is none. @returns whether it has */
function create(path: string, self: Holder): boolean {
  try {
    writeFileSync(path, JSON.stringify(self), { flag: 'wx', mode: 0o600 });
    return true;
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'EEXIST') return false;
    throw error;
  }
}

/** Who made the file; null where that is nobody, or cannot be read. */
function holderOf(path: string): Holder | null {
  // It is there a moment before what is written into it.
  for (let waitedMs = 0; ; waitedMs += PAUSE_MS) {
    const text = readIfThere(path);
    if (text === null) return null;
    if (text !== '' || waitedMs >= TAKES_MS / 4) return parse(text);
    pause();
  }
}

function parse(text: string): Holder | null {
  try {
    const json: unknown = JSON.parse(text);
    // As an earlier version wrote it: the number alone.
    if (typeof json === 'number' && json > 0) return { pid: json, began: null };
    return holderSchema.parse(json);
  } catch {
    return null;
  }
}

function readIfThere(path: string): string | null {
  try {
    return readFileSync(path, 'utf8');
  } catch {
    return null;
  }
}

/** Nothing else runs yet: the start waits. */
function pause(): void {
  Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, PAUSE_MS);
}
