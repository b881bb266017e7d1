/** Round numbers for axes. Pure. */

/** The round step (1, 2, 2.5 or 5 of a power of ten) that gives at most so many lines, about. */
export function stepFor(low: number, high: number, lines: number): number {
  const least = Math.max(high - low, 1e-9) / lines;
  const power = 10 ** Math.floor(Math.log10(least));
  return ([1, 2, 2.5, 5].find((step) => step * power >= least) ?? 10) * power;
}

const MINUTES = [1, 2, 5, 10, 15, 30, 60, 120, 180, 360, 720, 1440];

/** The same for a clock, ms. */
export function timeStepFor(spanMs: number, lines: number): number {
  const minutes = spanMs / 60_000 / Math.max(1, lines);
  const days = Math.ceil(minutes / 1440) * 1440;
  return (MINUTES.find((each) => each >= minutes) ?? days) * 60_000;
}
