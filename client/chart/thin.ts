/**
 * The columns of a plot thinned to what its pixels can show: a mean for each narrow strip of time. Drawn
 * through every reading, the noise would use up the dashes and the line style could not be told any more,
 * and a day would have to be drawn anew for each finger's breadth that it moves. The strips stand on the
 * clock, so a line keeps its shape while it is moved. Pure.
 */
import type { AlignedData } from 'uplot';

/** About so wide is a strip, CSS pixels. */
const STRIP_PX = 4;
/** Readings come once a second: there is nothing to gather below two, ms. */
const SHORTEST_MS = 2000;

/**
 * How long a strip is: a power of two seconds, so that it changes seldom while the chart is stretched.
 * @param spanMs how long the axis is @param widthPx how wide, CSS pixels
 * @returns ms; 0 where every row is drawn
 */
export function stripMs(spanMs: number, widthPx: number): number {
  const wanted = (spanMs * STRIP_PX) / Math.max(1, widthPx);
  const strip = 1000 * 2 ** Math.round(Math.log2(wanted / 1000));
  return strip >= SHORTEST_MS ? strip : 0;
}

/** The rows of a strip: from the first to before the last. */
interface Strip {
  from: number;
  to: number;
}

function stripsOf(t: ArrayLike<number>, strip: number): Strip[] {
  const found: Strip[] = [];
  let from = 0;
  while (from < t.length) {
    const end = (Math.floor((t[from] ?? 0) / strip) + 1) * strip;
    let to = from + 1;
    while (to < t.length && (t[to] ?? 0) < end) to++;
    found.push({ from, to });
    from = to;
  }
  return found;
}

type Column = (number | null | undefined)[];

/** What a column has in a strip: its mean, and whether its line is broken before and after it. */
class Means {
  readonly values: (number | null)[] = [];
  readonly before: boolean[] = [];
  readonly after: boolean[] = [];

  constructor(column: ArrayLike<number | null | undefined>, strips: readonly Strip[]) {
    for (const { from, to } of strips) {
      let sum = 0;
      let count = 0;
      let isBroken = false;
      for (let i = from; i < to; i++) {
        const value = column[i];
        if (value === null || value === undefined) isBroken ||= count > 0;
        else {
          sum += value;
          count++;
        }
      }
      this.values.push(count === 0 ? null : sum / count);
      this.before.push(count > 0 && (column[from] ?? null) === null);
      this.after.push(isBroken);
    }
  }
}

/** A break lies so far beside the rows that it parts: those of two neighbors lie between whole milliseconds. */
const BESIDE_MS = 0.25;

/**
 * Columns by strips: the mean of the values and of the times of their rows, null where a strip has no
 * value. A line that has a hole, however short, is broken there: `null` in a row of its own, which leaves the
 * other lines alone (`undefined`). The last row stays as it is, so that a line ends where its data does.
 * @param columns times first, ascending, ms since the epoch
 * @param strip ms, as from `stripMs`; 0: all of it
 */
export function thinned(columns: AlignedData, strip: number): AlignedData {
  const [t, ...values] = columns;
  const last = t.length - 1;
  if (strip === 0 || last < 1) return columns;
  const strips = stripsOf(t, strip);
  const means = values.map((column) => new Means(column, strips));
  const times: number[] = [];
  const thin = values.map((): Column => []);
  const add = (
    at: number,
    of: (each: Means, column: number) => number | null | undefined,
  ): void => {
    times.push(at);
    for (const [c, each] of means.entries()) thin[c]?.push(of(each, c));
  };
  for (const [s, { from, to }] of strips.entries()) {
    const [first = 0, end = 0] = [t[from], t[to - 1]];
    const breaks = (at: number, side: 'before' | 'after'): void => {
      if (means.some((each) => each[side][s]))
        add(at, (each) => (each[side][s] ? null : undefined));
    };
    breaks(first - BESIDE_MS, 'before');
    let sum = 0;
    for (let i = from; i < to; i++) sum += (t[i] ?? 0) - first;
    add(first + sum / (to - from), (each) => each.values[s] ?? null);
    const isShort = to > last && to - from > 1;
    breaks(isShort ? end - BESIDE_MS : end + BESIDE_MS, 'after');
    if (isShort) add(end, (_, c) => values[c]?.[last] ?? null);
  }
  return [times, ...thin];
}
