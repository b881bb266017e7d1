/**
 * Sends finished visits to the company's archive whenever it is there: one after another, piece by piece,
 * from where the archive says that it is. Nothing of the record is ever taken away. What breaks off is
 * tried again, later and later; what the archive refuses as no visit is told and left until it changes.
 */
import { createHash } from 'node:crypto';
import { setImmediate as turn } from 'node:timers/promises';
import * as z from 'zod';
import { heldSchema, type HeldOf, type Sending } from '../../protocol/archive.ts';
import { closeDatabase, type Database, openDatabase, readDatabase } from '../../store/database.ts';
import { confirmSent, type Unsent, unsentVisits } from '../../store/sent.ts';
import { sent } from '../../words/sent.ts';
import { partBytes } from '../parcel.ts';
import { packed } from './pack.ts';

/** Pieces grow while they arrive quickly, and shrink where one does not arrive. */
const LEAST_PIECE = 64 * 1024;
const FIRST_PIECE = 512 * 1024;
const MOST_PIECE = 4 * 1024 * 1024;
const QUICK_MS = 3000;
/** A piece may take so long, ms. */
const PATIENCE_MS = 100_000;
/** Between two looks for what has ended; and after failures, at most. */
const REST_MS = 15_000;
const LONGEST_REST_MS = 10 * 60_000;

const errorSchema = z.object({ error: z.string(), held: z.number().optional() });

export interface SenderOptions {
  dataDir: string;
  /** Where the archive is, without a slash at its end. */
  url: string;
  token: string;
  /** The visit that still goes on. */
  live: () => string;
  now: () => number;
  /** Calls `work` after so many ms. @returns what ends that */
  after: (ms: number, work: () => void) => () => void;
  /** Bytes of the first piece. */
  firstPiece?: number;
}

/** What the archive has refused for good. */
class Refused extends Error {}

export class Sender {
  readonly #options: SenderOptions;
  #piece: number;
  #rest = REST_MS;
  #ended = false;
  #stop: () => void = () => undefined;
  readonly #abort = new AbortController();
  #state: Sending;
  /** Visits that the archive has refused, by what they were written then. */
  readonly #refused = new Map<number, number>();

  constructor(options: SenderOptions) {
    this.#options = options;
    this.#piece = options.firstPiece ?? FIRST_PIECE;
    this.#state = {
      ...{ archive: options.url, waiting: 0, visit: null, sentBytes: 0, bytes: 0 },
      ...{ confirmedT: null, trouble: null },
    };
  }

  get state(): Sending {
    return this.#state;
  }

  start(): void {
    this.#later(0);
  }

  /** Breaks off what is on its way: it goes on at the next start. */
  end(): void {
    this.#ended = true;
    this.#stop();
    this.#abort.abort();
  }

  /** Sends all that waits, once. @returns whether the archive was there for it */
  async sendAll(): Promise<boolean> {
    const db = readDatabase(this.#options.dataDir);
    if (db === null) return true;
    let trouble: string | null = null;
    try {
      for (;;) {
        const waiting = unsentVisits(db, this.#options.live()).filter(
          ({ key, writtenT }) => this.#refused.get(key) !== writtenT,
        );
        this.#tell({ waiting: waiting.length, visit: null, sentBytes: 0, bytes: 0 });
        const [next] = waiting;
        if (next === undefined || this.#ended) break;
        const why = await this.#one(db, next);
        if (why !== null) trouble = why;
      }
      this.#tell({ trouble });
      return true;
    } catch (error) {
      if (!this.#ended) this.#tell({ visit: null, trouble: troubleOf(error) });
      return false;
    } finally {
      db.close();
    }
  }

  #later(ms: number): void {
    if (this.#ended) return;
    this.#stop = this.#options.after(ms, () => {
      void this.sendAll().then((wasThere) => {
        this.#rest = wasThere ? REST_MS : Math.min(LONGEST_REST_MS, this.#rest * 2);
        this.#later(this.#rest);
      });
    });
  }

  #tell(state: Partial<Sending>): void {
    this.#state = { ...this.#state, ...state };
  }

  /** @returns why the archive does not want it, or null */
  async #one(db: Database, unsent: Unsent): Promise<string | null> {
    const { hash, bytes } = await measured(db, unsent.key);
    this.#tell({ visit: unsent.id, bytes, sentBytes: 0 });
    if (hash !== unsent.hash) {
      try {
        await this.#send(db, unsent, hash, bytes);
      } catch (error) {
        if (!(error instanceof Refused)) throw error;
        this.#refused.set(unsent.key, unsent.writtenT);
        return error.message;
      }
    }
    const { dataDir, now } = this.#options;
    const record = openDatabase(dataDir);
    confirmSent(record, unsent, hash, now());
    closeDatabase(record);
    this.#tell({ confirmedT: now() });
    return null;
  }

  async #send(db: Database, { key, id }: Unsent, hash: string, bytes: number): Promise<void> {
    const path = `/api/archive/visits/${encodeURIComponent(id)}/versions/${hash}`;
    let state = await this.#ask('GET', `${path}?bytes=${bytes}`);
    while (!state.taken) {
      const from = state.held;
      for await (const piece of piecesFrom(db, key, from, () => this.#piece)) {
        this.#tell({ sentBytes: state.held });
        const at = state.held;
        state = await this.#put(`${path}?bytes=${bytes}&at=${at}`, piece);
        // Another try may have brought some of it: it is gone on with where the archive is.
        if (state.taken || state.held !== at + piece.length) break;
      }
      if (!state.taken && state.held === from) throw new Error(sent`it takes no more of a visit`);
    }
    this.#tell({ sentBytes: bytes });
  }

  async #put(path: string, piece: Uint8Array): Promise<HeldOf> {
    const begun = performance.now();
    try {
      const state = await this.#ask('PUT', path, piece);
      const isQuick = performance.now() - begun < QUICK_MS;
      this.#piece = isQuick ? Math.min(MOST_PIECE, this.#piece * 2) : this.#piece;
      return state;
    } catch (error) {
      if (!(error instanceof Refused)) this.#piece = Math.max(LEAST_PIECE, this.#piece / 4);
      throw error;
    }
  }

  async #ask(method: 'GET' | 'PUT', path: string, body?: Uint8Array): Promise<HeldOf> {
    const { url, token } = this.#options;
    const response = await fetch(`${url}${path}`, {
      method,
      headers: {
        authorization: `Bearer ${token}`,
        ...(body === undefined ? {} : { 'content-type': 'application/octet-stream' }),
      },
      ...(body === undefined ? {} : { body: Buffer.from(body) }),
      signal: AbortSignal.any([this.#abort.signal, AbortSignal.timeout(PATIENCE_MS)]),
    });
    const said: unknown = await response.json().catch(() => null);
    const held = heldSchema.safeParse(said);
    if (response.ok && held.success) return held.data;
    const why = errorSchema.safeParse(said).data;
    if (response.status === 409 && why?.held !== undefined) return { held: why.held, taken: false };
    const text = why?.error ?? sent`it answers with status ${response.status}`;
    if (response.status === 422 || response.status === 400) throw new Refused(text);
    throw new Error(text);
  }
}

/** The hash of a visit's parcel, and its length. Everybody else has a turn between two parts. */
async function measured(db: Database, key: number): Promise<{ hash: string; bytes: number }> {
  const hash = createHash('sha256');
  let bytes = 0;
  for (const part of packed(db, key)) {
    const piece = partBytes(part);
    hash.update(piece);
    bytes += piece.length;
    await turn();
  }
  return { hash: hash.digest('hex'), bytes };
}

/** The bytes of a visit's parcel from one on, in pieces. @param size asked anew for each */
async function* piecesFrom(
  db: Database,
  key: number,
  from: number,
  size: () => number,
): AsyncGenerator<Uint8Array> {
  let waiting: Uint8Array[] = [];
  let length = 0;
  let at = 0;
  for (const part of packed(db, key)) {
    const bytes = partBytes(part);
    const skipped = Math.min(bytes.length, Math.max(0, from - at));
    at += bytes.length;
    if (skipped < bytes.length) {
      waiting.push(bytes.subarray(skipped));
      length += bytes.length - skipped;
    }
    while (length >= size()) {
      const all = Buffer.concat(waiting);
      const piece = all.subarray(0, size());
      const rest = all.subarray(piece.length);
      waiting = [rest];
      length = rest.length;
      yield piece;
    }
    await turn();
  }
  if (length > 0) yield Buffer.concat(waiting);
}

function troubleOf(error: unknown): string {
  const { message, cause } = error instanceof Error ? error : new Error(String(error));
  const code = cause instanceof Error ? cause.message : '';
  const said = code === '' ? message : `${message} (${code})`;
  const why = said.replace(/\.$/, ''); // it stands within a sentence
  return sent`Visits cannot be sent to the archive now: ${why}. They are kept here, and sent as soon as it can be reached.`;
}
