/** That nothing can be written, in words: what is wrong, what becomes of the readings, what to do. */

export const SERVER_SAYS = 'What the server says';
export const RECORDING_AGAIN = 'Recording again.';

export interface NotRecordedWords {
  wrong: string;
  meanwhile: string;
  remedy: string;
}

/** What is wrong, by what the system says of it, and what mends it. */
const CAUSES: [says: RegExp, wrong: string, remedy: string][] = [
  [/full|no space|ENOSPC|EDQUOT/i, 'the disk is full', 'Free some space on this computer’s disk.'],
  [
    /is gone|no such file|ENOENT|EEXIST|ENOTDIR|unable to open/i,
    'its folder is gone or cannot be opened',
    'Put the folder back, or plug its drive in again.',
  ],
  [
    /read-?only|permission|denied|EACCES|EPERM|EROFS/i,
    'its folder is read-only',
    'Allow this program to write there: check the folder’s permissions.',
  ],
  [
    /I\/O error|EIO|malformed|not a database|corrupt/i,
    'the disk reports a fault',
    'Check the drive. If the fault stays, start Plateau with another folder (--data).',
  ],
];

const OTHERWISE: [string, string] = [
  'the server cannot write to its folder',
  'Check the folder. The server says below what is wrong.',
];

/** @param trouble the server's own sentence */
export function notRecordedWords(trouble: string): NotRecordedWords {
  // What stands before the server's advice: that names space and folders, whatever is wrong.
  const [reason = trouble] = trouble.split(/\. (?:What comes is kept|No more fits)/);
  const isFull = trouble.includes('No more fits into memory');
  const cause = CAUSES.find(([says]) => says.test(reason));
  const [wrong, remedy] = cause === undefined ? OTHERWISE : [cause[1], cause[2]];
  return {
    wrong: `Not recording: ${wrong}.`,
    meanwhile: isFull
      ? 'Memory is full too: Plateau refuses new readings, they are lost, and the figures stop. What is ' +
        'in memory is lost if Plateau or this computer stops.'
      : 'The figures go on. New readings stay in memory for about an hour and are lost if Plateau or ' +
        'this computer stops.',
    remedy: `${remedy} Then Plateau writes all of it.`,
  };
}
