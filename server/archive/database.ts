/**
 * The archive's database: opened, brought to this version's tables, and asked. A connection comes as
 * `plateau_door`, which may do nothing but ask who shows a token; every question is asked in a transaction
 * that takes the role of who asks, so that the database itself keeps from them what is not theirs.
 */
import { createHash } from 'node:crypto';
import pg from 'pg';
import * as z from 'zod';
import { sent } from '../words/sent.ts';
import { MIGRATIONS } from './migrations.ts';

export type Row = Record<string, unknown>;
/** Anything that checks a value, as a schema does. */
interface Schema<T> {
  parse(value: unknown): T;
}

export const ROLES = ['reader', 'van', 'owner'] as const;
export type Role = (typeof ROLES)[number];

/** Who asks: what the database is told. */
export interface Asker {
  /** Of the token, as it stands in the audit. */
  id: string;
  role: Role;
  /** Of a van which; null of all others. */
  van: string | null;
  name: string;
}

/** Questions and statements of one transaction. */
export interface Ask {
  /** All rows that a statement gives. */
  rows<T>(schema: Schema<T>, statement: string, given?: readonly unknown[]): Promise<T[]>;
  /** The first of them; undefined: none. */
  one<T>(schema: Schema<T>, statement: string, given?: readonly unknown[]): Promise<T | undefined>;
  /** @returns how many rows were changed */
  run(statement: string, given?: readonly unknown[]): Promise<number>;
}

/**
 * Of a connection that is asked. A question goes over a hundred partitions and more: to plan it takes longer
 * than to answer it, and to compile it longer still.
 */
const OPTIONS = [
  ...['search_path=plateau', 'role=plateau_door', 'statement_timeout=60000'],
  ...['plan_cache_mode=force_generic_plan', 'jit=off', 'work_mem=32MB'],
]
  .map((setting) => `-c ${setting}`)
  .join(' ');
const NOT_THERE = sent`The database of the archive does not answer now: nothing was lost. Try again in a minute.`;
const MOST_CONNECTIONS = 10;
/** A database that does not answer within this is not there, ms. */
const CONNECT_MS = 10_000;

const MAKE_ROLES = `DO $$ DECLARE name text; BEGIN
  FOREACH name IN ARRAY ARRAY['plateau_door', 'plateau_reader', 'plateau_van', 'plateau_owner'] LOOP
    IF NOT EXISTS (SELECT 1 FROM pg_roles WHERE rolname = name) THEN
      EXECUTE format('CREATE ROLE %I NOLOGIN', name);
    END IF;
    IF NOT pg_has_role(session_user, name, 'USAGE') THEN
      EXECUTE format('GRANT %I TO %I', name, session_user);
    END IF;
  END LOOP;
END $$`;

const versionRow = z.object({ version: z.number() });
const OLDEST = 150_000;

export class ArchiveDatabase {
  readonly #pool: pg.Pool;

  private constructor(pool: pg.Pool) {
    this.#pool = pool;
    // A connection that breaks while nobody asks is made anew by the next who does.
    pool.on('error', () => undefined);
    // One that breaks between two questions of a transaction: the next of them says so.
    pool.on('connect', (client) => client.on('error', () => undefined));
  }

  /**
   * Opens it, and makes its tables or brings them to this version where need be.
   * @param url as `postgres://user@host/name`; empty: by PostgreSQL's own environment variables
   * @throws Error with a sentence where it cannot be used
   */
  static async open(url: string): Promise<ArchiveDatabase> {
    const where = url === '' ? {} : { connectionString: url };
    const common = { ...where, connectionTimeoutMillis: CONNECT_MS, application_name: 'plateau' };
    const client = new pg.Client({ ...common, options: '-c search_path=plateau' });
    try {
      await client.connect();
      await migrate(client);
    } catch (error) {
      const why = error instanceof Error && error.message !== '' ? error.message : String(error);
      throw new Error(`the database of the archive cannot be used: ${why}`, { cause: error });
    } finally {
      await client.end().catch(() => undefined);
    }
    return new ArchiveDatabase(new pg.Pool({ ...common, max: MOST_CONNECTIONS, options: OPTIONS }));
  }

  /** Who shows a token of that hash; null: nobody who is let in. */
  async whoShows(hash: Buffer): Promise<Asker | null> {
    const client = await this.#connect();
    const { rows } = await client
      .query<Row>('SELECT * FROM who_shows($1)', [hash])
      .catch((cause: unknown) => {
        client.release(true);
        throw notThere(cause);
      });
    client.release();
    return rows[0] === undefined ? null : askerRow.parse(rows[0]);
  }

  /** Runs `work` in one transaction, as who asks: all of it or nothing. */
  async as<T>(asker: Asker, work: (ask: Ask) => Promise<T>): Promise<T> {
    const client = await this.#connect();
    try {
      await client.query('BEGIN');
      await client.query(
        `SELECT set_config('plateau.van', $1, true), set_config('plateau.who', $2, true),
           set_config('role', $3, true)`,
        [asker.van ?? '', `${asker.name} (${asker.id})`, `plateau_${asker.role}`],
      );
      const result = await work(askBy(client));
      await client.query('COMMIT');
      client.release();
      return result;
    } catch (error) {
      const isBroken = await client.query('ROLLBACK').then(
        () => false,
        () => true,
      );
      client.release(isBroken);
      throw isBroken ? notThere(error) : error;
    }
  }

  /** @throws Error, to be answered with 503, where the database is not there */
  async #connect(): Promise<pg.PoolClient> {
    return this.#pool.connect().catch((cause: unknown) => {
      throw notThere(cause);
    });
  }

  async close(): Promise<void> {
    await this.#pool.end();
  }
}

/** The database is not there, or went while it was asked: to be answered with 503. */
const notThere = (cause: unknown): Error =>
  Object.assign(new Error(NOT_THERE, { cause }), { statusCode: 503 });

const askerRow = z.object({
  ...{ id: z.string(), role: z.enum(ROLES), van: z.string().nullable(), name: z.string() },
});

/** PostgreSQL holds every character but one: what is asked and what is kept have another for it. */
function holdable(value: unknown): unknown {
  if (typeof value === 'string') return value.replaceAll('\0', '\ufffd');
  return Array.isArray(value) ? value.map(holdable) : value;
}

function askBy(client: pg.ClientBase): Ask {
  const query = async (
    statement: string,
    given: readonly unknown[] = [],
  ): Promise<pg.QueryResult<Row>> => client.query<Row>(statement, given.map(holdable));
  /** Planned once a connection. */
  const prepared = async (text: string, given: readonly unknown[] = []): Promise<Row[]> =>
    (await client.query<Row>({ name: nameOf(text), text, values: given.map(holdable) })).rows;
  return {
    async rows(schema, statement, given) {
      return (await prepared(statement, given)).map((row) => schema.parse(row));
    },
    async one(schema, statement, given) {
      const [row] = await prepared(statement, given);
      return row === undefined ? undefined : schema.parse(row);
    },
    async run(statement, given) {
      return (await query(statement, given)).rowCount ?? 0;
    },
  };
}

const names = new Map<string, string>();
/** A name for a statement, which PostgreSQL keeps 63 characters of. */
function nameOf(statement: string): string {
  let name = names.get(statement);
  if (name === undefined) {
    name = createHash('sha256').update(statement).digest('hex').slice(0, 32);
    names.set(statement, name);
  }
  return name;
}

/** One at a time, of all servers that start at once. */
async function migrate(client: pg.Client): Promise<void> {
  const { rows } = await client.query<Row>(
    "SELECT current_setting('server_version_num')::int AS version",
  );
  if (versionRow.parse(rows[0]).version < OLDEST) {
    throw new Error('it is an older PostgreSQL than 15: move it to a newer one');
  }
  await client.query('BEGIN');
  await client.query("SELECT pg_advisory_xact_lock(hashtext('plateau.tables'))");
  await client.query(MAKE_ROLES);
  await client.query('CREATE SCHEMA IF NOT EXISTS plateau');
  await client.query('CREATE TABLE IF NOT EXISTS tables (version integer NOT NULL)');
  const found = z
    .array(versionRow)
    .parse((await client.query('SELECT version FROM tables')).rows)
    .reduce((highest, { version }) => Math.max(highest, version), 0);
  if (found > MIGRATIONS.length) {
    throw new Error(`it was written by a later version of Plateau (${found}): use that one`);
  }
  for (const [i, statements] of MIGRATIONS.slice(found).entries()) {
    await client.query(statements);
    await client.query('INSERT INTO tables VALUES ($1)', [found + i + 1]);
  }
  await client.query('COMMIT');
}
