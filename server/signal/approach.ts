/**
 * Where a figure is heading: y = a + b·exp(−t/τ) laid through evenly spaced means, for each τ of a
 * grid in closed form (variable projection), and a constant beside them. No single fit is believed:
 * each weighs by how well it explains the means, by how much it had to assume (Occam's factor), and
 * by how usual its τ is. So the plateau and what is still to come have honest intervals, and a
 * time constant beyond the window shows as what it is: not identified.
 *
 * Means of a machine's output resemble their neighbors: how means of every length vary is the hover's
 * to say (hover.ts), and no mean is taken to be surer than that.
 */
import { BLOCK_S } from './block-means.ts';
import type { Hover } from './hover.ts';

/** Time constants of the grid, s: 8 s to 30 min, each 1.4 times the one before. */
const TAU_S: readonly number[] = Array.from({ length: 16 }, (_, i) => 8 * 1.435 ** i);
const GRID = TAU_S.length;
/** Usual time constants: about this, within this factor either way (two thirds of all). */
const USUAL_TAU_S = 80;
const USUAL_FACTOR = 2.7;
/** A constant is as likely beforehand as all approaches together. */
const LOG_PRIOR = TAU_S.map(
  (tau) => -0.5 * (Math.log(tau / USUAL_TAU_S) / Math.log(USUAL_FACTOR)) ** 2,
);
const LOG_PRIOR_SUM = Math.log(LOG_PRIOR.reduce((sum, l) => sum + Math.exp(l), 0));
/** How far from the plateau a window begins, as parts of the level: each as usual, beforehand. */
const USUAL_STEPS = [0.3, 0.1] as const;
/** Scatter below this part of the level is not believed: models are not that good. */
const LEAST_SCATTER = 0.0008;
/** A house drifts by about this part of a level in ten minutes. */
const HOUSE = 0.004;
/** So many standard deviations the means of a stretch's quarters may be off. */
const ODD = 2.1;
/** A window of at least so many means. */
export const LEAST_MEANS = 6;

/** Sums over the grid that do not depend on the values, where all are known. */
interface Sums {
  se: Float64Array;
  see: Float64Array;
  left: Float64Array;
}
const SUMS = new Map<number, Sums>();
const DECAYS = new Map<number, Float64Array>();

function decaysOf(stepS: number): Float64Array {
  let decays = DECAYS.get(stepS);
  if (decays === undefined)
    DECAYS.set(stepS, (decays = Float64Array.from(TAU_S, (tau) => Math.exp(-stepS / tau))));
  return decays;
}

function sumsOf(n: number, stepS: number): Sums {
  const key = 1000 * stepS + n;
  let sums = SUMS.get(key);
  if (sums !== undefined) return sums;
  const [se, see, left] = [new Float64Array(GRID), new Float64Array(GRID), new Float64Array(GRID)];
  TAU_S.forEach((tau, k) => {
    const decay = Math.exp(-stepS / tau);
    for (let i = 0, e = 1; i < n; i++, e *= decay) {
      se[k] = (se[k] ?? 0) + e;
      see[k] = (see[k] ?? 0) + e * e;
    }
    left[k] = Math.exp((-(n - 0.5) * stepS) / tau);
  });
  SUMS.set(key, (sums = { se, see, left }));
  return sums;
}

const NOT_YET = { s: NaN, within: NaN };

export class Approach {
  /** RMS of what the best fit leaves, in the unit of the values. */
  rms = NaN;
  /** Mean of all values. */
  level = NaN;
  /** Length of what is known of the window, s. */
  lengthS = 0;
  /** Of what the fit leaves, what is oddest about it: above 1 it does not explain the means. */
  misfit = NaN;
  #best = 0;
  // One more than the grid: the last is the constant.
  readonly #weight = new Float64Array(GRID + 1);
  readonly #plateau = new Float64Array(GRID + 1);
  readonly #uPlateau = new Float64Array(GRID + 1);
  readonly #togo = new Float64Array(GRID + 1);
  readonly #uTogo = new Float64Array(GRID + 1);
  readonly #start = new Float64Array(GRID);
  readonly #uStart = new Float64Array(GRID);
  readonly #sse = new Float64Array(GRID + 1);
  /** What the best fit leaves of each mean. */
  readonly rest = new Float64Array(64);
  #ahead = NOT_YET;

  /**
   * Fits `n` values that are `stepS` apart, oldest first, NaN where not known.
   * @param hover how means vary about a course, as far as that is known
   * @returns false where there are too few values
   */
  fit(y: Float64Array, n: number, stepS: number, hover: Hover): boolean {
    this.rms = NaN;
    let known = 0;
    let sum = 0;
    for (let i = 0; i < n; i++) {
      const v = y[i] ?? NaN;
      if (v !== v) continue;
      known++;
      sum += v;
    }
    if (known < LEAST_MEANS) return false;
    const level = sum / known;
    this.level = level;
    this.lengthS = known * stepS;

    let square = 0;
    for (let i = 0; i < n; i++) {
      const v = (y[i] ?? NaN) - level;
      if (v === v) square += v * v;
    }
    this.#sse[GRID] = square;
    const decays = decaysOf(stepS);
    const all = known === n ? sumsOf(n, stepS) : null;
    let best = 0;
    for (let k = 0; k < GRID; k++) {
      const decay = decays[k] ?? 0;
      let e = 1;
      let se = all?.se[k] ?? 0;
      let see = all?.see[k] ?? 0;
      let sey = 0;
      if (all !== null) {
        // Backwards: what a polynomial in the decay adds up to, without a single power.
        for (let i = n - 1; i >= 0; i--) sey = sey * decay + (y[i] ?? 0) - level;
      } else {
        for (let i = 0; i < n; i++) {
          const v = (y[i] ?? NaN) - level;
          if (v === v) {
            se += e;
            see += e * e;
            sey += e * v;
          }
          e *= decay;
        }
      }
      // Values are from their mean, so their own sum is nought.
      const det = known * see - se * se;
      const b = (known * sey) / det;
      const a = (-b * se) / known;
      this.#sse[k] = Math.max(0, square - b * sey);
      this.#plateau[k] = level + a;
      this.#uPlateau[k] = see / det; // times the variance, below
      this.#start[k] = b;
      this.#uStart[k] = known / det;
      if ((this.#sse[k] ?? 0) < (this.#sse[best] ?? 0)) best = k;
    }
    this.#best = best;
    this.#ahead = NOT_YET;
    this.#look(y, n, stepS, known, hover);
    this.#weigh(n, stepS, known, hover);
    return true;
  }

  /**
   * Whether the best fit leaves no more than the hover explains, of the means of each quarter of the
   * stretch.
   */
  #look(y: Float64Array, n: number, stepS: number, known: number, hover: Hover): void {
    const k = this.#best;
    const decay = decaysOf(stepS)[k] ?? 0;
    let fitted = k < GRID ? (this.#start[k] ?? 0) : 0;
    let sum = 0;
    let count = 0;
    let quarter = 0;
    let worst = 0;
    const floor = (LEAST_SCATTER * this.level) ** 2;
    const u = Math.sqrt(hover.varianceOf((n * stepS) / 4) + floor);
    for (let i = 0; i < n; i++) {
      const r = (y[i] ?? NaN) - (this.#plateau[k] ?? 0) - fitted;
      this.rest[i] = r;
      if (r === r) {
        sum += r;
        count++;
      }
      fitted *= decay;
      if ((i + 1) * 4 < (quarter + 1) * n) continue;
      if (count > 0) worst = Math.max(worst, Math.abs(sum / count) / u);
      quarter++;
      sum = 0;
      count = 0;
    }
    this.rms = Math.sqrt((this.#sse[k] ?? 0) / Math.max(1, known - 3));
    this.misfit = worst / ODD;
  }

  #weigh(n: number, stepS: number, known: number, hover: Hover): void {
    const floor = LEAST_SCATTER * Math.abs(this.level);
    const asIfWhite = hover.asIfWhite(Math.log2(stepS / BLOCK_S), n * stepS);
    const variance = (asIfWhite * this.rms ** 2) / hover.varianceOf(stepS) + floor ** 2;
    const lefts = sumsOf(n, stepS).left;
    const least = this.#sse[this.#best] ?? 0;
    let top = -Infinity;
    for (let k = 0; k <= GRID; k++) {
      let log = -((this.#sse[k] ?? 0) - least) / (2 * variance);
      if (k < GRID) {
        const vStart = (this.#uStart[k] ?? 0) * variance;
        let occam = 0;
        for (const scale of USUAL_STEPS) {
          const v = vStart + (scale * this.level) ** 2;
          occam += Math.sqrt(vStart / v) * Math.exp((-0.5 * (this.#start[k] ?? 0) ** 2) / v);
        }
        log += (LOG_PRIOR[k] ?? 0) - LOG_PRIOR_SUM + Math.log(occam / USUAL_STEPS.length + 1e-30);
        const left = lefts[k] ?? 0;
        this.#togo[k] = -(this.#start[k] ?? 0) * left;
        this.#uTogo[k] = Math.sqrt(vStart) * left;
        // A node stands for all time constants up to halfway to its neighbors, evenly.
        const [shorter, longer] = [Math.max(0, k - 1), Math.min(GRID - 1, k + 1)];
        const apart = (this.#plateau[longer] ?? 0) - (this.#plateau[shorter] ?? 0);
        const within = (apart / (longer - shorter)) ** 2 / 12;
        this.#uPlateau[k] = Math.sqrt((this.#uPlateau[k] ?? 0) * variance + within);
      } else {
        this.#plateau[k] = this.level;
        this.#uPlateau[k] = Math.sqrt(variance / known);
        this.#togo[k] = 0;
        this.#uTogo[k] = 0;
      }
      this.#weight[k] = log;
      if (log > top) top = log;
    }
    let sum = 0;
    for (let k = 0; k <= GRID; k++) {
      const w = Math.exp((this.#weight[k] ?? 0) - top);
      this.#weight[k] = w;
      sum += w;
    }
    for (let k = 0; k <= GRID; k++) this.#weight[k] = (this.#weight[k] ?? 0) / sum;
  }

  /**
   * How likely it is that the mean over the next `aheadS` seconds differs by less than `limit` from
   * that over the last `spanS`: by what is still to come of the approach, and by the hover of both means.
   */
  meansAgree(limit: number, spanS: number, aheadS: number, hover: Hover | null): number {
    const scatter =
      (hover === null ? 0 : hover.varianceOf(spanS) + hover.varianceOf(aheadS)) +
      (HOUSE * this.level) ** 2;
    const still = Math.sqrt(scatter);
    let p = (this.#weight[GRID] ?? 0) * (2 * below(limit / still) - 1);
    for (let k = 0; k < GRID; k++) {
      const w = this.#weight[k] ?? 0;
      if (w < 1e-4) continue;
      const tau = TAU_S[k] ?? 1;
      const comes = 1 - (tau / aheadS) * (1 - Math.exp(-aheadS / tau));
      const was = (tau / spanS) * Math.expm1(spanS / tau) - 1;
      const share = comes + was;
      const move = (this.#togo[k] ?? 0) * share;
      const u = Math.hypot((this.#uTogo[k] ?? 0) * share, still);
      p += w * (below((limit - move) / u) - below((-limit - move) / u));
    }
    return p;
  }

  /** How likely it is that the figure moves by less than `limit` in the next `aheadS` seconds. */
  staysWithin(limit: number, aheadS: number): number {
    let p = this.#weight[GRID] ?? 0;
    for (let k = 0; k < GRID; k++) {
      const share = 1 - Math.exp(-aheadS / (TAU_S[k] ?? 1));
      const move = (this.#togo[k] ?? 0) * share;
      const u = Math.max((this.#uTogo[k] ?? 0) * share, 1e-9);
      p += (this.#weight[k] ?? 0) * (below((limit - move) / u) - below((-limit - move) / u));
    }
    return p;
  }

  /** The least distance within which it stays with 95 %: see `staysWithin`. Worked out once a fit. */
  aheadWithin(aheadS: number): number {
    if (this.#ahead.s !== aheadS) this.#ahead = { s: aheadS, within: this.#within(aheadS) };
    return this.#ahead.within;
  }

  #within(aheadS: number): number {
    let low = 0;
    let high = 2 * Math.abs(this.level) + 1;
    while (high - low > 0.002 * Math.abs(this.level) + 0.5) {
      const middle = (low + high) / 2;
      if (this.staysWithin(middle, aheadS) < 0.95) low = middle;
      else high = middle;
    }
    return high;
  }

  /** Whether the plateau can be told: the weight is on time constants that the window has seen. */
  get identified(): boolean {
    let beyond = 0;
    for (let k = 0; k < GRID; k++) {
      if ((TAU_S[k] ?? 0) > 2 * this.lengthS) beyond += this.#weight[k] ?? 0;
    }
    return beyond < 0.3;
  }

  /** The plateau: middle of what is likely, and half the width that holds 95 % of it. */
  plateau(): { value: number; u95: number } {
    const value = this.#quantile(0.5);
    const low = this.#quantile(0.025);
    const high = this.#quantile(0.975);
    return { value, u95: Math.max(value - low, high - value) };
  }

  /** A quantile of the plateau over all fits, by bisection on their common distribution. */
  #quantile(p: number): number {
    let low = Infinity;
    let high = -Infinity;
    for (let k = 0; k <= GRID; k++) {
      if ((this.#weight[k] ?? 0) < 1e-4) continue;
      const reach = 4 * (this.#uPlateau[k] ?? 0);
      low = Math.min(low, (this.#plateau[k] ?? 0) - reach);
      high = Math.max(high, (this.#plateau[k] ?? 0) + reach);
    }
    const close = 1e-4 * Math.abs(this.level) + 1e-9;
    while (high - low > close) {
      const middle = (low + high) / 2;
      let sum = 0;
      for (let k = 0; k <= GRID; k++) {
        const w = this.#weight[k] ?? 0;
        if (w < 1e-4) continue;
        sum +=
          w * below((middle - (this.#plateau[k] ?? 0)) / Math.max(this.#uPlateau[k] ?? 0, 1e-9));
      }
      if (sum < p) low = middle;
      else high = middle;
    }
    return (low + high) / 2;
  }

  /** The time constant: middle of what is likely, s. */
  get tauS(): number {
    const moving = 1 - (this.#weight[GRID] ?? 0);
    let sum = 0;
    for (let k = 0; k < GRID; k++) {
      sum += this.#weight[k] ?? 0;
      if (sum >= moving / 2) return TAU_S[k] ?? 1;
    }
    return TAU_S[GRID - 1] ?? 1;
  }

  /** In how many seconds the figure will be within `limit` of its plateau: middle of what is likely. */
  inS(limit: number): number {
    const times: { s: number; w: number }[] = [];
    for (let k = 0; k <= GRID; k++) {
      const far = Math.abs(this.#togo[k] ?? 0) / limit;
      times.push({ s: far > 1 ? (TAU_S[k] ?? 0) * Math.log(far) : 0, w: this.#weight[k] ?? 0 });
    }
    times.sort((a, b) => a.s - b.s);
    let sum = 0;
    for (const { s, w } of times) {
      sum += w;
      if (sum >= 0.5) return s;
    }
    return 0;
  }
}

/**
 * Normal distribution function, within 1e-7 (Abramowitz and Stegun, Handbook of Mathematical
 * Functions, 26.2.17).
 */
export function below(z: number): number {
  if (z < -8) return 0;
  if (z > 8) return 1;
  const x = Math.abs(z);
  const t = 1 / (1 + 0.2316419 * x);
  const poly =
    t *
    (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  const tail = 0.3989422804014327 * Math.exp(-0.5 * x * x) * poly;
  return z > 0 ? 1 - tail : tail;
}
