/**
 * Starts the program from a checkout: builds what is missing or older than its sources, then runs
 * it. Plain JavaScript, because Node 20 cannot run TypeScript and a bundle starts twice as fast.
 */
import { mkdirSync, readdirSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const SERVER_SOURCES = ['server', 'adapters', 'simulator', 'package.json'];
const CLIENT_SOURCES = [
  'client',
  'server/protocol.ts',
  'server/protocol',
  'server/units.ts',
  'server/measure',
  'server/words',
  'package.json',
];

/** Newest change below a path, ms; folders count, so that a deleted file is seen. */
function newest(path) {
  const stat = statSync(path, { throwIfNoEntry: false });
  if (stat === undefined) return 0;
  let latest = stat.mtimeMs;
  if (stat.isDirectory()) {
    for (const name of readdirSync(path)) latest = Math.max(latest, newest(join(path, name)));
  }
  return latest;
}

function outdated(stamp, sources) {
  const built = statSync(stamp, { throwIfNoEntry: false });
  if (built === undefined) return true;
  return sources.some((source) => newest(join(root, source)) > built.mtimeMs);
}

/** Builds aside and swaps, so that two starts at once cannot see half a build. */
async function build(name, make) {
  const target = join(root, 'build', name);
  const aside = `${target}.${process.pid}`;
  mkdirSync(aside, { recursive: true });
  try {
    await make(aside);
    writeFileSync(join(aside, '.built'), '');
    const old = `${target}.${process.pid}.old`;
    try {
      renameSync(target, old);
    } catch (error) {
      if (error.code !== 'ENOENT') throw error;
    }
    try {
      renameSync(aside, target);
    } catch (error) {
      // Another start was first: its build is as good.
      if (error.code !== 'ENOTEMPTY' && error.code !== 'EEXIST') throw error;
    }
    rmSync(old, { recursive: true, force: true });
  } finally {
    rmSync(aside, { recursive: true, force: true });
  }
}

async function buildServer(outdir) {
  const esbuild = await import('esbuild');
  await esbuild.build({
    absWorkingDir: root,
    entryPoints: {
      main: 'server/cli/main.ts',
      options: 'server/cli/options.ts',
      radio: 'adapters/ble/radio.ts', // a process of its own
      photo: 'server/photo/worker.ts', // a thread of its own
      report: 'server/cli/report-worker.ts', // and another
      'virtual-radio': 'simulator/bluetooth/beneath/hook.ts', // for that process, in a demo
    },
    outdir,
    outExtension: { '.js': '.mjs' },
    bundle: true,
    platform: 'node',
    target: 'node20',
    format: 'esm',
    // Bundled with all it uses: half the start-up time of loading hundreds of small files. Only the
    // Bluetooth library is loaded where it is installed: by a name that the bundler does not see.
    banner: {
      js: "import { createRequire as requireOf } from 'node:module'; const require = requireOf(import.meta.url);",
    },
    external: ['@photostructure/sqlite'], // brings a binary that lies beside it
    splitting: true,
    minifyWhitespace: true, // it is read at every start
    sourcemap: true,
    logLevel: 'warning',
  });
}

async function buildClient(outDir) {
  const vite = await import('vite');
  await vite.build({
    configFile: join(root, 'client/vite.config.ts'),
    logLevel: 'error',
    build: { outDir, emptyOutDir: true },
  });
}

/** `build` builds all of it, `build --outdated` what is older than its sources. */
const only = process.argv[2] === 'build';
const force = only && process.argv[3] !== '--outdated';
const bundle = (name) => import(pathToFileURL(join(root, 'build/server', name)).href);
if (force || outdated(join(root, 'build/server/.built'), SERVER_SOURCES)) {
  await build('server', buildServer); // less than a second: nothing is said
}
if (only || (await serves())) {
  if (force || outdated(join(root, 'build/client/.built'), CLIENT_SOURCES)) {
    process.stderr.write('Building the page, which takes some seconds …\n');
    await build('client', buildClient);
  }
}
if (!only) await bundle('main.mjs');

/** Whether the command line is right and asks for the dashboard; main says what is wrong with it. */
async function serves() {
  const { readCommand } = await bundle('options.mjs');
  try {
    return ['demo', 'start', 'archive'].includes(readCommand(process.argv.slice(2)).command);
  } catch {
    return false;
  }
}
