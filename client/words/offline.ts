/** What is said where the server, or a new version of the page, is concerned. */
import { t } from '../../server/words/language.ts';

export const NEW_VERSION = {
  label: t`New version`,
  text: t`A new version of Plateau is running. Load it when nothing is half entered.`,
  reload: t`Load it`,
};
