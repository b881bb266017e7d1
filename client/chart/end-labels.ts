/** Where the words on a plot stand, so that none lies on another and none leaves it. Pure. */

/** A line to be named at its right end. */
export interface EndLabel {
  /** Index among the plot's series. */
  series: number;
  text: string;
  /** The series with which it shares its name where both are the same, as sensible and total of a dry
   * coil are. */
  sameAs?: number;
}

/** A name and where its line ends, canvas pixels. */
export interface NamedEnd extends EndLabel {
  /** Last value of the line, SI. */
  value: number;
  x: number;
  y: number;
}

/** What is written: its lines of text, the first of them centred at `y`. */
export interface PlacedLabel {
  lines: string[];
  x: number;
  y: number;
}

/** A place for words, canvas pixels. */
export interface Box {
  left: number;
  right: number;
  top: number;
  bottom: number;
}

const touches = (a: Box, b: Box): boolean =>
  a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;

/** The first place that lies within the room and on nothing that is taken; null: there is none. */
export const firstFree = (places: readonly Box[], room: Box, taken: readonly Box[]): Box | null =>
  places.find(
    (place) =>
      place.left >= room.left &&
      place.right <= room.right &&
      place.top >= room.top &&
      place.bottom <= room.bottom &&
      !taken.some((other) => touches(place, other)),
  ) ?? null;

/** Values that differ by less than this share of the larger are the same on a screen. */
const SAME = 0.002;

const isSame = (a: NamedEnd, b: NamedEnd, height: number): boolean =>
  Math.abs(a.y - b.y) < height &&
  Math.abs(a.value - b.value) <= SAME * Math.max(Math.abs(a.value), Math.abs(b.value));

/**
 * From top to bottom, pushed apart where they would touch, and back into the room where they would leave it;
 * two that are the same as one, "total = sensible", at the end that reaches further. Where there is not
 * room for all, those named last give way.
 * @param ends the most important first
 * @param height of a line of text, canvas pixels
 * @param top of the room @param bottom likewise
 */
export function placedLabels(
  ends: readonly NamedEnd[],
  height: number,
  top = -Infinity,
  bottom = Infinity,
): PlacedLabel[] {
  const alone: (NamedEnd & { lines: string[] })[] = [];
  for (const end of ends) {
    const other = alone.find(({ series }) => series === end.sameAs);
    if (other === undefined || !isSame(other, end, height))
      alone.push({ ...end, lines: [end.text] });
    else {
      other.lines = [`${other.text} =`, end.text];
      // Its two lines stand beside the end, half above it.
      other.y -= height / 2;
      other.x = Math.max(other.x, end.x);
    }
  }
  const highOf = (labels: readonly { lines: string[] }[]): number =>
    labels.reduce((sum, { lines }) => sum + lines.length * height, 0);
  while (highOf(alone) > bottom - top) alone.pop();
  let floor = top + height / 2;
  const placed = alone
    .sort((a, b) => a.y - b.y)
    .map(({ lines, x, y }) => {
      const at = Math.max(y, floor);
      floor = at + lines.length * height;
      return { lines, x, y: at };
    });
  let ceiling = bottom + height / 2;
  for (const label of placed.toReversed()) {
    label.y = Math.min(label.y, ceiling - label.lines.length * height);
    ceiling = label.y;
  }
  return placed;
}
