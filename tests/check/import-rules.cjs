/**
 * Which room of the house may import which: the table of the design, as rules for
 * dependency-cruiser. Each room says what it may reach; whatever else it reaches is an error, and so
 * is a file in no room. Types count: a type ties two rooms together as well; only in `.svelte` files
 * they cannot be seen here, and eslint.config.js looks at those. Paths are relative to where it runs,
 * so that the canary can lay the same rules on a house of its own.
 */
const BUILT_IN = ['core'];
const PACKAGES = ['npm', 'npm-dev', 'npm-optional', 'npm-peer'];

const CONTRACT = '^adapters/contract\\.ts$';
const PROTOCOL = '^server/protocol(\\.ts$|/)';
const UNITS = '^server/units\\.ts$';
const WORDS = '^server/words/';
// Marks what the server says to people; it holds nothing and imports nothing.
const SENT = '^server/words/sent\\.ts$';
const HISTORY = '^server/history\\.ts$';
const SNAPSHOT_JSON = '^server/(snapshot-json|slotted-text)\\.ts$';
const VISIT = '^server/(visit|clock-watch)\\.ts$';
// What a report is asked for in, and its texts.
const SPEECH = '^server/words/(language|speak-as)\\.ts$';
const MEASURE = '^server/measure/';
const SIGNAL = '^server/signal/';
const SESSION = '^server/session(\\.ts$|/)';
// Pure parts of the log that the session shares with its reader.
const LOG_RULES = '^server/visit-log/(lateness|recorded|details|known-fields)\\.ts$';
const VISIT_LOG = '^server/visit-log/';
const SOURCES = '^server/sources/';
const STORE = '^server/store/';
const REPORT = '^server/report/';
const PHOTO = '^server/photo/';
const HTTP = '^server/http/';
const CLI = '^server/cli/';
const ARCHIVE = '^server/archive/';
// What every server here answers, refuses and serves alike.
const HTTP_COMMON = '^server/http/(answers|errors|guard|page|photos|reports|visits)\\.ts$';
const CLASS = '^server/class/';
const DECISIONS = '^server/class/decisions\\.ts$';
const LOG_SCHEMA = '^server/visit-log/schema\\.ts$';
const SCRIPTS = '^server/[^/]+\\.mjs$';
const SIMULATED = '^adapters/simulated/';
const SIMULATOR = '^simulator/';
const SIMULATED_RADIO = '^simulator/bluetooth/';
const CLIENT = '^client/';
const TESTS = '^tests/';

/** Room: where it is, the rooms it may reach, and the kinds of module from outside the house. */
const ROOMS = {
  contract: { at: CONTRACT, rooms: [], outside: [] },
  adapters: {
    at: '^adapters/(?!simulated/)([^/]+)/',
    rooms: ['^adapters/$1/', CONTRACT],
    outside: [...BUILT_IN, ...PACKAGES],
  },
  simulated: {
    at: SIMULATED,
    rooms: [SIMULATED, CONTRACT, SIMULATOR],
    outside: [...BUILT_IN, ...PACKAGES],
  },
  simulator: {
    at: '^simulator/(?!bluetooth/)',
    rooms: ['^simulator/(?!bluetooth/)', MEASURE],
    outside: [],
  },
  // Of what is built in only the cipher of broadcasts; no clock either, as eslint.config.js sees to.
  'simulated-radio': {
    at: '^simulator/bluetooth/(?!beneath/)',
    rooms: ['^simulator/(?!bluetooth/beneath/)'],
    outside: BUILT_IN,
  },
  // Where the simulated radio meets clock, sockets and the real library.
  'beneath-the-radio': {
    at: '^simulator/bluetooth/beneath/',
    rooms: [SIMULATED_RADIO, '^simulator/probe\\.ts$'],
    outside: [...BUILT_IN, ...PACKAGES],
  },
  measure: { at: MEASURE, rooms: [MEASURE, SENT], outside: [] },
  signal: { at: SIGNAL, rooms: [SIGNAL, MEASURE], outside: [] },
  session: {
    at: SESSION,
    rooms: [SESSION, SIGNAL, MEASURE, CONTRACT, PROTOCOL, LOG_RULES, SENT],
    outside: [],
  },
  // The words of the server: what it sends, and in which units. The client imports them too.
  protocol: { at: PROTOCOL, rooms: [PROTOCOL], outside: PACKAGES },
  units: { at: UNITS, rooms: [], outside: [] },
  sent: { at: SENT, rooms: [], outside: [] },
  // How figures are written, on the page and in the report.
  words: { at: WORDS, rooms: [WORDS, MEASURE, PROTOCOL, UNITS, DECISIONS], outside: [] },
  // Lessons: data, and what the physics make of them.
  class: {
    at: CLASS,
    rooms: [
      ...[CLASS, SIMULATED, SIMULATOR, MEASURE, LOG_SCHEMA],
      ...[VISIT, PROTOCOL, CONTRACT, SENT],
    ],
    outside: PACKAGES,
  },
  history: { at: `${HISTORY}|${SNAPSHOT_JSON}`, rooms: [SNAPSHOT_JSON, PROTOCOL], outside: [] },
  visit: {
    at: VISIT,
    rooms: [VISIT, SESSION, HISTORY, PROTOCOL, CONTRACT, LOG_RULES, SENT],
    outside: [],
  },
  'visit-log': { at: VISIT_LOG, rooms: [VISIT_LOG, CONTRACT], outside: PACKAGES },
  sources: { at: SOURCES, rooms: [SOURCES, CONTRACT, SENT], outside: [...BUILT_IN, ...PACKAGES] },
  store: {
    at: STORE,
    rooms: [STORE, VISIT_LOG, HISTORY, CONTRACT, PROTOCOL, SENT],
    outside: [...BUILT_IN, ...PACKAGES],
  },
  photo: { at: PHOTO, rooms: [PHOTO, VISIT_LOG, SENT], outside: [...BUILT_IN, ...PACKAGES] },
  report: {
    at: REPORT,
    rooms: [REPORT, STORE, MEASURE, WORDS, PROTOCOL, UNITS, CONTRACT],
    outside: [...BUILT_IN, ...PACKAGES],
  },
  http: {
    at: HTTP,
    rooms: [
      ...[HTTP, CLASS, SESSION, VISIT, HISTORY, SNAPSHOT_JSON, STORE, REPORT],
      ...[PHOTO, VISIT_LOG, PROTOCOL, UNITS, CONTRACT, SENT, SPEECH],
    ],
    outside: [...BUILT_IN, ...PACKAGES],
  },
  archive: {
    at: ARCHIVE,
    rooms: [
      ...[ARCHIVE, STORE, VISIT_LOG, HISTORY, MEASURE, PROTOCOL, SENT, HTTP_COMMON],
      '^server/report/csv\\.ts$',
    ],
    outside: [...BUILT_IN, ...PACKAGES],
  },
  cli: {
    at: CLI,
    rooms: ['^server/', '^adapters/', '^package\\.json$'],
    outside: [...BUILT_IN, ...PACKAGES],
  },
  // Plain JavaScript that builds and starts; it reaches the program only as a built bundle.
  scripts: { at: SCRIPTS, rooms: [SCRIPTS], outside: [...BUILT_IN, ...PACKAGES] },
  client: {
    at: '^client/(?!vite\\.config\\.ts$)',
    rooms: [CLIENT, PROTOCOL, UNITS, MEASURE, WORDS],
    outside: PACKAGES,
  },
  'client-build': {
    at: '^client/vite\\.config\\.ts$',
    rooms: [CLIENT],
    outside: [...BUILT_IN, ...PACKAGES],
  },
};

const roomRules = Object.entries(ROOMS).map(([name, { at, rooms, outside }]) => ({
  name,
  severity: 'error',
  from: { path: at },
  to: {
    ...(rooms.length === 0 ? {} : { pathNot: rooms.join('|') }),
    ...(outside.length === 0 ? {} : { dependencyTypesNot: outside }),
  },
}));

/** @type {import('dependency-cruiser').IConfiguration} */
module.exports = {
  forbidden: [
    ...roomRules,
    {
      name: 'no-room',
      comment: 'A file in no room of the table above: move it, or give it a room.',
      severity: 'error',
      from: { pathNot: [...Object.values(ROOMS).map((room) => room.at), TESTS].join('|') },
      to: {},
    },
    {
      name: 'tests-are-outside',
      comment: 'What is shipped knows nothing of its tests.',
      severity: 'error',
      from: { pathNot: TESTS },
      to: { path: TESTS },
    },
    {
      name: 'client-is-last',
      comment: 'Data runs one way: nothing but its tests imports the client.',
      severity: 'error',
      from: { pathNot: `${CLIENT}|${TESTS}` },
      to: { path: CLIENT },
    },
    {
      name: 'no-circle',
      severity: 'error',
      from: {},
      to: { circular: true },
    },
    {
      name: 'not-found',
      comment: 'An import that leads nowhere. The Bluetooth library is optional.',
      severity: 'error',
      from: { pathNot: '^adapters/ble/' },
      to: { couldNotResolve: true },
    },
    {
      name: 'not-in-package-json',
      severity: 'error',
      from: {},
      to: { dependencyTypes: ['npm-no-pkg', 'npm-unknown'] },
    },
  ],
  options: {
    doNotFollow: { path: '(^|/)node_modules/' },
    exclude: { path: '^(tests/check/canary|build)/' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['svelte', 'import', 'browser', 'node', 'types', 'default'],
      extensions: ['.ts', '.js', '.mjs', '.cjs', '.d.ts', '.svelte'],
    },
  },
};
