/** Codes of the protocol as words, and lists of names: what stands in the holes of many sentences. */
import { t } from './language.ts';

const WORDS: Readonly<Record<string, string>> = {
  ...{
    return: t`return`,
    supply: t`supply`,
    outlet: t`outlet`,
    room: t`room`,
    outdoor: t`outdoor`,
  },
  ...{ intake: t`intake`, cooling: t`cooling`, heating: t`heating` },
  ...{ temperature: t`temperature`, humidity: t`humidity` },
};
/** A place, a plane, or a mode in a word. */
export const codeWord = (code: string): string => WORDS[code] ?? code;

const SPEEDS: Readonly<Record<string, string>> = {
  ...{ quiet: t`quiet`, low: t`low`, medium: t`medium`, high: t`high`, auto: t`auto` },
};
/** A fan speed: the usual ones have a word in each language, others are called as the unit calls them. */
export const speedWord = (speed: string): string => SPEEDS[speed] ?? speed;

/** "A", "A and B", "A, B and C" */
export function allOf(names: readonly string[]): string {
  const last = names.at(-1) ?? '';
  return names.length < 2 ? last : t`${names.slice(0, -1).join(', ')} and ${last}`;
}
