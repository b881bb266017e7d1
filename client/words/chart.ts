/** The chart: what it shows, how much of the past, its events, the last minutes as a table. */

export const CHART = {
  capacity: (unit: string): string => `Capacity of ${unit} over time`,
  air: (unit: string): string => `Air of ${unit} over time`,
  allHeads: 'Capacity of all heads over time',
  heads: 'Heads',
  together: 'All together',
  at: (clock: string): string => `at ${clock}`,
  shaded: 'Shaded: 95\u202f% interval of the total.',
  mouse: 'Drag to look back, Ctrl and wheel to look closer.',
};

/** How much of the past is shown. */
export const TIME_SHOWN = {
  title: 'Time shown',
  all: 'All',
  halfHour: '30 min',
  tenMinutes: '10 min',
  howClose: 'How close',
  more: 'Show more time',
  closer: 'Look closer',
  whole: 'Whole visit',
  live: 'Back to live',
  span: (from: string, to: string): string => `${from} to ${to}`,
  keys: 'Left and right move it, up and down stretch it, Escape shows all of it.',
};

/** The figures under the pointer. */
export const READOUT = {
  total: (value: string, interval: string | null): string =>
    `total ${value}${interval === null ? '' : ` ± ${interval}`}`,
  sensible: (figure: string): string => `sensible ${figure}`,
  latent: (figure: string): string => `latent ${figure}`,
  return: (figure: string): string => `return ${figure}`,
  supply: (figure: string): string => `supply ${figure}`,
};

export const MINUTES = {
  title: 'The last minutes as a table',
  table: 'The last minutes, table',
  time: 'Time',
  total: 'Total',
  sensible: 'Sensible',
  latent: 'Latent',
  return: 'Return',
  supply: 'Supply',
  none: 'No whole minute yet.',
};

export const EVENTS = {
  title: (events: number): string => `${events === 1 ? 'One event' : `${events} events`}, in words`,
  list: 'Events',
  flags: 'Events on the chart',
  flagKeys: 'Arrow keys change its time by 5 s, with Shift by a minute. Enter names it.',
  moved: (clock: string): string => `Moved to ${clock}`,
  one: (words: string, clock: string): string => `${words}, ${clock}`,
  rename: 'Rename',
  renameOne: (event: string): string => `Rename ${event}`,
  changeTime: 'Change time',
  changeTimeOf: (event: string): string => `Change time: ${event}`,
  none: 'No events yet.',
};

export const EVENT_FORM = {
  name: 'Name',
  time: 'Time',
  timeCalled: 'The time',
  unreadable: 'The time cannot be read. Enter hours, minutes and seconds.',
  when: 'Settling starts over at each change: enter when you made it.',
  fixed: (clock: string): string => `At ${clock}. This time is fixed.`,
};
