/** Where a traverse point by point holds the probe, and what each point counts. */

export type Rule = 'equal-area' | 'log-tchebycheff';

/**
 * Distances of the points from one wall, as parts of the width, by the log-Tchebycheff rule (ISO 3966;
 * ASHRAE 111): all of one weight.
 */
const LOG_TCHEBYCHEFF: Readonly<Record<number, readonly number[]>> = {
  5: [0.074, 0.288, 0.5, 0.712, 0.926],
  6: [0.061, 0.235, 0.437, 0.563, 0.765, 0.939],
  7: [0.053, 0.203, 0.366, 0.5, 0.634, 0.797, 0.947],
};

/** For how many points on a line a rule has positions. */
export const LOG_TCHEBYCHEFF_N = [5, 6, 7] as const;

/**
 * Distances from one wall, as parts of the width; each point counts alike.
 * @throws RangeError where the rule has no such number of points
 */
export function positions(rule: Rule, n: number): readonly number[] {
  if (!Number.isInteger(n) || n < 1) throw new RangeError(`A line has 1 point or more, not ${n}.`);
  if (rule === 'equal-area') return Array.from({ length: n }, (_, i) => (i + 0.5) / n);
  const found = LOG_TCHEBYCHEFF[n];
  if (found === undefined) {
    throw new RangeError(`Log-Tchebycheff has 5, 6 or 7 points on a line, not ${n}.`);
  }
  return found;
}

/** Points are at most this far apart, m (ASHRAE Handbook tradition, 6 in., from memory). */
const APART_M = 0.15;
/** A line of more points is not walked by anybody. */
const MOST = 16;

/**
 * How many points on a side of that length.
 * - equal area: one for each 150 mm, at least 1; at least 3 along the long side of a slot.
 * - log-Tchebycheff: 5 below 760 mm, 6 to 915 mm, 7 above (the rectangle's rule of ASHRAE 111).
 */
export function pointsOn(rule: Rule, lengthM: number, isLong: boolean): number {
  if (rule === 'equal-area') {
    return Math.min(MOST, Math.max(isLong ? 3 : 1, Math.ceil(lengthM / APART_M - 1e-9)));
  }
  return lengthM < 0.76 ? 5 : lengthM <= 0.915 ? 6 : 7;
}

/** One point of a section: its row is across the width, its column along the length. */
export interface GridPoint {
  section: number;
  row: number;
  column: number;
  /** From the section's corner, m. */
  acrossM: number;
  alongM: number;
}

/** All points of an opening, section by section, row by row, there and back as a hand would go. */
export function gridPoints(
  rule: Rule,
  sections: readonly { widthM: number; lengthM: number }[],
): GridPoint[] {
  return sections.flatMap(({ widthM, lengthM }, section) => {
    const across = positions(rule, pointsOn(rule, widthM, widthM > lengthM));
    const along = positions(rule, pointsOn(rule, lengthM, lengthM >= widthM));
    return across.flatMap((y, row) => {
      const line = along.map((x, column) => ({
        section,
        row,
        column,
        acrossM: y * widthM,
        alongM: x * lengthM,
      }));
      return row % 2 === 0 ? line : line.reverse();
    });
  });
}

/** Which point: its section, row and column, from 0. */
export type PointName = Pick<GridPoint, 'section' | 'row' | 'column'>;

export const isSamePoint = (a: PointName, b: PointName): boolean =>
  a.section === b.section && a.row === b.row && a.column === b.column;

/** The next point that has not been held at; null: all have. */
export function nextPoint(
  rule: Rule,
  sections: readonly { widthM: number; lengthM: number }[],
  held: readonly PointName[],
): GridPoint | null {
  return gridPoints(rule, sections).find((p) => !held.some((each) => isSamePoint(each, p))) ?? null;
}
