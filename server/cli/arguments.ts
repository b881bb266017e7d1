/** Reading arguments: one sentence for what cannot be read. */
import { parseArgs, type ParseArgsConfig } from 'node:util';

/** A mistake on the command line: one line, exit status 2. */
export class UsageError extends Error {
  override readonly name = 'UsageError';
}

/** One of the words that are known; null where nothing was said. */
export function oneOf<T extends string>(
  name: string,
  text: string | undefined,
  known: readonly T[],
): T | null {
  if (text === undefined) return null;
  const found = known.find((each) => each === text);
  if (found !== undefined) return found;
  throw new UsageError(`--${name} is ${known.join(' or ')}, not "${text}"`);
}

/** The arguments after the command's name. @throws UsageError with a sentence */
export function parse<T extends NonNullable<ParseArgsConfig['options']>>(
  args: string[],
  options: T,
) {
  try {
    return parseArgs({ args, options, allowPositionals: true, strict: true });
  } catch (error) {
    const message = error instanceof Error ? error.message : String(error);
    const unclear = /^Option '(--?[\w-]+).*(argument missing|is ambiguous)/.exec(message)?.[1];
    if (unclear !== undefined) {
      throw new UsageError(
        `${unclear} needs a value; one that begins with - is given as ${unclear}=-…`,
      );
    }
    // Node's own words hold advice on `--`, in more lines, that is of no use here.
    throw new UsageError((message.split(/\.\s/)[0] ?? message).replace(/\.$/, ''));
  }
}

/** A number of an option. @throws UsageError with a sentence */
export function number(
  name: string,
  text: string | undefined,
  low: number,
  high: number,
  standard: number,
  whole: boolean,
): number {
  if (text === undefined) return standard;
  const value = text.trim() === '' ? NaN : Number(text);
  if (!(value >= low && value <= high) || (whole && !Number.isInteger(value))) {
    throw new UsageError(
      `--${name} is a ${whole ? 'whole ' : ''}number from ${low} to ${high}, not "${text}"`,
    );
  }
  return value;
}
