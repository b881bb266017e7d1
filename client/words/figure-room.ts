/** The live figure's first screen: what it is, why its ±, how to capture it, what is set on the unit. */

export const FIGURE_ROOM = {
  title: 'Delivered capacity',
  total: 'Total capacity',
  all: 'All',
  allHeads: 'All heads',
  why: (interval: string): string => `Why ±\u00a0${interval}?`,
  noData: 'No data yet.',
  last: (figure: string, clock: string): string => `Last: ${figure} at ${clock}.`,
  /** @param mean over how long, and how far behind it is */
  isMean: (mean: string): string => `The figure is the ${mean}.`,
  strictTest: 'Strict test',
  capture: 'Capture',
};

export const CONTROLS = {
  title: 'What you set on the unit',
  setpoint: 'Setpoint',
  down: 'Setpoint down',
  up: 'Setpoint up',
  fan: 'Fan',
  /** Where nobody has entered the unit's own. */
  usualSpeeds: ['low', 'medium', 'high', 'auto'],
};
