/** Which language and place a browser asks for. Pure. */
import { type Language, LANGUAGES } from '../../server/words/language.ts';

const languageOf = (tag: string): string => tag.split('-')[0]?.toLowerCase() ?? '';
const isOurs = (code: string): code is Language => LANGUAGES.some((each) => each === code);

/** @param tags the languages of a browser, the first one first: "es-MX", "en" */
export function languageFor(chosen: Language | null, tags: readonly string[]): Language {
  return chosen ?? tags.map(languageOf).find(isOurs) ?? 'en';
}

/**
 * How numbers and days are written: as the browser has it for that language, else as in the place that
 * its first language is of.
 */
export function localeFor(language: Language, tags: readonly string[]): string {
  const own = tags.find((tag) => languageOf(tag) === language);
  if (own !== undefined) return own;
  try {
    const { region } = new Intl.Locale(tags[0] ?? 'en-US').maximize();
    return region === undefined ? language : `${language}-${region}`;
  } catch {
    return language; // a browser that names no language
  }
}
