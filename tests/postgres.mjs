/**
 * Finds a PostgreSQL for the archive's tests: the server's own programs (initdb, postgres) in the folder
 * that the variable POSTGRES_BIN names, else where they usually are; on Debian and its kin, where this may
 * install, they are installed. A cluster of its own is made for each run: none that is there is touched.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { installDebian } from './debian.mjs';

const LEAST = 15;
const DEBIAN = '/usr/lib/postgresql';

/** The major version of the server in a folder, or 0. */
function versionIn(folder) {
  if (!existsSync(join(folder, 'initdb')) || !existsSync(join(folder, 'postgres'))) return 0;
  const { stdout } = spawnSync(join(folder, 'postgres'), ['--version'], { encoding: 'utf8' });
  return Number(/\) (\d+)/.exec(stdout ?? '')?.[1] ?? 0);
}

function places() {
  const given = process.env.POSTGRES_BIN;
  if (given) return [given];
  const debian = existsSync(DEBIAN)
    ? readdirSync(DEBIAN)
        .sort((a, b) => Number(b) - Number(a))
        .map((version) => join(DEBIAN, version, 'bin'))
    : [];
  return [...debian, ...(process.env.PATH ?? '').split(delimiter).filter(Boolean)];
}

/** The folder of a PostgreSQL's programs, or null. */
export function findPostgres() {
  return places().find((folder) => versionIn(folder) >= LEAST) ?? null;
}

/** The same, installed if need be and if that can be done. */
export function findOrInstallPostgres() {
  const found = findPostgres();
  if (found !== null || process.env.POSTGRES_BIN) return found;
  return installDebian('postgresql', 'No PostgreSQL here') ? findPostgres() : null;
}
