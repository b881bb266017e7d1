/**
 * `npm test [-- filters]`: finds a browser, builds, runs all tests, names the ten slowest files, and
 * ends in the plain line `N passed, N failed`. The exit status is 0 only if tests ran and all of them passed.
 */
import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { findOrInstallChromium } from './chromium.mjs';
import { findOrInstallPostgres } from './postgres.mjs';
import { hasRadioLibrary } from './radio-library.mjs';
import { runVitest } from './run-vitest.mjs';

const root = fileURLToPath(new URL('..', import.meta.url));

function main() {
  let chromium;
  try {
    chromium = findOrInstallChromium();
  } catch (error) {
    process.stderr.write(`${error.message}\n`);
    return false;
  }
  process.stderr.write(`Browser tests use ${chromium}\n`);
  if (!hasRadioLibrary) {
    process.stderr.write('The Bluetooth library is not installed: tests over it are skipped.\n');
  }
  const postgres = findOrInstallPostgres();
  if (postgres === null) {
    process.stderr.write(
      'There is no PostgreSQL 15 or newer here: tests of the archive are skipped.\n',
    );
  }
  const built = spawnSync(process.execPath, ['server/launch.mjs', 'build', '--outdated'], {
    cwd: root,
    stdio: 'inherit',
  });
  if (built.status !== 0) {
    process.stderr.write('The build failed: no test was run.\n');
    return false;
  }
  const { passed, failed, skipped, ran, slowest, ok } = runVitest(root, process.argv.slice(2), {
    ...process.env,
    CHROMIUM_PATH: chromium,
    ...(postgres === null ? {} : { POSTGRES_BIN: postgres }),
  });
  if (slowest.length > 0) process.stdout.write('The slowest files, seconds:\n');
  for (const { file, seconds } of slowest) {
    process.stdout.write(`${seconds.toFixed(1).padStart(7)}  ${file}\n`);
  }
  if (skipped > 0) process.stdout.write(`${skipped} were skipped.\n`);
  if (ran === 0) process.stdout.write('No test was run.\n');
  process.stdout.write(`${passed} passed, ${failed} failed\n`);
  return ok;
}

process.exitCode = main() ? 0 : 1;
