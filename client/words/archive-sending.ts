/** What the record says of visits that go to the company's archive. */
import type { Sending } from '../../server/protocol/archive.ts';
import { t, translated } from '../../server/words/language.ts';
import { written } from './figures.ts';
import { clockMinutes } from './times.ts';

/** How the sending stands, in a sentence; null: there is no archive. */
export function sendingWords(sending: Sending): string | null {
  const { archive, waiting, visit, sentBytes, bytes, confirmedT, trouble } = sending;
  if (archive === null) return null;
  if (trouble !== null) return translated(trouble);
  if (visit !== null) {
    const part = bytes === 0 ? 0 : Math.min(1, sentBytes / bytes);
    return t`A visit is on its way to the archive: ${written(100 * part, 1)}\u202f%.`;
  }
  if (waiting > 0) {
    return waiting === 1
      ? t`1 visit waits for the archive.`
      : t`${waiting} visits wait for the archive.`;
  }
  return confirmedT === null
    ? t`All finished visits are in the archive.`
    : t`All finished visits are in the archive (${clockMinutes(confirmedT)}).`;
}
