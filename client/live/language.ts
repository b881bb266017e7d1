/** The language of the page: what this person chose, else what their browser asks for. */
import * as z from 'zod/mini';
import { type Language, LANGUAGES } from '../../server/words/language.ts';
import { remember, remembered } from './remembered.ts';

const KEY = 'plateau.language';

export const chosenLanguage = (): Language | null =>
  remembered(KEY, z.nullable(z.enum(LANGUAGES)), null);

/** Holds from the next load on: sentences are put together as the page starts. */
export function chooseLanguage(language: Language): void {
  remember(KEY, language);
  location.reload();
}
