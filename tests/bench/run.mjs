/**
 * Runs the benchmarks: `npm run bench`, or `npm run bench -- NAME …` for some of them, with
 * `--rounds N` for more (or fewer) rounds. A benchmark is a file `NAME.bench.ts` beside this one: it
 * exports what harness.ts measures as `benchmark`, or does it all itself in `print(rounds)`.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { parseArgs } from 'node:util';
import { build } from 'esbuild';
import { findChromium } from '../chromium.mjs';

const HERE = fileURLToPath(new URL('.', import.meta.url));
/** Inside the project, so that the bundles find its packages. */
const BUNDLES = fileURLToPath(new URL('../../build/bench/', import.meta.url));
const ENDING = '.bench.ts';

function fail(sentence) {
  process.stderr.write(`${sentence}\n`);
  process.exit(2);
}

const known = readdirSync(HERE)
  .filter((file) => file.endsWith(ENDING))
  .map((file) => basename(file, ENDING));

function readArguments() {
  try {
    const { values, positionals } = parseArgs({
      allowPositionals: true,
      options: { rounds: { type: 'string' } },
    });
    const rounds = values.rounds === undefined ? undefined : Number(values.rounds);
    if (rounds !== undefined && !(Number.isInteger(rounds) && rounds > 0)) {
      fail(`--rounds is ${values.rounds}; it takes a whole number from 1 up.`);
    }
    const stranger = positionals.find((name) => !known.includes(name));
    if (stranger !== undefined) {
      fail(`There is no benchmark ${stranger}; there are: ${known.join(', ')}.`);
    }
    return { rounds, names: positionals.length > 0 ? positionals : known };
  } catch (error) {
    return fail(error.message);
  }
}

const { rounds, names } = readArguments();

/** Reference data are read from beside their module, which a bundle no longer knows: it is told. */
const besideItself = {
  name: 'beside-itself',
  setup({ onLoad }) {
    onLoad({ filter: /\/tests\/reference\/.*\.ts$/ }, ({ path }) => ({
      contents: readFileSync(path, 'utf8').replaceAll(
        'import.meta.url',
        JSON.stringify(pathToFileURL(path).href),
      ),
      loader: 'ts',
    }));
  },
};

await build({
  plugins: [besideItself],
  entryPoints: [join(HERE, 'harness.ts'), ...names.map((name) => join(HERE, name + ENDING))],
  outdir: BUNDLES,
  outExtension: { '.js': '.mjs' },
  bundle: true,
  packages: 'external',
  platform: 'node',
  format: 'esm',
  target: 'node20',
  logLevel: 'warning',
});

// For those that look at the page.
const chromium = findChromium();
if (chromium !== null) process.env.CHROMIUM_PATH = chromium;

const load = (name) => import(pathToFileURL(join(BUNDLES, `${name}.mjs`)).href);
const { measure, table } = await load('harness');
for (const name of names) {
  const { benchmark, print } = await load(`${name}.bench`);
  console.log();
  if (print !== undefined) await print(rounds);
  else console.log(table(benchmark, await measure(benchmark, rounds)));
}
