/** Why a file or a folder cannot be used, in words. */

const SENTENCES: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file',
  ENOTDIR: 'there is no such file: a part of its path is no folder',
  EISDIR: 'is a folder; a file is needed here',
  EACCES: 'may not be read: check its permissions',
  EPERM: 'may not be read: check its permissions',
  ENAMETOOLONG: 'has a name too long for this system',
  ELOOP: 'is a link that leads back to itself',
  EMFILE: 'cannot be opened: this system has too many files open',
  ENFILE: 'cannot be opened: this system has too many files open',
  EIO: 'cannot be read: the drive reports a fault',
  ENXIO: 'cannot be read: nothing answers there',
  ENODEV: 'cannot be read: nothing answers there',
  ESTALE: 'cannot be read: its network drive has gone away',
};

/** @returns a sentence without its subject, the file; what is not known is said in the system's words */
export function fileTrouble(error: unknown): string {
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  return SENTENCES[code] ?? (error instanceof Error ? error.message : String(error));
}
