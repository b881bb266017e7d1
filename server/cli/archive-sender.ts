/** `--archive`: what sends finished visits. */
import { readFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { Sender } from '../archive/van/sender.ts';
import { fileTrouble } from '../file-trouble.ts';
import { type ServeOptions, UsageError } from './options.ts';

/** The variable that may hold this van's token. */
const VARIABLE = 'PLATEAU_ARCHIVE_TOKEN';

/**
 * Null where no archive was named.
 * @throws UsageError where there is no token for it
 */
export async function archiveSender(
  archive: ServeOptions['archive'],
  dataDir: string,
  live: () => string,
): Promise<Sender | null> {
  if (archive === null) return null;
  const { url, tokenFile } = archive;
  const said = tokenFile === null ? process.env[VARIABLE] : await readToken(tokenFile);
  const token = said?.trim() ?? '';
  if (token === '') {
    throw new UsageError(
      `--archive needs this van's token: a file with --archive-token, or the variable ${VARIABLE}`,
    );
  }
  return new Sender({
    ...{ dataDir, url, token, live, now: Date.now },
    after: (ms, work) => {
      const timer = setTimeout(work, ms);
      timer.unref();
      return () => clearTimeout(timer);
    },
  });
}

async function readToken(file: string): Promise<string> {
  return readFile(resolve(file), 'utf8').catch((error: unknown) => {
    throw new UsageError(`--archive-token ${file}: ${fileTrouble(error)}`);
  });
}
