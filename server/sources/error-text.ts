/** Whatever foreign code throws, as a short text for a person. */
import { sent } from '../words/sent.ts';

const LONGEST = 300;

/** One line, cut to `LONGEST` characters, ending in a full stop. */
export function asSentence(text: string): string {
  const line = text.replace(/\s+/g, ' ').trim();
  const cut = line.length > LONGEST ? `${line.slice(0, LONGEST - 1)}…` : line;
  return /[.!?…]$/.test(cut) ? cut : `${cut}.`;
}

/** The message of anything that can be thrown, as a sentence. Never throws itself. */
export function errorText(error: unknown): string {
  try {
    if (error instanceof Error) return asSentence(error.message || error.name);
    if (typeof error === 'object' && error !== null && 'message' in error) {
      return asSentence(String(error.message));
    }
    return asSentence(String(error));
  } catch {
    // An object without a prototype, or with a hostile getter.
    return sent`The error cannot be put into words.`;
  }
}
