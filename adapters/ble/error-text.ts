/** What an error says, whatever was thrown. */
export function errorText(error: unknown): string {
  const code = error instanceof Error && 'code' in error ? error.code : undefined;
  if (code === 'ENOENT' || code === 'ENOTDIR') return 'there is no such file';
  if (code === 'EISDIR') return 'it is a folder';
  if (code === 'EACCES' || code === 'EPERM') return 'its permissions do not allow it';
  return error instanceof Error ? error.message : String(error);
}
