/** `plateau analyse FILE`: a visit log through the live pipeline at full speed, JSON lines out. */
import { open } from 'node:fs/promises';
import type { Writable } from 'node:stream';
import { fileTrouble } from '../file-trouble.ts';
import { Session, type SessionSink } from '../session.ts';
import { SnapshotText } from '../snapshot-json.ts';
import type { SlottedText } from '../slotted-text.ts';
import { LogReader } from '../visit-log/reader.ts';

export interface AnalyseOptions {
  file: string;
  /** How often a snapshot is printed, in seconds of the log's time. */
  everyS: number;
  /** Skip and count lines that are refused, instead of ending at the first. */
  keepGoing: boolean;
}

/** The computer's clock matters for one thing only: a log cannot be from the day after tomorrow. */
const FUTURE_MS = 86_400_000;
/** Most refusals that are told one by one. */
const MAX_TOLD = 1000;
const CHUNK = 1 << 18;
/** Bytes that are written at once. */
const PIECE = 1 << 16;
const NEWLINE = 0x0a;

/**
 * Runs it.
 * @returns the exit status: 0, or 1 when a line was refused or the file could not be read
 */
export async function analyse(
  options: AnalyseOptions,
  out: Writable,
  tell: (message: string) => void,
): Promise<0 | 1> {
  const output = new Output(out);
  const text = new SnapshotText();
  const source = { adapter: null, simulated: false };
  const stepMs = options.everyS * 1000;
  let nextPrint = -Infinity;
  let refused = 0;
  let stop = false;
  const refuse = (lineNumber: number, why: string): void => {
    if (stop) return;
    refused++;
    if (!options.keepGoing) stop = true;
    if (refused <= MAX_TOLD) tell(`${options.file}: line ${lineNumber}: ${why}`);
  };
  const sink: SessionSink = {
    snapshot: (snapshot) => {
      if (snapshot.t < nextPrint) return;
      nextPrint = (nextPrint === -Infinity ? snapshot.t : nextPrint) + stepMs;
      if (nextPrint <= snapshot.t) nextPrint = snapshot.t + stepMs; // after a silence
      output.copy(text.of(snapshot));
    },
    // One of a span that goes on will be replaced at its end.
    capture: (capture) => {
      if (capture.open !== true) output.line(JSON.stringify(capture));
    },
    check: () => {},
    walk: () => {},
    airflow: (result) => output.line(JSON.stringify(result)),
    zero: (result) => output.line(JSON.stringify(result)),
    verdict: (verdict, capture) => {
      if (capture.open !== true) output.line(JSON.stringify(verdict));
    },
    // From here on times may lie before those that were printed.
    event: ({ kind }) => {
      if (kind === 'clock') nextPrint = -Infinity;
    },
    probe: () => {},
    setup: () => {},
  };
  const session = new Session(sink, { everySpan: true });
  const reader = new LogReader({
    latestT: Date.now() + FUTURE_MS,
    line: (line, lineNumber, after) => {
      if (stop) return;
      const why = session.apply(line, source, after);
      if (why !== null) refuse(lineNumber, why);
    },
    refused: (lineNumber, why) => {
      // What was good before it is kept: lines that were held back for ordering are worked out.
      if (!options.keepGoing) reader.stop();
      refuse(lineNumber, why);
    },
  });

  try {
    const file = await open(options.file);
    try {
      const buffer = Buffer.allocUnsafe(CHUNK);
      while (!stop && !output.closed) {
        const { bytesRead } = await file.read(buffer, 0, CHUNK);
        if (bytesRead === 0) break;
        reader.write(buffer.subarray(0, bytesRead));
        await output.drained();
      }
      if (output.closed) return refused > 0 ? 1 : 0; // whoever read it has seen enough
    } finally {
      await file.close();
    }
  } catch (error) {
    tell(`${options.file}: ${fileTrouble(error)}`);
    return 1;
  }
  reader.end();
  session.finish();
  await output.end();
  if (options.keepGoing && refused > 0) {
    const more = refused > MAX_TOLD ? ` (the first ${MAX_TOLD} are named above)` : '';
    tell(
      `${options.file}: ${refused} ${refused === 1 ? 'line was' : 'lines were'} refused and skipped${more}`,
    );
  }
  return refused > 0 ? 1 : 0;
}

/**
 * Collects lines and writes them in large pieces; ends quietly when the reader has gone (`| head`).
 * They are collected as bytes: a text that grows line by line is kept by the engine as its many small
 * parts, and to copy those about at each garbage collection was a tenth of all the work.
 */
class Output {
  closed = false;
  #bytes = Buffer.allocUnsafe(PIECE);
  #used = 0;
  #wait: Promise<void> | null = null;
  readonly #out: Writable;

  constructor(out: Writable) {
    this.#out = out;
    out.on('error', () => {
      this.closed = true;
    });
  }

  /** A line that is bytes already: of those there are many. */
  copy(text: SlottedText): void {
    if (this.#used + text.length + 1 > this.#bytes.length) this.#flush(text.length + 1);
    text.copyTo(this.#bytes, this.#used);
    this.#used += text.length;
    this.#bytes[this.#used++] = NEWLINE;
  }

  line(text: string): void {
    const most = 3 * text.length + 1; // a UTF-16 unit is three bytes of UTF-8 at most
    if (this.#used + most > this.#bytes.length) this.#flush(most);
    this.#used += this.#bytes.write(text, this.#used);
    this.#bytes[this.#used++] = NEWLINE;
  }

  /** Writes what is there, and makes room for `atLeast` bytes. */
  #flush(atLeast = 0): void {
    const bytes = this.#bytes.subarray(0, this.#used);
    this.#bytes = Buffer.allocUnsafe(Math.max(PIECE, atLeast)); // the old one is the stream's now
    this.#used = 0;
    if (this.closed || bytes.length === 0) return;
    if (!this.#out.write(bytes)) {
      this.#wait ??= new Promise((resolve) => {
        const done = (): void => {
          this.#out.off('drain', done).off('close', done).off('error', done);
          this.#wait = null;
          resolve();
        };
        this.#out.on('drain', done).on('close', done).on('error', done);
      });
    }
  }

  async drained(): Promise<void> {
    await this.#wait;
  }

  async end(): Promise<void> {
    this.#flush();
    await this.#wait;
  }
}
