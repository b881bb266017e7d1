/** Finding a probe by warming it in the hand. */
import { allOf } from '../../server/words/names.ts';
import { t } from '../../server/words/language.ts';

export const FIND = {
  is: (probe: string): string => t`It is ${probe}.`,
  isHow: t`Only this one got warmer. Let go, and it must cool down again.`,
  lost: t`Connection lost.`,
  lostHow: t`The readings come back with the connection.`,
  none: t`No probe sends a temperature.`,
  noneHow: t`Turn the probes on and bring them closer.`,
  several: (probes: readonly string[]): string => t`${allOf(probes)} rise at once.`,
  severalHow: t`Put down all but one and wait until they are cool.`,
  over: t`No single probe got warmer.`,
  overHow: t`A probe as warm as your hand does not show. Cool it first, away from warm air. Then look again.`,
  hold: t`Hold one in your warm hand now.`,
  holdHow: t`Close your hand around its tip, out of the airstream. Leave the others alone.`,
  again: t`Look again`,
  left: t`s left`,
  back: t`Back to all probes`,
  warm: t`Warm one that is simulated`,
  now: (where: string): string => t`Now: ${where}.`,
  name: t`Name`,
  nameCalled: t`The name`,
  act: t`Name it`,
  named: t`Named.`,
  another: t`Look for another`,
};
