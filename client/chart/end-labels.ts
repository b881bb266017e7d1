/** The names at the ends of the lines: where each stands, so that none lies on another. */

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

/** Values that differ by less than this share of the larger are the same on a screen. */
const SAME = 0.002;

const isSame = (a: NamedEnd, b: NamedEnd, height: number): boolean =>
  Math.abs(a.y - b.y) < height &&
  Math.abs(a.value - b.value) <= SAME * Math.max(Math.abs(a.value), Math.abs(b.value));

/**
 * From top to bottom, pushed apart where they would touch; two that are the same as one, "total =
 * sensible", at the end that reaches further.
 * @param height of a line of text, canvas pixels
 */
export function placedLabels(ends: readonly NamedEnd[], height: number): PlacedLabel[] {
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
  let floor = -Infinity;
  return alone
    .sort((a, b) => a.y - b.y)
    .map(({ lines, x, y }) => {
      const top = Math.max(y, floor);
      floor = top + lines.length * height;
      return { lines, x, y: top };
    });
}
