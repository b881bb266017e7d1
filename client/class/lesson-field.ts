/** Where in the text of a lesson a field stands that a refusal names. Pure. */

/** The path that a refusal begins with: "faults.0.size: 1.5 is outside …". */
const PATH = /^([A-Za-z][\w.]*): /;

/**
 * Finds the field in the text.
 * @param text JSON, as it was written
 * @returns from where to where, or null where the refusal names none, or one that is not there
 */
export function fieldIn(text: string, refusal: string): { from: number; to: number } | null {
  const path = PATH.exec(refusal)?.[1]?.split('.') ?? [];
  let found: { from: number; to: number } | null = null;
  let at = 0;
  for (const step of path) {
    // A number counts the objects, or the plain values, of a list.
    const from = /^\d+$/.test(step) ? nth(text, Number(step), at) : text.indexOf(`"${step}"`, at);
    if (from < 0) return found; // what holds it, at least
    const isKey = !/^\d+$/.test(step);
    if (isKey) found = { from, to: from + step.length + 2 };
    at = from + (isKey ? step.length + 2 : 0);
  }
  return found;
}

/** Where the entry of that number begins in the list after a place; -1: nowhere. */
function nth(text: string, number: number, after: number): number {
  let at = text.indexOf('[', after);
  if (at < 0) return -1;
  for (let depth = 0, left = number; at < text.length; at++) {
    const letter = text[at];
    if (depth === 1 && left === 0) return at;
    if (letter === '[' || letter === '{') depth++;
    if (letter === ']' || letter === '}') depth--;
    if (letter === ',' && depth === 1) left--;
    if (depth === 0) return -1;
  }
  return -1;
}
