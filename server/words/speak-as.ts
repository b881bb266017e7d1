/** Chooses a language with its texts: for programs that load what they say afterwards. */
import { type Language, speak } from './language.ts';

/** Numbers and days, where nobody says how they are written: as most who read that language here do. */
const USUAL: Readonly<Record<Language, string>> = { en: 'en-US', es: 'es-419' };

/** @param locale how numbers and days are written, BCP 47 */
export async function speakAs(language: Language, locale = USUAL[language]): Promise<void> {
  if (language === 'en') {
    speak({ language, locale });
    return;
  }
  const { SENT, SPANISH } = await import('./spanish/index.ts');
  speak({ language, locale, catalog: SPANISH, sent: SENT });
}

/** Whether a text is the tag of a language and place, as BCP 47 writes it. */
export function isLocale(tag: string): boolean {
  try {
    return Intl.getCanonicalLocales(tag).length === 1;
  } catch {
    return false;
  }
}
