/** Packages of Debian and its kin, where this user may install them without a question. */
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';

/** What comes before a command that installs, or null. */
function prefix() {
  if (process.platform !== 'linux' || !existsSync('/etc/debian_version')) return null;
  if (process.getuid?.() === 0) return ['env'];
  const sudo = spawnSync('sudo', ['-n', 'true'], { stdio: 'ignore' });
  return sudo.status === 0 ? ['sudo', '-n', 'env'] : null;
}

/**
 * Installs a package. @param {string} why what is said first
 * @returns {boolean} whether that was tried
 */
export function installDebian(name, why) {
  const before = prefix();
  if (before === null) return false;
  process.stderr.write(`${why}: installing the Debian package "${name}" …\n`);
  const apt = [...before, 'DEBIAN_FRONTEND=noninteractive', 'apt-get'];
  for (const args of [['update'], ['install', '-y', '--no-install-recommends', name]]) {
    const [command, ...rest] = [...apt, ...args];
    spawnSync(command, rest, { stdio: ['ignore', 2, 2] });
  }
  return true;
}
