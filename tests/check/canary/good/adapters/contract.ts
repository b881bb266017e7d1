/** A small house that keeps every rule: one file a room, each importing what it may. */
export interface Reading {
  t: number;
  temperatureC: number;
}
