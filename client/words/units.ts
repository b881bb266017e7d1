/** New indoor units. */

/** What a unit is called until somebody names it. */
export const NEW_UNIT_NAME = 'Indoor unit';

/** An id that no unit has yet. */
export function freeUnitId(ids: readonly string[]): string {
  let n = ids.length + 1;
  while (ids.includes(`u${n}`)) n++;
  return `u${n}`;
}
