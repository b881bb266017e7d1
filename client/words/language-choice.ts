/** The languages of the page, each called as those call it who speak it. */
import { t } from '../../server/words/language.ts';

export const LANGUAGE_CHOICE = {
  title: t`Language`,
  options: [
    ['en', 'English'],
    ['es', 'Español'],
  ],
  how: t`For this screen and its reports. The page loads anew: save what you have entered first.`,
} as const;
