import { describe, expect, it } from 'vitest';
import { notRecordedWords } from '../../client/words/not-recorded.ts';

const said = (reason: string): string =>
  `The visit is not being recorded: ${reason}. What comes is kept in memory. Free some space, ` +
  'see to the folder /home/tech/data, or choose another with --data.';

describe('that nothing can be written', () => {
  // The reasons are the texts of SQLite's result codes (sqlite.org/rescode.html) and of errno(3).
  it.each([
    ['database or disk is full', 'the disk is full'],
    ["ENOSPC: no space left on device, mkdir '/home/tech/data'", 'the disk is full'],
    ['/home/tech/data/plateau.db is gone', 'folder is gone'],
    ['unable to open database file', 'folder is gone or cannot be opened'],
    ['attempt to write a readonly database', 'is read-only'],
    ["EACCES: permission denied, mkdir '/home/tech/data'", 'is read-only'],
    ['disk I/O error', 'disk reports a fault'],
  ])('%s', (reason, words) => {
    expect(notRecordedWords(said(reason)).wrong).toContain(words);
  });

  it('says of what it does not know where the server’s words stand', () => {
    const { wrong, remedy } = notRecordedWords(said('something odd'));
    expect(wrong).toBe('Not recording: the server cannot write to its folder.');
    expect(remedy).toContain('below');
  });

  it('says what becomes of the readings', () => {
    expect(notRecordedWords(said('disk I/O error')).meanwhile).toContain('are lost if');
    // As the server says it when no more fits: tests/store/visit-record.test.ts.
    const full = said('disk I/O error').replace(
      'What comes is kept in memory',
      'No more fits into memory: readings are refused',
    );
    expect(notRecordedWords(full).meanwhile).toContain('the figures stop');
    expect(notRecordedWords(full).wrong).toContain('disk reports a fault');
  });
});
