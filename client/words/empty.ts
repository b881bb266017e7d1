/** The first screen, while no unit is known. */
import { t } from '../../server/words/language.ts';

export const EMPTY = {
  replayEnded: t`No figure in this replay.`,
  replayBegins: t`The replay has just begun.`,
  replayHow: t`A figure appears once the replay brings readings of a probe that is placed at a unit.`,
  turnOn: t`Turn on your probes.`,
  turnOnHow: t`Each one appears here on its own. No pairing needed.`,
  /** Around the command, and around the link. */
  noProbe: t`No probe at hand?`,
  demo: 'npm run demo',
  demoDoes: t`runs the page with simulated ones. Programs send readings with`,
  calls: t`these calls`,
  which: (place: string): string => t`Which one hangs in the ${place}?`,
  recorded: t`This visit is being recorded. For a quick look that leaves nothing behind:`,
  doNotRecord: t`Do not record`,
  quickLook: t`This is a quick look: nothing of it is left unless you keep it.`,
  more: t`Other places, several units, find a probe by warming it`,
};
