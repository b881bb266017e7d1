/** Where the probes hang, and hanging one there. */
import type { Place } from './probes.ts';

export const PLACING = {
  title: 'Where the probes hang',
  where: (probe: string): string => `Where does ${probe} hang?`,
  which: (spot: string): string => `Which probes hang here: ${spot}?`,
  choose: 'Choose a probe and its place, in either order.',
  ofNewUnit: (place: Place): string => `${place} of a new unit`,
  takeAway: 'Take away',
  done: 'Done',
  cancel: 'Cancel',
  places: 'Places',
  new: ', new',
  anotherUnit: 'Another indoor unit',
  noProbe: 'no probe',
  takenAway: (probe: string): string => `${probe} hangs nowhere now.`,
  placed: (probe: string, where: string): string => `${probe} is placed: ${where}.`,
};

export const PLACE_NAMES: Record<Place, string> = {
  return: 'Return',
  outlet: 'Outlet',
  supply: 'Supply',
  room: 'Room',
  outdoor: 'Outdoors',
};
