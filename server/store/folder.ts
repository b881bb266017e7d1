/** Looks at the data folder before anything is done with it: what hangs would hang the start, unsaid. */
import { lstat, mkdir, readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';

/** A folder that has not answered by then is away, ms. */
const ANSWERS_MS = 5000;
/** What the server reads and writes in it. */
const OURS =
  /^(server\.lock(\.taking)?|bluetooth-keys\.json(\.new)?|plateau\.db(-wal|-shm)?|(visit|replay)-.*\.ndjson)$/;

/**
 * Makes it, if it is not there, readable by its owner only.
 * @param look takes the look itself; another one in tests
 * @returns what is wrong with it, as a sentence, or null. A folder that only cannot be written to is none
 *   of this: the visit goes on without a record, which is said there.
 */
export async function troubleWith(
  dataDir: string,
  look: (dataDir: string) => Promise<string | null> = lookAt,
  withinMs = ANSWERS_MS,
): Promise<string | null> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<string>((resolve) => {
    timer = setTimeout(
      () =>
        resolve(
          `the data folder ${dataDir} has not answered for ${withinMs / 1000} s: connect its drive ` +
            'again, or choose another folder with --data',
        ),
      withinMs,
    );
  });
  try {
    return await Promise.race([look(dataDir), late]);
  } finally {
    clearTimeout(timer);
  }
}

async function lookAt(dataDir: string): Promise<string | null> {
  // Whether it could be made shows below, and in the record.
  await mkdir(dataDir, { recursive: true, mode: 0o700 }).catch(() => {});
  const there = await stat(dataDir).catch(() => null);
  if (there === null) return null;
  if (!there.isDirectory()) {
    return `--data ${dataDir} is no folder: choose another, or leave it out`;
  }
  for (const name of await readdir(dataDir).catch(() => [])) {
    if (!OURS.test(name)) continue;
    const path = join(dataDir, name);
    const file = await lstat(path).catch(() => null);
    if (file === null || file.isFile()) continue;
    const isFile = file.isSymbolicLink() && (await stat(path).catch(() => null))?.isFile() === true;
    if (!isFile) {
      return `${path} is no file but something that may never answer: take it out of the data folder`;
    }
  }
  return null;
}
