/**
 * The record of the live visit: a visit log in the data folder, written as the lines come. It is
 * what the server goes on from after a restart, and what `plateau analyse` reads.
 *
 * Lines are written once a second, each piece ending with a whole line: a killed process loses at
 * most the last second.
 */
import {
  closeSync,
  createReadStream,
  mkdirSync,
  openSync,
  readdirSync,
  readSync,
  statSync,
  writeSync,
} from 'node:fs';
import { join } from 'node:path';
import type { Line } from '../../adapters/contract.ts';

/** A visit that was written to less than this ago goes on; an older one is over, ms. */
export const SAME_VISIT_MS = 12 * 3_600_000;
/** Unwritten characters that are kept while a disk is full: an hour of eight probes. */
const MAX_PENDING = 4_000_000;
const PATTERN = /^visit-.*\.ndjson$/;

export interface FoundVisit {
  path: string;
  /** When it was last written to, ms. */
  writtenT: number;
  /** False when it is over: then only its set-up is of use. */
  goesOn: boolean;
}

/**
 * The newest visit in a data folder, or null.
 * @param sameMs how long after its last line a visit still goes on
 */
export function findVisit(dataDir: string, now: number, sameMs = SAME_VISIT_MS): FoundVisit | null {
  let names: string[];
  try {
    names = readdirSync(dataDir).filter((name) => PATTERN.test(name));
  } catch {
    return null; // no folder yet
  }
  const newest = names
    .map((name) => join(dataDir, name))
    .map((path) => ({ path, t: statSync(path).mtimeMs }))
    .sort((a, b) => b.t - a.t)[0];
  return newest ? { path: newest.path, writtenT: newest.t, goesOn: now - newest.t < sameMs } : null;
}

/** The text of a visit log, piece by piece. */
export function readVisit(path: string): AsyncIterable<string> {
  return createReadStream(path, { encoding: 'utf8', highWaterMark: 1 << 18 });
}

/** A file name for a visit that begins at `t`; a `replay` is never gone on with. */
export function visitPath(dataDir: string, t: number, kind: 'visit' | 'replay' = 'visit'): string {
  return join(dataDir, `${kind}-${new Date(t).toISOString().replace(/[:.]/g, '-')}.ndjson`);
}

export class VisitFile {
  readonly path: string;
  /** Why nothing can be written, as a sentence, or null. */
  trouble: string | null = null;
  #text: string[] = [];
  /** What could not be written yet. */
  #pending = '';
  #file: number | null = null;

  constructor(path: string) {
    this.path = path;
  }

  /** Opens it for writing at its end; a last line that was cut off by a crash is closed. */
  open(dataDir: string): void {
    try {
      mkdirSync(dataDir, { recursive: true });
      const file = openSync(this.path, 'a+');
      this.#file = file;
      const { size } = statSync(this.path);
      const last = Buffer.alloc(1);
      if (size > 0 && readSync(file, last, 0, 1, size - 1) === 1 && last[0] !== 0x0a) {
        writeSync(file, '\n');
      }
    } catch (error) {
      this.#fail(error);
    }
  }

  add(line: Line): void {
    if (this.#file !== null) this.#text.push(JSON.stringify(line));
  }

  /** Writes what has come since the last call. */
  flush(): void {
    if (this.#file === null || this.#text.length + this.#pending.length === 0) return;
    const text = this.#text.length === 0 ? '' : this.#text.join('\n') + '\n';
    try {
      this.#text = [];
      this.#pending += text;
      while (this.#pending.length > 0) {
        const bytes = Buffer.from(this.#pending);
        const written = writeSync(this.#file, bytes);
        // A disk that is nearly full takes a part: the rest is tried again, never half a line twice.
        this.#pending = bytes.subarray(written).toString();
      }
      this.trouble = null;
    } catch (error) {
      this.#fail(error);
      // Kept for the next try, but not without end.
      if (this.#pending.length > MAX_PENDING) this.#pending = '';
    }
  }

  close(): void {
    this.flush();
    if (this.#file !== null) closeSync(this.#file);
    this.#file = null;
  }

  #fail(error: unknown): void {
    const reason = error instanceof Error ? error.message : String(error);
    this.trouble = `The visit is not being recorded: ${reason}. Free some space or choose another folder with --data.`;
  }
}
