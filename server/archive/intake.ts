/**
 * What comes of visits, piece by piece. A piece that has come is kept until the visit is whole; then all of
 * it is looked over and taken in one transaction, and the pieces go. A van that was cut off asks how far the
 * archive is, and goes on from there; what it sends twice is there once.
 */
import { createHash } from 'node:crypto';
import * as z from 'zod';
import type { ArchiveDatabase, Ask, Asker } from './database.ts';
import { MOST_PARCEL_BYTES } from './parcel.ts';
import { monthOf, takeVisit } from './taking.ts';
import { readParcel, type VisitParts } from './visit-parts.ts';

/** Longest piece that is taken. */
export const MOST_PIECE_BYTES = 4 * 1024 * 1024;
/** What lies unfinished for longer is let go, ms. */
const KEPT_MS = 30 * 86_400_000;

export type Van = Asker & { van: string };

/** Which version of which visit: its SHA-256 in hexadecimal digits, and how long it is. */
export interface Announced {
  visit: string;
  hash: string;
  bytes: number;
}
/** How many bytes of it are there; `taken`: all, and it stands in the archive. */
export interface Held {
  held: number;
  taken: boolean;
}

/** A piece that does not go on where the last one ended. */
export class OutOfTurn extends Error {
  readonly held: number;
  constructor(held: number) {
    super(`the next piece begins at byte ${held}`);
    this.held = held;
  }
}
/** A visit that is no visit: sent again it would be none again. */
export class Unfit extends Error {}

const heldRow = z.object({ held: z.coerce.number() });
const pieceRow = z.object({ data: z.instanceof(Buffer) });

export class Intake {
  readonly #db: ArchiveDatabase;
  readonly #now: () => number;

  constructor(db: ArchiveDatabase, now: () => number) {
    this.#db = db;
    this.#now = now;
  }

  /** How far a version of a visit has come. */
  async held(van: Van, of: Announced): Promise<Held> {
    return this.#db.as(van, async (ask) => {
      if (await isTaken(ask, van, of)) return { held: of.bytes, taken: true };
      return { held: await heldOf(ask, van, of), taken: false };
    });
  }

  /**
   * Takes the next piece.
   * @throws OutOfTurn, Unfit
   */
  async take(van: Van, of: Announced, at: number, piece: Uint8Array): Promise<Held> {
    if (of.bytes > MOST_PARCEL_BYTES) throw new Unfit('it is larger than any visit');
    // The usual visit is one piece: it needs to lie nowhere.
    if (at === 0 && piece.length === of.bytes) return this.#whole(van, of, piece);
    const held = await this.#db.as(van, async (ask) => {
      if (await isTaken(ask, van, of)) return of.bytes;
      await ask.run('SELECT pg_advisory_xact_lock(hashtext($1), hashtext($2))', [
        van.van,
        of.visit,
      ]);
      const before = await heldOf(ask, van, of);
      if (at !== before || piece.length === 0 || at + piece.length > of.bytes) {
        throw new OutOfTurn(before);
      }
      await ask.run(
        'INSERT INTO incoming (van, visit, hash, at, come_t, data) VALUES ($1, $2, $3, $4, $5, $6)',
        [van.van, of.visit, Buffer.from(of.hash, 'hex'), at, this.#now(), piece],
      );
      return before + piece.length;
    });
    return held < of.bytes ? { held, taken: false } : this.finish(van, of);
  }

  /** Takes a visit of which all pieces are there: also after this server was killed in between. */
  async finish(van: Van, of: Announced): Promise<Held> {
    const pieces = await this.#db.as(van, async (ask) => {
      if (await isTaken(ask, van, of)) return null;
      return ask.rows(
        pieceRow,
        'SELECT data FROM incoming WHERE van = $1 AND visit = $2 AND hash = $3 ORDER BY at',
        [van.van, of.visit, Buffer.from(of.hash, 'hex')],
      );
    });
    if (pieces === null) return { held: of.bytes, taken: true };
    return this.#whole(van, of, Buffer.concat(pieces.map(({ data }) => data)));
  }

  async #whole(van: Van, of: Announced, parcel: Uint8Array): Promise<Held> {
    const hash = createHash('sha256').update(parcel).digest();
    const sent =
      hash.toString('hex') === of.hash ? wellOrWhy(parcel, of) : 'it was changed on its way';
    if (typeof sent === 'string') {
      await this.#db.as(van, (ask) => drop(ask, van, of));
      throw new Unfit(sent);
    }
    try {
      await this.#keep(van, of, sent, hash);
    } catch (error) {
      const why = whyUnfit(error);
      if (why === null) throw error;
      await this.#db.as(van, (ask) => drop(ask, van, of));
      throw new Unfit(why);
    }
    return { held: of.bytes, taken: true };
  }

  /** Into the tables, and the pieces go. */
  async #keep(van: Van, of: Announced, sent: VisitParts, hash: Buffer): Promise<void> {
    const month = monthOf(sent.head, this.#now());
    // By itself: what waits for it waits no longer than that takes.
    await this.#db.as(van, (ask) => ask.run('SELECT keep_month($1)', [month]));
    await this.#db.as(van, async (ask) => {
      await takeVisit(ask, van, sent, { hash, bytes: of.bytes, now: this.#now() });
      await drop(ask, van, of);
      await ask.run('DELETE FROM incoming WHERE come_t < $1', [this.#now() - KEPT_MS]);
    });
  }
}

function wellOrWhy(parcel: Uint8Array, of: Announced): VisitParts | string {
  try {
    const sent = readParcel(parcel);
    return sent.head.id === of.visit ? sent : `it is the visit "${sent.head.id}"`;
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
}

/** SQLSTATE of what a statement was given: a class, 22 or 54, and three more (PostgreSQL, Appendix A). */
const GIVEN = /^(22|54)[0-9A-Z]{3}$/;

/** Why the database cannot hold what a visit says, by its error; null: that is not what is wrong. */
function whyUnfit(error: unknown): string | null {
  if (!(error instanceof Error) || !('code' in error)) return null;
  const { code, message } = error;
  return typeof code === 'string' && GIVEN.test(code) ? message : null;
}

async function isTaken(ask: Ask, van: Van, { visit, hash }: Announced): Promise<boolean> {
  const found = await ask.one(
    z.object({ n: z.number() }),
    `SELECT version.n FROM visit JOIN version ON version.visit = visit.key
     WHERE visit.van = $1 AND visit.id = $2 AND version.hash = $3 LIMIT 1`,
    [van.van, visit, Buffer.from(hash, 'hex')],
  );
  return found !== undefined;
}

async function heldOf(ask: Ask, van: Van, { visit, hash }: Announced): Promise<number> {
  const found = await ask.one(
    heldRow,
    `SELECT COALESCE(MAX(at + length(data)), 0) AS held FROM incoming
     WHERE van = $1 AND visit = $2 AND hash = $3`,
    [van.van, visit, Buffer.from(hash, 'hex')],
  );
  return found?.held ?? 0;
}

async function drop(ask: Ask, van: Van, { visit, hash }: Announced): Promise<void> {
  await ask.run('DELETE FROM incoming WHERE van = $1 AND visit = $2 AND hash = $3', [
    ...[van.van, visit, Buffer.from(hash, 'hex')],
  ]);
}
