/** The first screen, while no unit is known. */

export const EMPTY = {
  replayEnded: 'No figure in this replay.',
  replayBegins: 'The replay has just begun.',
  replayHow:
    'A figure appears once the replay brings readings of a probe that is placed at a unit.',
  turnOn: 'Turn on your probes.',
  turnOnHow: 'Each one appears here on its own. No pairing needed.',
  /** Around the command, and around the link. */
  noProbe: 'No probe at hand?',
  demo: 'npm run demo',
  demoDoes: 'runs the page with simulated ones. Programs send readings with',
  calls: 'these calls',
  which: (place: string): string => `Which one hangs in the ${place}?`,
  recorded: 'This visit is being recorded. For a quick look that leaves nothing behind:',
  doNotRecord: 'Do not record',
  quickLook: 'This is a quick look: nothing of it is left unless you keep it.',
  more: 'Other places, several units, find a probe by warming it',
};
