/** What is wrong with a file that describes a probe, in words: the field, the given, the accepted. */
import type * as z from 'zod';

/**
 * Words the first thing that is wrong, as a sentence that begins with the field. Places in a list are
 * counted from 0: `characteristics.0.fields.1.unit`.
 * @param json what was given
 */
export function explain(json: unknown, error: z.ZodError): string {
  const issue = error.issues[0];
  if (issue === undefined) return 'The description is not understood.';
  const path = issue.path.map(String);
  let given: unknown = json;
  for (const key of path) {
    given = typeof given === 'object' && given !== null ? Reflect.get(given, key) : undefined;
  }
  const field = path.length === 0 ? '' : `${path.join('.')}: `;
  return `${field}${wording(issue, given)}.`;
}

function wording(issue: z.core.$ZodIssue, value: unknown): string {
  const given = value === undefined ? 'it' : show(value);
  const refused = value === undefined ? 'is missing' : `${given} is not accepted`;
  switch (issue.code) {
    case 'unrecognized_keys':
      return `${issue.keys.map(show).join(', ')} ${issue.message}`;
    case 'invalid_type':
      return `${refused}: it is ${EXPECTED.get(issue.expected) ?? issue.expected}`;
    case 'invalid_value':
      return `${refused}: it is ${either(issue.values.map(show))}`;
    case 'too_small':
      return `${given} is too ${SIZES.get(issue.origin)?.[0] ?? 'small'}: at least ${amount(issue.origin, issue.minimum)} accepted`;
    case 'too_big':
      return `${given} is too ${SIZES.get(issue.origin)?.[1] ?? 'large'}: at most ${amount(issue.origin, issue.maximum)} accepted`;
    default:
      return `${given} ${issue.message}`;
  }
}

/** The kinds of value, as they are called in the file. */
const EXPECTED: ReadonlyMap<string, string> = new Map([
  ['int', 'a whole number'],
  ['number', 'a number'],
  ['string', 'a text'],
  ['array', 'a list'],
  ['object', 'an object'],
]);

/** What is said of the size of a text and of a list: too little, too much, one of them, several. */
const SIZES: ReadonlyMap<string, readonly [string, string, string, string]> = new Map([
  ['string', ['short', 'long', 'character', 'characters']],
  ['array', ['short', 'long', 'entry', 'entries']],
]);

function amount(origin: string, count: number | bigint): string {
  const [, , one, several] = SIZES.get(origin) ?? [];
  if (one === undefined || several === undefined) return `${count} is`;
  return count === 1 ? `1 ${one} is` : `${count} ${several} are`;
}

/** "a", "b" or "c". */
export function either(words: readonly string[]): string {
  return words.length < 2
    ? words.join('')
    : `${words.slice(0, -1).join(', ')} or ${words.at(-1) ?? ''}`;
}

/** A value as it is quoted: short, and on one line. */
function show(value: unknown): string {
  const json = JSON.stringify(value) ?? String(value);
  return json.length > 60 ? `${json.slice(0, 57)}…` : json;
}
