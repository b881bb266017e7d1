/** Indoor units: how they are chosen, and new ones. */
import { t } from '../../server/words/language.ts';

export const INDOOR_UNIT = t`Indoor unit`;

/** What a unit is called until somebody names it. */
export const NEW_UNIT_NAME = INDOOR_UNIT;

/** The same, told from those that are called so already. */
export function freeUnitName(names: readonly string[]): string {
  if (!names.includes(NEW_UNIT_NAME)) return NEW_UNIT_NAME;
  let n = 2;
  while (names.includes(`${NEW_UNIT_NAME} ${n}`)) n++;
  return `${NEW_UNIT_NAME} ${n}`;
}

/** An id that no unit has yet. */
export function freeUnitId(ids: readonly string[]): string {
  let n = ids.length + 1;
  while (ids.includes(`u${n}`)) n++;
  return `u${n}`;
}
