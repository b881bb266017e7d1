/** Where the probes hang, and hanging one there. */
import type { Place } from './probes.ts';
import { t } from '../../server/words/language.ts';

export const PLACING = {
  title: t`Where the probes hang`,
  where: (probe: string): string => t`Where does ${probe} hang?`,
  which: (spot: string): string => t`Which probes hang here: ${spot}?`,
  choose: t`Choose a probe and its place, in either order.`,
  ofNewUnit: (place: Place): string => t`${place} of a new unit`,
  takeAway: t`Take away`,
  done: t`Done`,
  cancel: t`Cancel`,
  places: t`Places`,
  new: t`, new`,
  anotherUnit: t`Another indoor unit`,
  noProbe: t`no probe`,
  takenAway: (probe: string): string => t`${probe} hangs nowhere now.`,
  placed: (probe: string, where: string): string => t`${probe} is placed: ${where}.`,
};

export const PLACE_NAMES: Record<Place, string> = {
  return: t`Return`,
  outlet: t`Outlet`,
  supply: t`Supply`,
  room: t`Room`,
  outdoor: t`Outdoors`,
};
