/** More words nobody searches by. */
const MOST_WORDS = 8;

/** Of what was typed to search by: a pattern of LIKE for each word, to be laid on small letters. */
export const wordPatterns = (typed: string): string[] =>
  typed
    .toLowerCase()
    .split(/\s+/)
    .filter(Boolean)
    .slice(0, MOST_WORDS)
    .map((word) => `%${word.replace(/[\\%_]/g, '\\$&')}%`);
