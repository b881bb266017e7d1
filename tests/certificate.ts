/** A certificate for this computer, made as the README says. */
import { execSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { ROOT } from './program.ts';

export interface CertificateFiles {
  cert: string;
  key: string;
  /** Of the authority that stands for it. */
  authority: string;
}

/** @param folder where its files are put @throws Error where the README has not the two commands */
export function makeCertificate(folder: string): CertificateFiles {
  const readme = readFileSync(join(ROOT, 'README.md'), 'utf8');
  const commands = readme.match(/^openssl .*$/gm) ?? [];
  if (commands.length !== 2) throw new Error('README.md: its two commands are not there');
  for (const command of commands) {
    const here = command.replace(/IP:[\d.]+,DNS:[\w.]+/, 'IP:127.0.0.1,DNS:localhost');
    execSync(here, { cwd: folder, stdio: 'ignore' });
  }
  const [cert, key, authority] = ['plateau.pem', 'plateau.key', 'authority.pem'].map((name) =>
    join(folder, name),
  );
  return { cert: cert ?? '', key: key ?? '', authority: authority ?? '' };
}
