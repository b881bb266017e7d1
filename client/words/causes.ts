/** What stands around likely causes; what each is comes from the server, the same as in the report. */
import { t } from '../../server/words/language.ts';
export const CAUSE_WORDS = {
  title: t`What to look at`,
  nothing: t`Nothing stands out: a healthy unit would show figures like these.`,
  never: t`In the order of what fits the figures. Likely, never certain: look before you act.`,
  evidence: t`Evidence`,
  for: t`For it`,
  against: t`Against it`,
  none: t`Nothing.`,
  source: (source: string): string => t`How it shows: ${source}.`,
  filter: t`The filter`,
  filters: [
    { value: null, words: t`not looked at` },
    { value: 'clean', words: t`clean` },
    { value: 'loaded', words: t`loaded` },
  ] as const,
};
