/**
 * How near is near, for a capacity of so many watts: a part of it, and never tighter than some watts;
 * and how far it is looked ahead.
 */

/** Steady is within this of the plateau. */
export const within = (watts: number): number => Math.max(60, 0.03 * Math.abs(watts));
/** From lowest to highest, a figure that lies still moves by no more. */
export const band = (watts: number): number => Math.max(70, 0.04 * Math.abs(watts));
/** So far from where it was, it has moved. */
export const moved = (watts: number): number => Math.max(40, 0.025 * Math.abs(watts));
/** The mean of the next minutes agrees with that so far when it differs by less. */
export const tolerance = (watts: number): number => Math.max(40, 0.02 * Math.abs(watts));
/** Those minutes are ten, s; and that so far is of no more. */
export const AHEAD_S = 600;
