/** The order of a large batch, found in small pieces of work. */
import type { Reading } from '../contract.ts';

/** So many are sorted at once: a few milliseconds. */
const RUN = 4096;

/**
 * The places of readings in the order of their times; of equal times, in the order given. Readings that are
 * in order already cost one look each.
 */
export function* inOrder(readings: readonly Reading[]): Generator<number | null> {
  const runs: number[][] = [];
  for (let from = 0; from < readings.length; from += RUN) {
    const to = Math.min(from + RUN, readings.length);
    const run = Array.from({ length: to - from }, (_, i) => from + i);
    run.sort((a, b) => timeOf(readings, a) - timeOf(readings, b));
    runs.push(run);
    yield null;
  }
  const heads = runs.map(() => 0);
  for (let left = readings.length; left > 0; left--) {
    let first = -1;
    let firstT = Infinity;
    for (const [i, run] of runs.entries()) {
      const place = run[heads[i] ?? 0];
      // Of two equal ones that of the earlier run stays.
      if (place === undefined || timeOf(readings, place) >= firstT) continue;
      first = i;
      firstT = timeOf(readings, place);
    }
    const place = runs[first]?.[heads[first] ?? 0];
    if (place === undefined) return;
    heads[first] = (heads[first] ?? 0) + 1;
    yield place;
  }
}

function timeOf(readings: readonly Reading[], place: number): number {
  return readings[place]?.t ?? Infinity;
}
