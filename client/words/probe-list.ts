/** The list of all probes: what is done with one, its key, forgetting it. */

export const PROBE_LIST = {
  title: 'Probes',
  none: 'No probe yet.',
  noneHow:
    'Turn a probe on and bring it closer: it appears here on its own. If it does not, look at its ' +
    'source below.',
  find: 'Find one: warm it in your hand',
  simulated: 'simulated',
  battery: (percent: string): string => `battery ${percent}`,
  from: (source: string): string => `from ${source}`,
  /** What a button of one probe does, for a screen reader. */
  of: (act: string, probe: string): string => `${act}: ${probe}`,
  hangsThere: 'It hangs there',
  hangHere: 'Hang here',
  place: 'Place',
  move: 'Move',
  edit: 'Name, limits',
  forget: 'Forget',
};

export const KEY = {
  of: (probe: string): string => `Key of ${probe}`,
  label: (digits: number): string => `Key, ${digits} digits of 0–9 and a–f`,
  called: 'The key',
  save: 'Save key',
  remove: 'Remove key',
  saved: 'Key saved. The next reading shows whether it fits.',
  removed: 'Key removed.',
};

export const FORGET = {
  title: (probe: string): string => `Forget ${probe}?`,
  act: 'Forget it',
  /** @param where it hangs; null: nowhere */
  lost: (where: string | null): string =>
    'You lose its name, its data-sheet accuracy, its side-by-side corrections' +
    `${where === null ? '' : `, and its place (${where})`}.`,
  settling: 'Settling starts over without it, and there may be no figure.',
  kept: 'You keep its readings in the record, and all captures.',
  isOn: 'It is on: its next reading brings it back, unplaced. To get rid of it, turn it off first.',
  isOff: 'When it turns up again, it comes back unplaced.',
};
