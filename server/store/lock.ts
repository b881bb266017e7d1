/** One server a data folder: two would write into one record. */
import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

/**
 * Takes the folder for this process, until it ends.
 * @throws Error with a sentence when another running process has it
 */
export function lockFolder(dataDir: string): void {
  const path = join(dataDir, 'server.lock');
  try {
    mkdirSync(dataDir, { recursive: true });
    const holder = Number(readIfThere(path));
    if (holder > 0 && holder !== process.pid && runs(holder)) {
      throw new FolderTaken(
        `the data folder ${dataDir} is in use by process ${holder}: end it, or choose another folder with --data`,
      );
    }
    writeFileSync(path, String(process.pid));
    process.on('exit', () => rmSync(path, { force: true }));
  } catch (error) {
    if (error instanceof FolderTaken) throw error;
    // A folder that cannot be written to is told of by the record; there is nothing to keep apart.
  }
}

class FolderTaken extends Error {}

function readIfThere(path: string): string {
  try {
    return readFileSync(path, 'utf8');
  } catch {
    return '';
  }
}

/** Signal 0 only asks; a process of somebody else answers with a refusal, and runs. */
function runs(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return error instanceof Error && 'code' in error && error.code === 'EPERM';
  }
}
