/** The live figure's first screen: what it is, why its ±, how to capture it, what is set on the unit. */
import { t } from '../../server/words/language.ts';

export const FIGURE_ROOM = {
  title: t`Delivered capacity`,
  total: t`Total capacity`,
  all: t`All`,
  allHeads: t`All heads`,
  why: (interval: string): string => t`Why ±\u00a0${interval}?`,
  noData: t`No data yet.`,
  last: (figure: string, clock: string): string => t`Last: ${figure} at ${clock}.`,
  /** @param mean over how long, and how far behind it is */
  isMean: (mean: string): string => t`The figure is the ${mean}.`,
  strictTest: t`Strict test`,
  capture: t`Capture`,
};

export const CONTROLS = {
  title: t`What you set on the unit`,
  setpoint: t`Setpoint`,
  down: t`Setpoint down`,
  up: t`Setpoint up`,
  fan: t`Fan`,
  /** Where nobody has entered the unit's own. */
  usualSpeeds: ['low', 'medium', 'high', 'auto'],
};
