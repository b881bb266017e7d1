/** Imports that the rules of the house forbid: in which file, and which rules must say so. */

export interface Forbidden {
  file: string;
  text: string;
  rules: string[];
}

/** A file that has nothing but the import. In a file of its own no import can close a circle. */
const inFile = (file: string, from: string, ...rules: string[]): Forbidden => ({
  file,
  text: file.endsWith('.svelte')
    ? `<script lang="ts">\n  import * as far from '${from}';\n</script>\n\n{far}\n`
    : `export * from '${from}';\n`,
  rules,
});

/** New files in a room that is a folder, one for each import. */
const inRoom = (room: string, folder: string, imports: string[]): Forbidden[] =>
  imports.map((from, i) => inFile(`${folder}/far-${i}.ts`, from, room));

/** What is laid over the good house of canary/. Where a file is there already, it gets a line more. */
export const FORBIDDEN: Forbidden[] = [
  inFile('adapters/contract.ts', '../server/units.ts', 'contract'),
  ...inRoom('adapters', 'adapters/push', [
    '../simulated/index.ts',
    '../../simulator/random.ts',
    '../../server/measure/zero.ts',
    '../../server/protocol.ts',
  ]),
  ...inRoom('simulated', 'adapters/simulated', ['../push/name.ts', '../../server/units.ts']),
  ...inRoom('simulator', 'simulator', [
    'node:fs',
    'zod',
    '../server/signal/steady.ts',
    '../adapters/contract.ts',
    './bluetooth/far-0.ts',
  ]),
  ...inRoom('simulated-radio', 'simulator/bluetooth', [
    'zod',
    '../../server/measure/zero.ts',
    './beneath/far-0.ts',
  ]),
  ...inRoom('beneath-the-radio', 'simulator/bluetooth/beneath', [
    '../../random.ts',
    '../../../adapters/contract.ts',
  ]),
  ...inRoom('measure', 'server/measure', [
    'node:fs',
    'zod',
    '../units.ts',
    '../../adapters/contract.ts',
  ]),
  ...inRoom('signal', 'server/signal', ['node:timers', 'zod', '../protocol.ts']),
  ...inRoom('session', 'server/session', [
    'node:fs',
    'zod',
    '../visit-log/schema.ts',
    '../store/visits.ts',
    '../http/app.ts',
    '../units.ts',
  ]),
  inFile('server/session.ts', './store/visits.ts', 'session'),
  inFile('server/protocol.ts', './units.ts', 'protocol'),
  inFile('server/units.ts', './measure/zero.ts', 'units'),
  inFile('server/words/sent.ts', '../units.ts', 'sent'),
  ...inRoom('words', 'server/words', ['node:fs', 'zod', '../session.ts']),
  inFile('server/history.ts', './units.ts', 'history'),
  inFile('server/snapshot-json.ts', 'node:fs', 'history'),
  inFile('server/visit.ts', './store/visits.ts', 'visit'),
  ...inRoom('visit-log', 'server/visit-log', ['node:fs', '../protocol.ts']),
  ...inRoom('sources', 'server/sources', ['../visit.ts', '../../adapters/push/name.ts']),
  ...inRoom('store', 'server/store', ['../http/app.ts', '../session.ts']),
  ...inRoom('report', 'server/report', ['../http/app.ts', '../session.ts']),
  ...inRoom('photo', 'server/photo', ['../http/app.ts', '../store/visits.ts']),
  ...inRoom('http', 'server/http', [
    '../../adapters/push/name.ts',
    '../../simulator/random.ts',
    '../sources/supervisor.ts',
  ]),
  ...inRoom('archive', 'server/archive', ['../session.ts', '../cli/main.ts', '../http/app.ts']),
  ...inRoom('class', 'server/class', ['node:fs', '../http/app.ts', '../session.ts']),
  ...inRoom('cli', 'server/cli', ['../../simulator/random.ts']),
  inFile('server/cli/far-page.ts', '../../client/main.ts', 'cli', 'client-is-last'),
  inFile('server/cli/far-test.ts', '../../tests/help.ts', 'cli', 'tests-are-outside'),
  inFile('tests/help.ts', '../server/units.ts'), // tests may import all
  inFile('server/far.mjs', './units.ts', 'scripts'),
  ...inRoom('client', 'client', [
    'node:fs',
    '../server/http/app.ts',
    '../server/session.ts',
    '../adapters/contract.ts',
    '../simulator/random.ts',
  ]),
  inFile('client/Far.svelte', '../server/session.ts', 'client'),
  inFile('client/vite.config.ts', '../server/units.ts', 'client-build'),
  inFile('server/loose.ts', './units.ts', 'no-room'),
  inFile('server/cellar/loose.ts', '../units.ts', 'no-room'),
  inFile('server/http/about.ts', './round.ts', 'no-circle'),
  inFile('server/http/round.ts', './about.ts'), // a circle is told once
  inFile('server/http/far-nowhere.ts', './nowhere.ts', 'http', 'not-found'),
  // Installed for others, and not named in package.json.
  inFile('server/http/far-package.ts', 'acorn', 'http', 'not-in-package-json'),
];
