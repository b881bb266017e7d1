/** The command line: what can be said, and one sentence for what cannot. */
import type { ParseArgsConfig } from 'node:util';
import { SCENARIO_NAMES } from '../../adapters/simulated/index.ts';

export const HELP = `Plateau: the heating or cooling that a ductless indoor unit delivers.

  npm run demo                              the dashboard with simulated probes
  npm start                                 the dashboard with real sources
  npm run --silent plateau -- COMMAND …     any command:

  demo | start       serve the dashboard
    --port N           port (default 4747; 0: any free one)
    --lan              lets phones and other computers in that show a code; the page at
                       this computer makes the codes
    --host H           address to listen on (default 127.0.0.1, with --lan all of them)
    --cert FILE --key FILE   a certificate and its key, in PEM: https, and on phones an app
                       that can be installed
    --allowed-host H   another name by which browsers may reach it; may be repeated
    --data DIR         folder for the record of the visit (default ./data, demo: ./data/demo)
    --new-visit        begin a new visit instead of going on with the last one
    --adapter A        another source: a package or a file that exports createAdapter,
                       with options as A,key=value; may be repeated
    --replay FILE      play a visit log, 1 to 1000 times as fast with --speed N; it is the
                       only source, cannot be altered, and nothing is recorded
    --archive URL      where the company's archive is: finished visits are sent to it
    --archive-token F  a file with this van's token (or the variable PLATEAU_ARCHIVE_TOKEN)
  start also
    --bluetooth-adapter N   the computer's Nth Bluetooth adapter, counted from 0
    --probe-description F   a JSON file that describes a Bluetooth probe with a layout
                       of its own; may be repeated
  demo also
    --scenario NAME    which simulated site (default: the first)
    --seed N           another course of the same scenario
    --speed N          1 to 60 times as fast as real time
    --over-bluetooth   the probes as Bluetooth devices, through the radio's whole path

  analyse FILE       run a visit log through the same pipeline, JSON lines out
    --every SECONDS    how often a snapshot is printed (default 1)
    --keep-going       skip and count lines that are refused

  export             a recorded visit as a visit log, to standard output
    --visit ID         which one (default: the newest)
    --all FOLDER       all of them, each into a file of its own
  report             a recorded visit as a PDF, to standard output
    --visit ID         which one (default: the newest)
    --units si|ip      kW, °C, m³/h (default) or Btu/h, °F, cfm
    --paper letter|a4  (default: letter with --units ip, else a4)
    --language en|es   what it is written in (default: en)
    --locale TAG       how numbers and days are written, as es-MX or es-ES
    --out FILE         into a file instead
  import FILE        takes in a visit log, a folder of them, or a backup
  backup FILE        a copy of the whole record, also while a server runs
  doctor             looks the record over, and mends what it safely can
    --data DIR         of these five: the folder of the record (default ./data)

  archive            serve a company's archive of visits, on PostgreSQL 15 or newer
    --database URL     postgres://USER@HOST/NAME (default: PostgreSQL's own variables)
    --port, --host, --cert, --key, --allowed-host   as with start (default port 4848)
    --behind-proxy     a proxy in front speaks TLS: cookies are for it alone
  archive-token      makes a token that lets somebody into the archive, and prints it
    --role owner|reader|van
    --name NAME        of the person or the van
    --van ID           another token for a van that is there
    --database URL

  --help, --version
`;
import { type ArchiveCommand, readArchive, readArchiveToken } from './archive-options.ts';
import { number, oneOf, parse, UsageError } from './arguments.ts';
import { type Language, LANGUAGES } from '../words/language.ts';
import { isLocale } from '../words/speak-as.ts';

export { UsageError };

export interface ServeOptions {
  command: 'demo' | 'start';
  port: number;
  host: string;
  /** Whether other machines are let in, with a code. */
  lan: boolean;
  /** Files of a certificate and its key; null: plain HTTP. */
  tls: { cert: string; key: string } | null;
  allowedHosts: string[];
  dataDir: string;
  newVisit: boolean;
  adapters: string[];
  /** Which Bluetooth adapter, counted from 0; null: the system's first. */
  bluetoothAdapter: number | null;
  probeDescriptions: string[];
  replay: string | null;
  scenario: string | null;
  seed: number | null;
  speed: number;
  overBluetooth: boolean;
  /** Where the company's archive is, and a file with this van's token; null: none. */
  archive: { url: string; tokenFile: string | null } | null;
}

export type Command =
  | ServeOptions
  | { command: 'analyse'; file: string; everyS: number; keepGoing: boolean }
  | { command: 'export'; dataDir: string; visit: string | null; allTo: string | null }
  | {
      command: 'report';
      dataDir: string;
      visit: string | null;
      units: 'si' | 'ip';
      paper: 'letter' | 'a4';
      /** A file; null: standard output. */
      out: string | null;
      language: Language;
      locale: string | undefined;
    }
  | { command: 'import' | 'backup'; dataDir: string; file: string }
  | { command: 'doctor'; dataDir: string }
  | ArchiveCommand
  | { command: 'help' | 'version' };

const serveOptions = {
  port: { type: 'string' },
  host: { type: 'string' },
  lan: { type: 'boolean' },
  cert: { type: 'string' },
  key: { type: 'string' },
  'allowed-host': { type: 'string', multiple: true },
  data: { type: 'string' },
  'new-visit': { type: 'boolean' },
  adapter: { type: 'string', multiple: true },
  'bluetooth-adapter': { type: 'string' },
  'probe-description': { type: 'string', multiple: true },
  replay: { type: 'string' },
  scenario: { type: 'string' },
  seed: { type: 'string' },
  speed: { type: 'string' },
  'over-bluetooth': { type: 'boolean' },
  archive: { type: 'string' },
  'archive-token': { type: 'string' },
  help: { type: 'boolean' },
} as const satisfies ParseArgsConfig['options'];

const analyseOptions = {
  every: { type: 'string' },
  'keep-going': { type: 'boolean' },
  help: { type: 'boolean' },
} as const satisfies ParseArgsConfig['options'];

const recordOptions = {
  data: { type: 'string' },
  visit: { type: 'string' },
  all: { type: 'string' },
  help: { type: 'boolean' },
} as const satisfies ParseArgsConfig['options'];

const reportOptions = {
  data: { type: 'string' },
  visit: { type: 'string' },
  units: { type: 'string' },
  paper: { type: 'string' },
  language: { type: 'string' },
  locale: { type: 'string' },
  out: { type: 'string' },
  help: { type: 'boolean' },
} as const satisfies ParseArgsConfig['options'];

/** All addresses of this computer, of IPv4 or of both. */
const EVERYWHERE = ['0.0.0.0', '::'];

const RECORD_COMMANDS = ['export', 'import', 'backup', 'doctor'] as const;
const COMMANDS = [
  ...['demo', 'start', 'analyse', 'report', ...RECORD_COMMANDS],
  ...['archive', 'archive-token'],
];

/**
 * Reads the arguments after the program's name.
 * @throws UsageError with a sentence
 */
export function readCommand(args: readonly string[]): Command {
  const [command, ...rest] = args;
  if (command === undefined || command === '--help' || command === 'help' || command === '-h') {
    return { command: 'help' };
  }
  if (command === '--version') return { command: 'version' };
  if (command === 'analyse') return readAnalyse(rest);
  if (command === 'report') return readReport(rest);
  if (command === 'archive') return readArchive(rest);
  if (command === 'archive-token') return readArchiveToken(rest);
  if (command === 'demo' || command === 'start') return readServe(command, rest);
  for (const known of RECORD_COMMANDS) if (command === known) return readRecord(known, rest);
  throw new UsageError(`"${command}" is not a command: it is one of ${COMMANDS.join(', ')}`);
}

function readRecord(command: (typeof RECORD_COMMANDS)[number], args: string[]): Command {
  const { values, positionals } = parse(args, recordOptions);
  if (values.help) return { command: 'help' };
  for (const only of ['visit', 'all'] as const) {
    if (values[only] !== undefined && command !== 'export') {
      throw new UsageError(`--${only} belongs to export, not to ${command}`);
    }
  }
  if (values.visit !== undefined && values.all !== undefined) {
    throw new UsageError('--visit is one visit and --all is all of them: give one of the two');
  }
  const dataDir = values.data ?? 'data';
  const [file, more] = positionals;
  const takesFile = command === 'import' || command === 'backup';
  if (takesFile && file === undefined) {
    throw new UsageError(`${command} needs a file: plateau ${command} FILE`);
  }
  const extra = takesFile ? more : file;
  if (extra !== undefined) throw new UsageError(`"${extra}" is one too many for ${command}`);
  if (takesFile) return { command, dataDir, file: file ?? '' };
  if (command === 'doctor') return { command, dataDir };
  return { command: 'export', dataDir, visit: values.visit ?? null, allTo: values.all ?? null };
}

function readReport(args: string[]): Command {
  const { values, positionals } = parse(args, reportOptions);
  if (values.help) return { command: 'help' };
  const [extra] = positionals;
  if (extra !== undefined) throw new UsageError(`"${extra}" is one too many for report`);
  if (values.locale !== undefined && !isLocale(values.locale)) {
    throw new UsageError(
      `--locale "${values.locale}" is no tag of a language and place, as "es-MX"`,
    );
  }
  const units = oneOf('units', values.units, ['si', 'ip'] as const) ?? 'si';
  return {
    ...{ command: 'report', dataDir: values.data ?? 'data', visit: values.visit ?? null, units },
    paper:
      oneOf('paper', values.paper, ['letter', 'a4'] as const) ?? (units === 'ip' ? 'letter' : 'a4'),
    language: oneOf('language', values.language, LANGUAGES) ?? 'en',
    locale: values.locale,
    out: values.out ?? null,
  };
}

function readServe(command: 'demo' | 'start', args: string[]): Command {
  const { values, positionals } = parse(args, serveOptions);
  if (values.help) return { command: 'help' };
  if (positionals[0] !== undefined) throw new UsageError(`"${positionals[0]}" is not an option`);
  if (command === 'demo') {
    for (const only of ['bluetooth-adapter', 'probe-description'] as const) {
      if (values[only] !== undefined)
        throw new UsageError(`--${only} belongs to start, not to demo`);
    }
  }
  if (command === 'start') {
    for (const only of ['scenario', 'seed', 'over-bluetooth'] as const) {
      if (values[only] !== undefined)
        throw new UsageError(`--${only} belongs to demo, not to start`);
    }
    if (values.speed !== undefined && values.replay === undefined) {
      throw new UsageError('--speed goes with demo or with --replay');
    }
  }
  if (values.data?.trim() === '') throw new UsageError('--data needs the name of a folder');
  const { cert, key } = values;
  if ((cert === undefined) !== (key === undefined)) {
    throw new UsageError('--cert and --key go together: give both files');
  }
  const lan = values.lan ?? false;
  if (lan && values.host !== undefined && !EVERYWHERE.includes(values.host)) {
    throw new UsageError(
      `--lan listens on all addresses, this computer's own among them: leave out --host ${values.host}`,
    );
  }
  const overBluetooth = values['over-bluetooth'] ?? false;
  if (overBluetooth && (values.speed !== undefined || values.replay !== undefined)) {
    throw new UsageError('--over-bluetooth goes with neither --speed nor --replay');
  }
  if (values.replay !== undefined) {
    for (const other of ['adapter', 'scenario', 'seed'] as const) {
      if (values[other] !== undefined) {
        throw new UsageError(`--replay plays a log and nothing else: leave out --${other}`);
      }
    }
  }
  return {
    command,
    port: number('port', values.port, 0, 65_535, 4747, true),
    host: values.host ?? (lan ? '0.0.0.0' : '127.0.0.1'),
    lan,
    tls: cert === undefined || key === undefined ? null : { cert, key },
    allowedHosts: values['allowed-host'] ?? [],
    // The probes have other ids over Bluetooth: it is another visit.
    dataDir:
      values.data ??
      (command === 'start' ? 'data' : overBluetooth ? 'data/demo-bluetooth' : 'data/demo'),
    overBluetooth,
    archive: archiveOf(values.archive, values['archive-token']),
    newVisit: values['new-visit'] ?? false,
    adapters: values.adapter ?? [],
    bluetoothAdapter:
      values['bluetooth-adapter'] === undefined
        ? null
        : number('bluetooth-adapter', values['bluetooth-adapter'], 0, 15, 0, true),
    probeDescriptions: values['probe-description'] ?? [],
    replay: values.replay ?? null,
    scenario: scenarioName(values.scenario),
    seed: values.seed === undefined ? null : number('seed', values.seed, 0, 2 ** 31, 1, true),
    speed: number('speed', values.speed, 1, values.replay === undefined ? 60 : 1000, 1, false),
  };
}

function archiveOf(
  url: string | undefined,
  tokenFile: string | undefined,
): ServeOptions['archive'] {
  if (url === undefined) {
    if (tokenFile === undefined) return null;
    throw new UsageError('--archive-token goes with --archive: say where the archive is');
  }
  if (!/^https?:\/\/[^/]/.test(url) || !URL.canParse(url)) {
    throw new UsageError(`--archive "${url}" is no address, as "https://archive.example.org"`);
  }
  return { url: url.replace(/\/+$/, ''), tokenFile: tokenFile ?? null };
}

function scenarioName(name: string | undefined): string | null {
  if (name === undefined) return null;
  const known: readonly string[] = SCENARIO_NAMES;
  if (known.includes(name)) return name;
  throw new UsageError(`--scenario "${name}" is not known: it is one of ${known.join(', ')}`);
}

function readAnalyse(args: string[]): Command {
  const { values, positionals } = parse(args, analyseOptions);
  if (values.help) return { command: 'help' };
  const [file, more] = positionals;
  if (file === undefined) throw new UsageError('analyse needs a file: plateau analyse FILE');
  if (more !== undefined) throw new UsageError(`analyse takes one file; "${more}" is one too many`);
  return {
    command: 'analyse',
    file,
    everyS: number('every', values.every, 1, 86_400, 1, false),
    keepGoing: values['keep-going'] ?? false,
  };
}
