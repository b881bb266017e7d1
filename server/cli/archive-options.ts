/** What `archive` and `archive-token` are told. */
import { ARCHIVE_ROLES, type ArchiveRole } from '../protocol/archive.ts';
import { number, oneOf, parse, UsageError } from './arguments.ts';

export interface ArchiveServeOptions {
  command: 'archive';
  /** Empty: by PostgreSQL's own environment variables. */
  database: string;
  port: number;
  host: string;
  tls: { cert: string; key: string } | null;
  allowedHosts: string[];
  behindProxy: boolean;
}

export interface ArchiveTokenOptions {
  command: 'archive-token';
  database: string;
  role: ArchiveRole;
  name: string;
  van: string | undefined;
}

export type ArchiveCommand = ArchiveServeOptions | ArchiveTokenOptions;

const database = { database: { type: 'string' }, help: { type: 'boolean' } } as const;
const PORT = 4848;

export function readArchive(args: string[]): ArchiveServeOptions | { command: 'help' } {
  const { values, positionals } = parse(args, {
    ...database,
    port: { type: 'string' },
    host: { type: 'string' },
    cert: { type: 'string' },
    key: { type: 'string' },
    'allowed-host': { type: 'string', multiple: true },
    'behind-proxy': { type: 'boolean' },
  });
  if (values.help) return { command: 'help' };
  noMore('archive', positionals);
  const { cert, key } = values;
  if ((cert === undefined) !== (key === undefined)) {
    throw new UsageError('--cert and --key go together: give both files');
  }
  return {
    command: 'archive',
    database: databaseOf(values.database),
    port: number('port', values.port, 0, 65_535, PORT, true),
    host: values.host ?? '127.0.0.1',
    tls: cert === undefined || key === undefined ? null : { cert, key },
    allowedHosts: values['allowed-host'] ?? [],
    behindProxy: values['behind-proxy'] ?? false,
  };
}

export function readArchiveToken(args: string[]): ArchiveTokenOptions | { command: 'help' } {
  const { values, positionals } = parse(args, {
    ...database,
    role: { type: 'string' },
    name: { type: 'string' },
    van: { type: 'string' },
  });
  if (values.help) return { command: 'help' };
  noMore('archive-token', positionals);
  const role = oneOf('role', values.role, ARCHIVE_ROLES);
  if (role === null) throw new UsageError(`--role is missing: ${ARCHIVE_ROLES.join(' or ')}`);
  const name = values.name?.trim() ?? '';
  if (name === '') throw new UsageError('--name is missing: of the person or the van');
  if (values.van !== undefined && role !== 'van') {
    throw new UsageError('--van goes with --role van');
  }
  return {
    ...{ command: 'archive-token', database: databaseOf(values.database), role, name },
    van: values.van,
  };
}

function databaseOf(text: string | undefined): string {
  if (text === undefined) return '';
  if (/^postgres(ql)?:\/\//.test(text)) return text;
  throw new UsageError('--database is a URL that begins with postgres://');
}

function noMore(command: string, [extra]: readonly string[]): void {
  if (extra !== undefined) throw new UsageError(`"${extra}" is one too many for ${command}`);
}
