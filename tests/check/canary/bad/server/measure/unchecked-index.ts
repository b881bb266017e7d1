/** Error: under `noUncheckedIndexedAccess` the first of a list may not be there. */
export const first = (list: readonly number[]): number => list[0];
