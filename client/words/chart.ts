/** The chart: what it shows, how much of the past, its events, the last minutes as a table. */
import { counted, t } from '../../server/words/language.ts';
import { codeWord } from '../../server/words/names.ts';

export const CHART = {
  capacity: (unit: string): string => t`Capacity of ${unit} over time`,
  air: (unit: string): string => t`Air of ${unit} over time`,
  allHeads: t`Capacity of all heads over time`,
  heads: t`Heads`,
  together: t`All together`,
  at: (clock: string): string => t`at ${clock}`,
  shaded: t`Shaded: 95\u202f% interval of the total.`,
  mouse: t`Drag to look back, Ctrl and wheel to look closer.`,
};

/** What the lines are called where they end. */
export const LINES = {
  total: t`total`,
  sensible: t`sensible`,
  latent: t`latent`,
  return: codeWord('return'),
  supply: codeWord('supply'),
};

/** The names of a span in the chart, the longest first: the first that fits is written. */
export const SPANS = {
  steady: [t`steady`],
  cycling: [t`whole cycles`, t`cycles`],
  uncounted: [t`defrost, not counted`, t`defrost`],
};

/** How much of the past is shown. */
export const TIME_SHOWN = {
  title: t`Time shown`,
  all: t`All of it`,
  halfHour: t`30 min`,
  tenMinutes: t`10 min`,
  howClose: t`How close`,
  more: t`Show more time`,
  closer: t`Look closer`,
  whole: t`Whole visit`,
  live: t`Back to live`,
  span: (from: string, to: string): string => t`${from} to ${to}`,
  keys: t`Left and right move it, up and down stretch it, Escape shows all of it.`,
};

/** The figures under the pointer. */
export const READOUT = {
  total: (value: string, interval: string | null): string =>
    t`total ${value}${interval === null ? '' : ` ± ${interval}`}`,
  sensible: (figure: string): string => t`sensible ${figure}`,
  latent: (figure: string): string => t`latent ${figure}`,
  return: (figure: string): string => t`return ${figure}`,
  supply: (figure: string): string => t`supply ${figure}`,
};

export const MINUTES = {
  title: t`The last minutes as a table`,
  table: t`The last minutes, table`,
  time: t`Time`,
  total: t`Total`,
  sensible: t`Sensible`,
  latent: t`Latent`,
  return: t`Return`,
  supply: t`Supply`,
  none: t`No whole minute yet.`,
};

export const EVENTS = {
  title: (events: number): string =>
    counted(events, t`One event, in words`, t`${events} events, in words`),
  list: t`Events`,
  flags: t`Events on the chart`,
  flagKeys: t`Arrow keys change its time by 5 s, with Shift by a minute. Enter names it.`,
  moved: (clock: string): string => t`Moved to ${clock}`,
  one: (words: string, clock: string): string => `${words}, ${clock}`,
  rename: t`Rename`,
  renameOne: (event: string): string => t`Rename ${event}`,
  changeTime: t`Change time`,
  changeTimeOf: (event: string): string => t`Change time: ${event}`,
  none: t`No events yet.`,
};

export const EVENT_FORM = {
  name: t`Name`,
  time: t`Time`,
  timeCalled: t`The time`,
  unreadable: t`The time cannot be read. Enter hours, minutes and seconds.`,
  when: t`Settling starts over at each change: enter when you made it.`,
  fixed: (clock: string): string => t`At ${clock}. This time is fixed.`,
};
