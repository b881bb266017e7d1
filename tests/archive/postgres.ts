/** A PostgreSQL of a test's own: a cluster in a folder that goes with it, reached by a socket there. */
import { spawn, spawnSync, type ChildProcess } from 'node:child_process';
import { chownSync, mkdirSync, readFileSync } from 'node:fs';
import { once } from 'node:events';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import pg from 'pg';
import { findPostgres } from '../postgres.mjs';
import { tempFolder } from '../program.ts';

/** Where its programs are; null: there is none, and the tests are skipped. */
export const POSTGRES = findPostgres();
const PATIENCE_MS = 60_000;
/** The login that owns the databases. */
const OWN = 'company';

/** The server refuses to run as root: it runs as its own user there, as Debian's package makes one. */
function user(): { uid: number; gid: number } | undefined {
  if (process.getuid?.() !== 0) return undefined;
  const lines = readFileSync('/etc/passwd', 'utf8').split('\n');
  for (const name of ['postgres', 'nobody']) {
    const [, , uid, gid] = lines.find((line) => line.startsWith(`${name}:`))?.split(':') ?? [];
    if (uid !== undefined && gid !== undefined) return { uid: Number(uid), gid: Number(gid) };
  }
  throw new Error('there is no user that PostgreSQL could run as');
}

export interface Cluster {
  /** Of a new, empty database, owned by a login of its own that is no superuser. */
  newDatabase: () => Promise<string>;
  /** Of a database as that login. */
  ownUrl: (database: string) => string;
  /** Of a database as the cluster's superuser. */
  superuserUrl: (database: string) => string;
  /** A folder that goes with it, in which its user may write. */
  folder: string;
  /** Runs a command line there as a superuser of the cluster would. @returns what it printed @throws Error where it fails */
  run: (line: string) => string;
  /** Kills it where it stands. */
  kill: () => Promise<void>;
  /** Starts it again. */
  start: () => Promise<void>;
  end: () => Promise<void>;
}

/**
 * @param settings more of `postgresql.conf`, as `name=value`
 * @param copy of the folder of another, which it goes on from; null: a new one
 */
export async function startCluster(
  settings: readonly string[] = [],
  copy: string | null = null,
): Promise<Cluster> {
  if (POSTGRES === null) throw new Error('there is no PostgreSQL here');
  const bin = POSTGRES;
  const temp = tempFolder();
  const data = join(temp.path, 'data');
  const sockets = join(temp.path, 's');
  const as = user();
  for (const folder of [data, sockets]) mkdirSync(folder, { mode: 0o700 });
  if (as !== undefined) {
    for (const path of [temp.path, data, sockets]) chownSync(path, as.uid, as.gid);
  }
  const env = {
    ...{ ...process.env, LC_ALL: 'C', PATH: `${bin}:${process.env['PATH']}` },
    ...{ PGHOST: sockets, PGUSER: 'postgres' },
  };
  function run(line: string): string {
    const ran = spawnSync(line, { ...as, env, cwd: temp.path, encoding: 'utf8', shell: true });
    if (ran.status !== 0) throw new Error(`${line}: ${ran.stderr}`);
    return ran.stdout;
  }
  run(
    copy === null
      ? `initdb -D '${data}' -U postgres -A trust -E UTF8 --no-sync`
      : `cp -a '${copy}/.' '${data}'`,
  );
  let server: ChildProcess | null = null;
  let databases = 0;
  const urlOf = (name: string, database: string): string =>
    `postgres://${name}@/${database}?host=${encodeURIComponent(sockets)}`;

  async function start(): Promise<void> {
    const given = ['listen_addresses=', `unix_socket_directories=${sockets}`, ...settings];
    server = spawn(
      join(bin, 'postgres'),
      ['-D', data, ...given.flatMap((setting) => ['-c', setting])],
      { ...as, env, cwd: temp.path, stdio: 'ignore' },
    );
    const until = Date.now() + PATIENCE_MS;
    for (;;) {
      const trouble = await ready();
      if (trouble === null) return;
      if (Date.now() > until || server.exitCode !== null) throw trouble;
      await pause(50);
    }
  }
  /** @returns null, or why it cannot be asked for all yet */
  async function ready(): Promise<Error | null> {
    const client = new pg.Client(urlOf('postgres', 'postgres'));
    try {
      await client.connect();
      const { rows } = await client.query<{ busy: boolean }>('SELECT pg_is_in_recovery() AS busy');
      return rows[0]?.busy === false ? null : new Error('it is still being recovered');
    } catch (error) {
      return error instanceof Error ? error : new Error(String(error));
    } finally {
      await client.end().catch(() => undefined);
    }
  }
  async function stop(signal: NodeJS.Signals): Promise<void> {
    const running = server;
    server = null;
    if (running === null || running.exitCode !== null) return;
    const gone = once(running, 'exit');
    running.kill(signal);
    await gone;
  }
  await start();
  return {
    ...{ start, run, folder: temp.path },
    ownUrl: (database) => urlOf(OWN, database),
    superuserUrl: (database) => urlOf('postgres', database),
    async newDatabase() {
      const name = `archive${++databases}`;
      const client = new pg.Client(urlOf('postgres', 'postgres'));
      await client.connect();
      if (databases === 1) await client.query(`CREATE ROLE ${OWN} LOGIN CREATEROLE`);
      await client.query(`CREATE DATABASE ${name} OWNER ${OWN}`);
      await client.end();
      return urlOf(OWN, name);
    },
    // Its children end by themselves when they find it gone.
    kill: () => stop('SIGKILL'),
    async end() {
      await stop('SIGINT');
      temp.remove();
    },
  };
}
