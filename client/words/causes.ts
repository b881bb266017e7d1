/** What stands around likely causes; what each is comes from the server, the same as in the report. */
export const CAUSE_WORDS = {
  title: 'What to look at',
  nothing: 'Nothing stands out: a healthy unit would show figures like these.',
  never: 'In the order of what fits the figures. Likely, never certain: look before you act.',
  evidence: 'Evidence',
  for: 'For it',
  against: 'Against it',
  none: 'Nothing.',
  source: (source: string): string => `How it shows: ${source}.`,
  filter: 'The filter',
  filters: [
    { value: null, words: 'not looked at' },
    { value: 'clean', words: 'clean' },
    { value: 'loaded', words: 'loaded' },
  ] as const,
};
