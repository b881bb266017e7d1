/** Finding a probe by warming it in the hand. */

/** "Reading room supply and Spare" */
const both = (names: readonly string[]): string =>
  `${names.slice(0, -1).join(', ')} and ${names.at(-1) ?? ''}`;

export const FIND = {
  is: (probe: string): string => `It is ${probe}.`,
  isHow: 'Only this one got warmer. Let go, and it must cool down again.',
  lost: 'Connection lost.',
  lostHow: 'The readings come back with the connection.',
  none: 'No probe sends a temperature.',
  noneHow: 'Turn the probes on and bring them closer.',
  several: (probes: readonly string[]): string => `${both(probes)} rise at once.`,
  severalHow: 'Put down all but one and wait until they are cool.',
  over: 'No single probe got warmer.',
  overHow:
    'A probe as warm as your hand does not show. Cool it first, away from warm air. Then look again.',
  hold: 'Hold one in your warm hand now.',
  holdHow: 'Close your hand around its tip, out of the airstream. Leave the others alone.',
  again: 'Look again',
  left: 's left',
  back: 'Back to all probes',
  warm: 'Warm one that is simulated',
  now: (where: string): string => `Now: ${where}.`,
  name: 'Name',
  nameCalled: 'The name',
  act: 'Name it',
  named: 'Named.',
  another: 'Look for another',
};
