/** The language of the page: what this person chose, else what their browser asks for. */
import * as z from 'zod/mini';
import { type Language, LANGUAGES } from '../../server/words/language.ts';
import { remember, remembered } from './remembered.ts';

const KEY = 'plateau.language';

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

export const chosenLanguage = (): Language | null =>
  remembered(KEY, z.nullable(z.enum(LANGUAGES)), null);

/** Holds from the next load on: sentences are put together as the page starts. */
export function chooseLanguage(language: Language): void {
  remember(KEY, language);
  location.reload();
}
