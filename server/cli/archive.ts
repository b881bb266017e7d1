/** `archive` and `archive-token`: a company's archive, served, and who is let in. */
import { ArchiveDatabase, type Asker } from '../archive/database.ts';
import { buildArchive } from '../archive/http/app.ts';
import { makeToken } from '../archive/tokens.ts';
import { allowedHosts, LOOPBACK } from '../http/guard.ts';
import type { ArchiveServeOptions, ArchiveTokenOptions } from './archive-options.ts';
import { CLIENT_DIR, REPORT_FILE } from './built-files.ts';
import { certificate } from './certificate.ts';
import { listen } from './listen.ts';
import { reportAside } from './report-thread.ts';
import { version } from './version.ts';

/** Ending in order may take so long, ms. */
const END_LIMIT_MS = 8000;

/** Whoever runs this at the database's own computer. */
const OPERATOR: Asker = { id: 'command line', role: 'owner', van: null, name: 'operator' };

/** Runs until a signal ends it. */
export async function serveArchive(options: ArchiveServeOptions): Promise<void> {
  const tls = await certificate(options.tls);
  const db = await ArchiveDatabase.open(options.database);
  const app = await buildArchive({
    ...{ db, now: Date.now, version, clientDir: CLIENT_DIR, secure: options.behindProxy },
    allowed: allowedHosts(options.host, options.allowedHosts),
    tls: tls ?? undefined,
    makeReport: (of, form) => reportAside(REPORT_FILE, { of, ...form, madeT: Date.now() }),
  });
  let ending = false;
  const end = async (): Promise<void> => {
    if (ending) return;
    ending = true;
    setTimeout(() => process.exit(0), END_LIMIT_MS).unref();
    await app.close();
    await db.close();
    process.exit(0);
  };
  process.on('SIGINT', () => void end());
  process.on('SIGTERM', () => void end());
  const url = await listen(app, options);
  if (tls === null && !options.behindProxy && !LOOPBACK.includes(options.host)) {
    process.stderr.write(
      'Tokens and visits cross the network as they are: give --cert and --key, or a proxy that ' +
        'speaks TLS and --behind-proxy.\n',
    );
  }
  process.stdout.write(`The archive (Plateau ${version}) is at ${url}\n`);
}

/** Makes a token and prints it: it stands nowhere else. */
export async function printToken({
  database,
  role,
  name,
  van,
}: ArchiveTokenOptions): Promise<void> {
  const db = await ArchiveDatabase.open(database);
  try {
    const made = await db.as(OPERATOR, (ask) => makeToken(ask, { role, name, van }, Date.now()));
    process.stdout.write(`${made.token}\n`);
    const whose = made.van === null ? '' : `, van ${made.van}`;
    process.stderr.write(`Token ${made.id} (${role}, "${name}"${whose}) is shown this once.\n`);
  } finally {
    await db.close();
  }
}
