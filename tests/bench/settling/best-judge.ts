/**
 * The limit: how far the best possible judge gets. It is given what no real one has: when the change was
 * made and its dead time, the shape and time constant of the way, the drift, the hover's own
 * autocorrelation and size, one lag for all that the probes say, and the size and memory of their noise.
 * Left for it to find out are where the capacity came from and where it goes, and how it hovers just now.
 * All that is linear with normal noise, so a Kalman filter gives the exact posterior. It reads the truth of
 * the same visit through such a lag and noise, at the visit's rhythm: no rounding, no error of probes.
 *
 * It calls steady once one of two things is so with a probability of 0.9, and keeps to it until that falls
 * below 0.5: a mean of one to ten minutes, as it was read, agrees within 2 % or 40 W with the true mean of the
 * next ten minutes; or it knows the level of the next ten minutes so well, and the level now agrees with it.
 */
import { randomStream } from '../../../simulator/random.ts';
import { meansOf } from './flat-figures.ts';
import { type Spectrum, scatterOfMean } from './hover.ts';
import type { Knowledge } from './knowledge.ts';
import { at, nameOf, type Visit } from './visit.ts';
import { silent, type Watch } from './watch.ts';

const ENTER = 0.9;
const LEAVE = 0.5;
const AHEAD_S = 600;
const SPANS_S = [60, 90, 120, 180, 300, 600];
/** Of what was before a change it sees so much, s. */
const BEFORE_S = 300;

/** What it would say of a visit. @throws Error where the visit comes without what it has to know */
export function bestJudge(visit: Visit): Watch {
  const { knowledge } = visit;
  if (knowledge === null) throw new Error(`${nameOf(visit)}: nothing is known of its making.`);
  const seen = silent(visit.trueW.length);
  seen.totalW.set(readingsOf(visit, knowledge));
  visit.segments.forEach((segment, k) => {
    if (segment.stretch !== 'lead' && segment.stretch !== 'settles') return;
    judge(visit, knowledge, seen, segment, k === 0 ? null : (knowledge.ways[k - 1] ?? null));
  });
  return seen;
}

/** The capacity through lag and noise, W, second by second. */
function readingsOf({ trueW, ...visit }: Visit, knowledge: Knowledge): Float64Array {
  const { lagS, memoryS, noiseW } = knowledge;
  const random = randomStream(visit.seed, `best judge ${visit.kind}`);
  const keep = Math.exp(-1 / lagS);
  const remember = Math.exp(-1 / memoryS);
  let lagged = at(trueW, 0);
  let noise = random.normal();
  return trueW.map((watts) => {
    lagged = keep * lagged + (1 - keep) * watts;
    noise = remember * noise + Math.sqrt(1 - remember * remember) * random.normal();
    return lagged + noiseW * noise;
  });
}

function judge(
  visit: Visit,
  knowledge: Knowledge,
  seen: Watch,
  { from, to }: { from: number; to: number },
  way: Knowledge['ways'][number] | null,
): void {
  const { hover, drift, lagS, intervalS, nominalW } = knowledge;
  const begin = way === null ? from : Math.max(from - BEFORE_S, 0);
  const n = to + 1 + AHEAD_S - begin;
  const done = Float64Array.from({ length: n }, (_, k) =>
    way === null ? 1 : way.shape.done(begin + k + 0.5 - way.beginS),
  );
  // The level is what it came from, times the first, and where it goes, times the second.
  const basis = [
    done.map((d, k) => (1 - d) * drift(begin + k)),
    done.map((d, k) => d * drift(begin + k)),
  ];
  const ahead = basis.map(meansOf);
  const lagged = basis.map((values) => lag(values, lagS));
  const filter = new Filter(knowledge);
  const future = futureOf(hover.spectrum);
  let steady = false;
  for (let i = begin; i <= to; i++) {
    const k = i - begin;
    const levelW = at(visit.levelW ?? visit.trueW, i);
    if (k > 0) filter.predict();
    if (i % intervalS === 0) {
      const row = filter.row(at(lagged[0] ?? [], k), at(lagged[1] ?? [], k));
      row[filter.laggedAt] = hover.share * levelW;
      row[filter.noiseAt] = 1;
      filter.update(row, at(seen.totalW, i));
    }
    if (i < from) continue;
    const next = filter.row(
      ahead[0]?.(k + 1, k + AHEAD_S) ?? NaN,
      ahead[1]?.(k + 1, k + AHEAD_S) ?? NaN,
    );
    future.weights.forEach((weight, j) => (next[2 + j] = hover.share * levelW * weight));
    const nextW = filter.mean(next);
    const variance = filter.variance(next) + (hover.share * levelW) ** 2 * future.variance;
    let best = 0;
    for (const span of SPANS_S) {
      if (i - span < begin - 1) break;
      best = Math.max(best, agreement(read(seen, i, span, intervalS) - nextW, variance, nextW));
    }
    const level = filter.row(at(next, 0), at(next, 1));
    const known = agreement(0, filter.variance(level), nextW);
    level[0] = at(next, 0) - at(basis[0] ?? [], k);
    level[1] = at(next, 1) - at(basis[1] ?? [], k);
    const stays = agreement(filter.mean(level), filter.variance(level), nextW);
    best = Math.max(best, Math.min(known, stays));
    steady = best >= (steady ? LEAVE : ENTER);
    const goal = filter.row(0, drift(i));
    seen.states[i] = steady ? 'steady' : 'settling';
    seen.since[i] = steady && seen.states[i - 1] === 'steady' ? at(seen.since, i - 1) : i;
    if (filter.variance(goal) > (0.5 * nominalW) ** 2) continue;
    seen.plateauW[i] = filter.mean(goal);
    seen.plateauU95W[i] = 1.96 * Math.sqrt(filter.variance(goal));
  }
}

/** Mean of the readings of the last `span` seconds. */
function read(seen: Watch, i: number, span: number, intervalS: number): number {
  let sum = 0;
  let count = 0;
  for (let s = i - (i % intervalS); s > i - span && s >= 0; s -= intervalS) {
    sum += at(seen.totalW, s);
    count++;
  }
  return sum / count;
}

function lag(values: Float64Array, lagS: number): Float64Array {
  const keep = Math.exp(-1 / lagS);
  let lagged = at(values, 0);
  return values.map((value) => (lagged = keep * lagged + (1 - keep) * value));
}

/** How probable it is that a normal difference of this mean lies within the tolerance. */
function agreement(offW: number, variance: number, watts: number): number {
  const within = Math.max(40, 0.02 * Math.abs(watts));
  const sd = Math.sqrt(variance);
  return normal((within - offW) / sd) - normal((-within - offW) / sd);
}

/** Distribution function of the normal: Abramowitz and Stegun 26.2.17 (from memory), to 1e-7. */
export function normal(z: number): number {
  const t = 1 / (1 + 0.2316419 * Math.abs(z));
  const series =
    t *
    (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  const tail = (Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI)) * series;
  return z > 0 ? 1 - tail : tail;
}

/** What the pointers of now say of the hover's mean over the next ten minutes, and what they leave open. */
function futureOf(spectrum: Spectrum): { weights: number[]; variance: number } {
  const weights: number[] = [];
  let variance = scatterOfMean(spectrum, AHEAD_S) ** 2;
  for (const { weight, dampingS, periodS } of spectrum) {
    let x = 0;
    let y = 0;
    for (let k = 1; k <= AHEAD_S; k++) {
      const keep = Math.exp(-k / dampingS) / AHEAD_S;
      x += keep * Math.cos((2 * Math.PI * k) / periodS);
      y -= keep * Math.sin((2 * Math.PI * k) / periodS);
    }
    weights.push(x, y);
    variance -= weight * (x * x + y * y);
  }
  return { weights, variance: Math.max(variance, 0) };
}

/** Kalman filter of: from where, to where, the hover's pointers, the hover as the probes see it, noise. */
class Filter {
  readonly laggedAt: number;
  readonly noiseAt: number;
  readonly #n: number;
  readonly #x: Float64Array;
  readonly #p: Float64Array;
  readonly #f: Float64Array;
  readonly #q: Float64Array;

  constructor({ hover, lagS, memoryS, noiseW, nominalW }: Knowledge) {
    const pointers = 2 * hover.spectrum.length;
    const n = pointers + 4;
    this.#n = n;
    this.laggedAt = n - 2;
    this.noiseAt = n - 1;
    this.#x = new Float64Array(n);
    this.#p = new Float64Array(n * n);
    this.#f = new Float64Array(n * n);
    this.#q = new Float64Array(n * n);
    for (const k of [0, 1]) {
      this.#x[k] = 0.75 * nominalW;
      this.#p[k * n + k] = nominalW ** 2;
      this.#f[k * n + k] = 1;
    }
    const slow = Math.exp(-1 / lagS);
    const push = 1 - slow;
    const lagged = this.laggedAt;
    hover.spectrum.forEach(({ weight, dampingS, periodS }, j) => {
      const keep = Math.exp(-1 / dampingS);
      const c = keep * Math.cos((2 * Math.PI) / periodS);
      const s = keep * Math.sin((2 * Math.PI) / periodS);
      const [x, y] = [2 + 2 * j, 3 + 2 * j];
      const fresh = weight * (1 - keep * keep);
      this.#set(this.#f, x, x, c);
      this.#set(this.#f, x, y, -s);
      this.#set(this.#f, y, x, s);
      this.#set(this.#f, y, y, c);
      this.#set(this.#f, lagged, x, push * c);
      this.#set(this.#f, lagged, y, -push * s);
      this.#set(this.#p, x, x, weight);
      this.#set(this.#p, y, y, weight);
      this.#set(this.#q, x, x, fresh);
      this.#set(this.#q, y, y, fresh);
      this.#set(this.#q, x, lagged, push * fresh);
      this.#set(this.#q, lagged, x, push * fresh);
      this.#q[lagged * n + lagged] = at(this.#q, lagged * n + lagged) + push * push * fresh;
    });
    this.#set(this.#f, lagged, lagged, slow);
    const remember = Math.exp(-1 / memoryS);
    this.#set(this.#f, this.noiseAt, this.noiseAt, remember);
    this.#set(this.#p, this.noiseAt, this.noiseAt, noiseW ** 2);
    this.#set(this.#q, this.noiseAt, this.noiseAt, noiseW ** 2 * (1 - remember * remember));
    // Hover has been there before, and the probes have seen it: let it run until it is stationary.
    for (let s = 0; s < 20 * lagS; s++) this.predict();
  }

  /** A row that takes these parts of whence and whither, and nothing else yet. */
  row(whence: number, whither: number): Float64Array {
    const row = new Float64Array(this.#n);
    row[0] = whence;
    row[1] = whither;
    return row;
  }

  mean(row: Float64Array): number {
    return row.reduce((sum, value, i) => sum + value * at(this.#x, i), 0);
  }

  variance(row: Float64Array): number {
    const gains = this.#times(row);
    return row.reduce((sum, value, i) => sum + value * at(gains, i), 0);
  }

  predict(): void {
    const n = this.#n;
    const x = this.#x.map((_, i) => {
      let sum = 0;
      for (let j = 0; j < n; j++) sum += at(this.#f, i * n + j) * at(this.#x, j);
      return sum;
    });
    this.#x.set(x);
    const fp = product(this.#f, this.#p, n, false);
    const fpf = product(fp, this.#f, n, true);
    for (let i = 0; i < n * n; i++) this.#p[i] = at(fpf, i) + at(this.#q, i);
  }

  update(row: Float64Array, watts: number): void {
    const n = this.#n;
    const gains = this.#times(row);
    const variance = row.reduce((sum, value, i) => sum + value * at(gains, i), 0);
    const off = watts - this.mean(row);
    for (let i = 0; i < n; i++) {
      const gain = at(gains, i) / variance;
      this.#x[i] = at(this.#x, i) + gain * off;
      for (let j = 0; j < n; j++) {
        this.#p[i * n + j] = at(this.#p, i * n + j) - gain * at(gains, j);
      }
    }
  }

  #times(row: Float64Array): Float64Array {
    const n = this.#n;
    return row.map((_, i) => {
      let sum = 0;
      for (let j = 0; j < n; j++) sum += at(this.#p, i * n + j) * at(row, j);
      return sum;
    });
  }

  #set(matrix: Float64Array, i: number, j: number, value: number): void {
    matrix[i * this.#n + j] = value;
  }
}

/** a b, or a bᵀ, of square matrices; most of these are zero. */
function product(a: Float64Array, b: Float64Array, n: number, turned: boolean): Float64Array {
  const out = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < n; k++) {
      for (let j = 0; j < n; j++) {
        const value = at(a, i * n + j);
        if (value === 0) continue;
        out[i * n + k] = at(out, i * n + k) + value * at(b, turned ? k * n + j : j * n + k);
      }
    }
  }
  return out;
}
