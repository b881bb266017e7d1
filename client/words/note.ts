/** A note of what was done, and what else is an event on the chart. */

export const NOTE = {
  title: 'Note',
  hint: 'Note what was done',
  add: 'Note',
  simulated:
    'The simulated unit follows setpoint and fan. Each change and each note is an event on the chart.',
  setItToo:
    'Set the unit itself too: Plateau does not control it. Setpoint, fan and notes are events on the ' +
    'chart.',
};
