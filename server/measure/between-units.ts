/**
 * Many units of one type beside each other: what they give on the whole, how much they differ by more than
 * their measurements explain, and which of them lie outside. Each has a figure with its own uncertainty; the
 * errors of two units are taken as independent.
 *
 * One that lies far out may neither pull the mean nor widen the spread, or it would hide itself: beyond 1.5
 * standard deviations it counts as if it lay there (Algorithm A of ISO 13528:2015, annex C, after Huber,
 * Ann. Math. Stat. 35, 1964, 73–101). The spread is such that what is left of all squares is what a normal
 * distribution would leave of them (as Mandel and Paule, Anal. Chem. 42, 1970, 1194–1197, for figures that
 * are not equally sure). The limits are those of a funnel (Spiegelhalter, Stat. Med. 24, 2005, 1185–1202).
 * All from memory of the papers.
 */
import { normalCdf } from './expectation/conformance.ts';

export interface UnitFigure {
  value: number;
  /** Standard uncertainty, over 0. */
  u: number;
}

export interface BetweenUnits {
  mean: number;
  uMean: number;
  /** Standard deviation between units beside their uncertainties; 0 where these explain all. */
  spread: number;
  /** How far each lies from the mean, in standard uncertainties of that difference. */
  z: number[];
}

/** Beyond so many standard deviations a figure is drawn in. */
const DRAWN_IN = 1.5;
/** The spread is found to so small a part of the range of the figures. */
const FINEST = 1e-7;
const MOST_STEPS = 100;
/** Limits of a funnel, in standard uncertainties: 95 % and 99.8 % of a normal distribution lie within. */
export const EDGE_Z = 1.959964;
export const OUTSIDE_Z = 3.090232;

/**
 * Compares them.
 * @param figures at least two
 * @param drawnIn where figures are drawn in, in standard deviations
 */
export function betweenUnits(figures: readonly UnitFigure[], drawnIn = DRAWN_IN): BetweenUnits {
  const sorted = figures.map(({ value }) => value).toSorted((a, b) => a - b);
  const finest = FINEST * ((sorted.at(-1) ?? 0) - (sorted[0] ?? 0));
  const left = leaves(drawnIn);
  const from = sorted[sorted.length >> 1] ?? NaN;
  const at = (spread: number): Drawn => drawn(figures, { spread, drawnIn, from, finest });
  const differMore = ({ squares }: Drawn): boolean => squares > left.squares * (figures.length - 1);
  let found = at(0);
  let spread = 0;
  if (differMore(found)) {
    let [low, high] = [0, finest / FINEST];
    while (high - low > finest) {
      spread = (low + high) / 2;
      found = at(spread);
      if (differMore(found)) low = spread;
      else high = spread;
    }
  }
  const { mean, weight } = found;
  return {
    ...{ mean, uMean: Math.sqrt(left.squares / weight) / left.within, spread },
    z: figures.map(({ value, u }) => (value - mean) / Math.sqrt(u * u + spread * spread)),
  };
}

interface Drawn {
  mean: number;
  /** Sum of their weights. */
  weight: number;
  /** Sum of squares of how far they lie from it, in standard deviations, drawn in. */
  squares: number;
}

/** Their weighted mean, those that lie far from it drawn in: step by step, from a guess. */
function drawn(
  figures: readonly UnitFigure[],
  given: { spread: number; drawnIn: number; from: number; finest: number },
): Drawn {
  const variance = given.spread ** 2;
  let mean = given.from;
  for (let i = 0; ; i++) {
    let [weight, sum, squares] = [0, 0, 0];
    for (const { value, u } of figures) {
      const total = Math.sqrt(u * u + variance);
      const z = Math.min(given.drawnIn, Math.max(-given.drawnIn, (value - mean) / total));
      weight += 1 / (total * total);
      sum += z / total;
      squares += z * z;
    }
    const step = sum / weight;
    if (Math.abs(step) <= given.finest || i === MOST_STEPS) return { mean, weight, squares };
    mean += step;
  }
}

/**
 * The same of figures whose errors are so many percent of them, as those of airflow and capacity are: by
 * their logarithms, or the low ones, which look surer, would pull the mean down.
 * @param figures over 0
 * @returns the mean as a figure; `uMean` and `spread` relative to it
 */
export function betweenRelative(figures: readonly UnitFigure[]): BetweenUnits {
  const { mean, ...rest } = betweenUnits(
    figures.map(({ value, u }) => ({ value: Math.log(value), u: u / value })),
  );
  return { mean: Math.exp(mean), ...rest };
}

/**
 * Limits of the funnel of such figures.
 * @param u relative standard uncertainty
 * @param z as `EDGE_Z` or `OUTSIDE_Z`
 */
export function funnelLimits(
  { mean, spread }: Pick<BetweenUnits, 'mean' | 'spread'>,
  u: number,
  z: number,
): { low: number; high: number } {
  const half = z * Math.hypot(u, spread);
  return { low: mean * Math.exp(-half), high: mean * Math.exp(half) };
}

/** What drawing in leaves of a standard normal distribution: of its squares, and how much of it untouched. */
function leaves(drawnIn: number): { squares: number; within: number } {
  const within = 2 * normalCdf(drawnIn) - 1;
  const density = Math.exp((-drawnIn * drawnIn) / 2) / Math.sqrt(2 * Math.PI);
  return { squares: within - 2 * drawnIn * density + drawnIn * drawnIn * (1 - within), within };
}
