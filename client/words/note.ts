/** A note of what was done, and what else is an event on the chart. */
import { t } from '../../server/words/language.ts';

export const NOTE = {
  title: t`Note`,
  hint: t`Note what was done`,
  add: t`Note`,
  simulated: t`The simulated unit follows setpoint and fan. Each change and each note is an event on the chart.`,
  setItToo: t`Set the unit itself too: Plateau does not control it. Setpoint, fan and notes are events on the chart.`,
};
