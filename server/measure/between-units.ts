/**
 * Many units of one type beside each other: what they give on the whole, how much they differ by more than
 * their measurements explain, and which of them lie outside. Each has a figure with its own uncertainty; the
 * errors of two units are taken as independent.
 *
 * The spread between units is the moment estimate of DerSimonian and Laird (Control. Clin. Trials 7, 1986,
 * 177–188). Those that lie far out would widen it and hide themselves: for it alone the figures are drawn in
 * to the tenth and the ninetieth part of all (Spiegelhalter, Stat. Med. 24, 2005, 1185–1202, whose limits
 * of a funnel these are as well). Both from memory of the papers.
 */

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

/** Part of the figures at each end that is drawn in. */
const DRAWN_IN = 0.1;
/** Of fewer than this nothing is drawn in: all of them could be right. */
const LEAST_DRAWN_IN = 5;
/** Limits of a funnel, in standard uncertainties: 95 % and 99.8 % of a normal distribution lie within. */
export const EDGE_Z = 1.959964;
export const OUTSIDE_Z = 3.090232;

/** Mean and moment estimate of the spread (variance), without drawing in. */
export function momentEstimate(figures: readonly UnitFigure[]): {
  mean: number;
  uMean: number;
  variance: number;
} {
  const fixed = weighted(figures, 0);
  const q = figures.reduce((sum, { value, u }) => sum + ((value - fixed.mean) / u) ** 2, 0);
  return pooled(figures, q);
}

/**
 * Compares them.
 * @param figures at least two
 */
export function betweenUnits(figures: readonly UnitFigure[]): BetweenUnits {
  const fixed = weighted(figures, 0);
  const apart = figures.map(({ value, u }) => (value - fixed.mean) / u);
  const sorted = apart.toSorted((a, b) => a - b);
  // Of a few the one at each end.
  const cut =
    sorted.length < LEAST_DRAWN_IN ? 0 : Math.max(1, Math.floor(DRAWN_IN * sorted.length));
  const low = sorted[cut] ?? 0;
  const high = sorted[sorted.length - 1 - cut] ?? 0;
  const q = apart.reduce((sum, z) => sum + Math.min(high, Math.max(low, z)) ** 2, 0);
  const { mean, uMean, variance } = pooled(figures, q);
  return {
    ...{ mean, uMean, spread: Math.sqrt(variance) },
    z: figures.map(({ value, u }) => (value - mean) / Math.sqrt(u * u + variance)),
  };
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

function pooled(
  figures: readonly UnitFigure[],
  q: number,
): { mean: number; uMean: number; variance: number } {
  let sum = 0;
  let squares = 0;
  for (const { u } of figures) {
    sum += 1 / (u * u);
    squares += 1 / u ** 4;
  }
  const variance = Math.max(0, (q - (figures.length - 1)) / (sum - squares / sum));
  return { ...weighted(figures, Number.isFinite(variance) ? variance : 0), variance };
}

function weighted(
  figures: readonly UnitFigure[],
  variance: number,
): { mean: number; uMean: number } {
  let sum = 0;
  let of = 0;
  for (const { value, u } of figures) {
    const weight = 1 / (u * u + variance);
    sum += weight;
    of += weight * value;
  }
  return { mean: of / sum, uMean: 1 / Math.sqrt(sum) };
}
