/**
 * Records from before there was a database: one visit log (`visit-….ndjson`) a visit. They are taken
 * into the database once, and moved to `imported/` beside it.
 */
import { mkdirSync, readdirSync, renameSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { importLog } from './import.ts';

const PATTERN = /^(visit|replay)-.*\.ndjson$/;

/** @param tell told in sentences what could not be taken */
export async function takeOldRecords(
  dataDir: string,
  tell: (message: string) => void,
): Promise<void> {
  for (const name of oldRecords(dataDir)) {
    const path = join(dataDir, name);
    try {
      await importLog(dataDir, path, {
        id: name.replace(/\.ndjson$/, ''),
        kind: name.startsWith('replay') ? 'replay' : 'visit',
        writtenT: statSync(path).mtimeMs,
        refused: (lineNumber, why) => tell(`${path}: line ${lineNumber}: ${why}`),
      });
      mkdirSync(join(dataDir, 'imported'), { recursive: true, mode: 0o700 });
      renameSync(path, join(dataDir, 'imported', name));
    } catch (error) {
      tell(`${path} is left as it is: ${error instanceof Error ? error.message : String(error)}`);
    }
  }
}

function oldRecords(dataDir: string): string[] {
  try {
    return readdirSync(dataDir).filter((name) => PATTERN.test(name));
  } catch {
    return []; // no folder yet
  }
}
