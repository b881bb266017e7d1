/** That nothing can be written, in words: what is wrong, what becomes of the readings, what to do. */
import { t } from '../../server/words/language.ts';

export const SERVER_SAYS = t`What the server says`;
export const RECORDING_AGAIN = t`Recording again.`;

export interface NotRecordedWords {
  wrong: string;
  meanwhile: string;
  remedy: string;
}

/** What is wrong, by what the system says of it, and what mends it. */
const CAUSES: [says: RegExp, wrong: string, remedy: string][] = [
  [
    /full|no space|ENOSPC|EDQUOT/i,
    t`the disk is full`,
    t`Free some space on this computer’s disk.`,
  ],
  [
    /is gone|no such file|ENOENT|EEXIST|ENOTDIR|unable to open/i,
    t`its folder is gone or cannot be opened`,
    t`Put the folder back, or plug its drive in again.`,
  ],
  [
    /read-?only|permission|denied|EACCES|EPERM|EROFS/i,
    t`its folder is read-only`,
    t`Allow this program to write there: check the folder’s permissions.`,
  ],
  [
    /I\/O error|EIO|malformed|not a database|corrupt/i,
    t`the disk reports a fault`,
    t`Check the drive. If the fault stays, start Plateau with another folder (--data).`,
  ],
];

const OTHERWISE: [string, string] = [
  t`the server cannot write to its folder`,
  t`Check the folder. The server says below what is wrong.`,
];

/** @param trouble the server's own sentence */
export function notRecordedWords(trouble: string): NotRecordedWords {
  // What stands before the server's advice: that names space and folders, whatever is wrong.
  const [reason = trouble] = trouble.split(/\. (?:What comes is kept|No more fits)/);
  const isFull = trouble.includes('No more fits into memory');
  const cause = CAUSES.find(([says]) => says.test(reason));
  const [wrong, remedy] = cause === undefined ? OTHERWISE : [cause[1], cause[2]];
  return {
    wrong: t`Not recording: ${wrong}.`,
    meanwhile: isFull
      ? t`Memory is full too: Plateau refuses new readings, they are lost, and the figures stop. What is in memory is lost if Plateau or this computer stops.`
      : t`The figures go on. New readings stay in memory for about an hour and are lost if Plateau or this computer stops.`,
    remedy: t`${remedy} Then Plateau writes all of it.`,
  };
}
