/** What every form says. */
import { t } from '../../server/words/language.ts';

export const SAVE = t`Save`;
export const CANCEL = t`Cancel`;
export const CLOSE = t`Close`;
