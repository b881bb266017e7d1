/** What `--lan` prints: where phones find this computer, and at a terminal a first code. */
import { renderUnicodeCompact } from 'uqr';
import type { AccessBook } from '../http/access/book.ts';

/** What a reader needs around a code, modules (ISO/IEC 18004). */
const QUIET = 4;

/** @param urls addresses of this computer, the one that most can use first */
export function sayHowToCome(urls: readonly string[], book: AccessBook): void {
  const [first] = urls;
  const text = [`Phones find it at ${urls.join(', ')}`];
  if (first !== undefined) text.push(renderUnicodeCompact(first, { border: QUIET }));
  // A code stands where a person looks, and in no log.
  if (process.stdout.isTTY) {
    const { code } = book.newCode('operator');
    text.push(
      `Operator code, for one phone within ten minutes: ${code.slice(0, 4)} ${code.slice(4)}`,
    );
  } else {
    text.push('The page at this computer makes the codes that let them in: Record, Phones.');
  }
  process.stdout.write(`${text.join('\n')}\n`);
}
