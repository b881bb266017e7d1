/** Runs the tests and counts what came of them. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';

const VITEST = join(
  dirname(fileURLToPath(import.meta.resolve('vitest/package.json'))),
  'vitest.mjs',
);
/** So many files are named for the time they take. */
const SLOWEST = 10;

/**
 * Counts the tests of a report (vitest's JSON). A file that could not be loaded has no tests and
 * counts as one that failed.
 * @returns {{ passed: number, failed: number, skipped: number }}
 */
function count(report) {
  const counts = { passed: 0, failed: 0, skipped: 0 };
  for (const file of report.testResults) {
    if (file.status === 'failed' && file.assertionResults.length === 0) counts.failed += 1;
    for (const { status } of file.assertionResults) {
      if (status === 'passed' || status === 'failed') counts[status] += 1;
      else counts.skipped += 1;
    }
  }
  return counts;
}

/**
 * The files of a report that took longest, longest first.
 * @returns {{ file: string, seconds: number }[]}
 */
function slowestOf(report, root) {
  return report.testResults
    .map(({ name, startTime, endTime }) => ({
      file: relative(root, name),
      seconds: (endTime - startTime) / 1000,
    }))
    .sort((a, b) => b.seconds - a.seconds)
    .slice(0, SLOWEST);
}

/**
 * Runs vitest in a folder, with its output on this process's.
 * @param {string} root the folder whose tests/vitest.config.ts is used
 * @param {readonly string[]} args more arguments, filters for instance
 * @param {NodeJS.ProcessEnv} env
 * @param {import('node:child_process').StdioOptions} stdio
 * @returns {{ passed: number, failed: number, skipped: number, ran: number, ok: boolean,
 *   slowest: { file: string, seconds: number }[] }}
 *   `ok` only if tests ran and nothing at all went wrong; an error outside of any test, and that
 *   there was none to run, counts as a failure
 */
export function runVitest(root, args, env, stdio = 'inherit') {
  const folder = mkdtempSync(join(tmpdir(), 'plateau-test-'));
  const report = join(folder, 'report.json');
  try {
    const { status } = spawnSync(
      process.execPath,
      [
        ...[VITEST, 'run', '--config', join(root, 'tests/vitest.config.ts')],
        ...['--reporter=default', '--reporter=json', `--outputFile.json=${report}`, ...args],
      ],
      { cwd: root, env, stdio },
    );
    let counts = { passed: 0, failed: 0, skipped: 0 };
    let slowest = [];
    try {
      const said = JSON.parse(readFileSync(report, 'utf8'));
      counts = count(said);
      slowest = slowestOf(said, root);
    } catch {
      // No report: it did not get so far. The status tells.
    }
    const ran = counts.passed + counts.failed;
    if (status !== 0 && counts.failed === 0) counts.failed = 1;
    return {
      ...counts,
      ran,
      slowest,
      ok: status === 0 && counts.failed === 0 && counts.passed > 0,
    };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
