/** A PostgreSQL of a test's own: a cluster in a folder that goes with it, reached by a socket there. */
import { spawn, spawnSync, type ChildProcess } from 'node:child_process';
import { chownSync, mkdirSync, readFileSync } from 'node:fs';
import { once } from 'node:events';
import { join } from 'node:path';
import pg from 'pg';
import { findPostgres } from '../postgres.mjs';
import { tempFolder } from '../program.ts';

/** Where its programs are; null: there is none, and the tests are skipped. */
export const POSTGRES = findPostgres();
const PATIENCE_MS = 60_000;

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
  /** Of a database as the cluster's superuser. */
  superuserUrl: (database: string) => string;
  /** Kills it where it stands. */
  kill: () => Promise<void>;
  /** Starts it again. */
  start: () => Promise<void>;
  end: () => Promise<void>;
}

/** @param settings more of `postgresql.conf`, as `name=value` */
export async function startCluster(settings: readonly string[] = []): Promise<Cluster> {
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
  const env = { ...process.env, LC_ALL: 'C' };
  const made = spawnSync(
    join(bin, 'initdb'),
    ['-D', data, '-U', 'postgres', '-A', 'trust', '-E', 'UTF8', '--no-sync'],
    { ...as, env, cwd: temp.path, encoding: 'utf8' },
  );
  if (made.status !== 0) throw new Error(`initdb: ${made.stderr}`);
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
      const client = new pg.Client(urlOf('postgres', 'postgres'));
      try {
        await client.connect();
        await client.end();
        return;
      } catch (error) {
        if (Date.now() > until || server.exitCode !== null) throw error;
        await new Promise((done) => setTimeout(done, 50));
      }
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
    start,
    superuserUrl: (database) => urlOf('postgres', database),
    async newDatabase() {
      const name = `archive${++databases}`;
      const client = new pg.Client(urlOf('postgres', 'postgres'));
      await client.connect();
      if (databases === 1) await client.query('CREATE ROLE company LOGIN CREATEROLE');
      await client.query(`CREATE DATABASE ${name} OWNER company`);
      await client.end();
      return urlOf('company', name);
    },
    // Its children end by themselves when they find it gone.
    kill: () => stop('SIGKILL'),
    async end() {
      await stop('SIGINT');
      temp.remove();
    },
  };
}
