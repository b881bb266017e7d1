/** `--cert` and `--key`: read and tried at the start, so that what is wrong with them is said there. */
import { readFile } from 'node:fs/promises';
import { createSecureContext } from 'node:tls';
import { resolve } from 'node:path';
import { fileTrouble } from '../file-trouble.ts';
import { UsageError } from './options.ts';

/** @throws UsageError where a file cannot be read, or the two do not belong together */
export async function certificate(
  files: { cert: string; key: string } | null,
): Promise<{ cert: Buffer; key: Buffer } | null> {
  if (files === null) return null;
  const cert = await read('cert', files.cert);
  const key = await read('key', files.key);
  try {
    createSecureContext({ cert, key });
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    throw new UsageError(
      `--cert ${files.cert} and --key ${files.key} are no certificate with its key, in PEM (${why})`,
    );
  }
  return { cert, key };
}

async function read(option: string, file: string): Promise<Buffer> {
  return readFile(resolve(file)).catch((error: unknown) => {
    throw new UsageError(`--${option} ${file}: ${fileTrouble(error)}`);
  });
}
