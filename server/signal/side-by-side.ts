/**
 * The side-by-side check: probes that lie in the same air are watched until they have agreed, or
 * differed, steadily. Constant work a second, no clock.
 *
 * Each second every probe's deviation from the mean of all is taken; seconds are gathered into blocks
 * of 20 s, so that noise, its autocorrelation and readings that come seldom average out. The offsets
 * are believed when over the last six blocks (two minutes)
 * - the air itself has moved little (else probes of different lag differ without being wrong), and
 * - no probe's deviation has drifted (none is still on its way to the air's temperature).
 */

const BLOCK_S = 20;
const BLOCKS = 6;
/** The air may move by this much over the blocks. Common practice, no source. */
const STILL = { temperature: 0.4, humidity: 2.5 };
/** A deviation may drift by this much between the halves, and by this share of the probe's limit. */
const DRIFT = { temperature: 0.06, humidity: 0.5, ofLimit: 0.15 };
/** Half-widths that stand in where a data sheet's are not known, for the verdict only. */
const TYPICAL = { temperature: 0.5, humidity: 3 };

export type CheckVerdict = 'listening' | 'moving' | 'agree' | 'off';

/** What a check knows of a probe in one quantity. */
export interface Offset {
  /** From the mean of all probes. */
  offset: number;
  /** Standard uncertainty of that, from the scatter of the blocks (type A). */
  u: number;
  /** Whether its difference from the others is explained by the limits of all of them. */
  agrees: boolean;
}

export interface CheckedProbe {
  temperature: Offset | null;
  humidity: Offset | null;
}

export interface CheckResult {
  verdict: CheckVerdict;
  /** 0 to 1; at 1 the offsets may be used. */
  progress: number;
  /** Mean of the air over the blocks; NaN where not known. */
  temperatureC: number;
  humidityPct: number;
  probes: Map<string, CheckedProbe>;
}

/** Limits of one probe, K and % RH; undefined where not known. */
export interface CheckLimits {
  temperatureC?: number | undefined;
  humidityPct?: number | undefined;
}

export class SideBySide {
  readonly #ids: readonly string[];
  readonly #temperature: Deviations;
  readonly #humidity: Deviations;

  /** @param probes the probes that lie side by side, and their data-sheet limits */
  constructor(probes: ReadonlyMap<string, CheckLimits>) {
    this.#ids = [...probes.keys()];
    const limits = [...probes.values()];
    this.#temperature = new Deviations(limits.map((l) => l.temperatureC ?? TYPICAL.temperature));
    this.#humidity = new Deviations(limits.map((l) => l.humidityPct ?? TYPICAL.humidity));
  }

  /** Takes one second: a temperature and a humidity for each probe, NaN where there is none. */
  second(temperatureC: readonly number[], humidityPct: readonly number[]): void {
    this.#temperature.add(temperatureC);
    this.#humidity.add(humidityPct);
  }

  /** What can be said now. */
  result(): CheckResult {
    const t = this.#temperature;
    const h = this.#humidity;
    const progress = Math.min(t.progress, h.heard ? h.progress : 1);
    const still =
      t.still(STILL.temperature, DRIFT.temperature) &&
      (!h.heard || h.still(STILL.humidity, DRIFT.humidity));
    const probes = new Map<string, CheckedProbe>();
    let off = false;
    this.#ids.forEach((id, i) => {
      const checked = { temperature: t.offset(i), humidity: h.offset(i) };
      off ||= checked.temperature?.agrees === false || checked.humidity?.agrees === false;
      probes.set(id, checked);
    });
    let verdict: CheckVerdict = 'listening';
    if (progress >= 1) {
      if (!still) verdict = 'moving';
      else verdict = off ? 'off' : 'agree';
    }
    return {
      verdict,
      // Full only when the offsets may be used: still moving air holds it just short of that.
      progress: verdict === 'moving' ? 0.9 : progress,
      temperatureC: t.level,
      humidityPct: h.level,
      probes,
    };
  }
}

interface Block {
  /** Mean of all probes. */
  level: number;
  /** Each probe's mean deviation from it; NaN for one that was not heard. */
  deviation: Float64Array;
}

/** One quantity of all probes of a check. */
class Deviations {
  readonly #limits: readonly number[];
  readonly #weights: readonly number[];
  readonly #blocks: Block[] = [];
  #sums: Float64Array;
  #counts: Float64Array;
  #levelSum = 0;
  #n = 0;
  /** True once two probes have told this quantity in the same second. */
  heard = false;

  constructor(limits: readonly number[]) {
    this.#limits = limits;
    this.#weights = limits.map((a) => 1 / (a * a || 1e-6));
    this.#sums = new Float64Array(limits.length);
    this.#counts = new Float64Array(limits.length);
  }

  get progress(): number {
    return Math.min(1, (this.#blocks.length + this.#n / BLOCK_S) / BLOCKS);
  }

  get level(): number {
    return average(this.#blocks.map((b) => b.level));
  }

  add(values: readonly number[]): void {
    let sum = 0;
    let weights = 0;
    let known = 0;
    values.forEach((v, i) => {
      if (Number.isNaN(v)) return;
      sum += v * (this.#weights[i] ?? 0);
      weights += this.#weights[i] ?? 0;
      known++;
    });
    if (known < 2) return;
    this.heard = true;
    const level = sum / weights;
    values.forEach((v, i) => {
      if (Number.isNaN(v)) return;
      this.#sums[i] = (this.#sums[i] ?? 0) + v - level;
      this.#counts[i] = (this.#counts[i] ?? 0) + 1;
    });
    this.#levelSum += level;
    if (++this.#n < BLOCK_S) return;
    this.#blocks.push({
      level: this.#levelSum / this.#n,
      deviation: this.#sums.map((s, i) => s / (this.#counts[i] ?? 0)),
    });
    if (this.#blocks.length > BLOCKS) this.#blocks.shift();
    this.#sums = new Float64Array(values.length);
    this.#counts = new Float64Array(values.length);
    this.#levelSum = 0;
    this.#n = 0;
  }

  still(range: number, drift: number): boolean {
    const levels = this.#blocks.map((b) => b.level);
    if (Math.max(...levels) - Math.min(...levels) > range) return false;
    return this.#limits.every((limit, i) => {
      const half = BLOCKS / 2;
      const change = this.#mean(i, half, BLOCKS) - this.#mean(i, 0, half);
      return !(Math.abs(change) > Math.max(drift, DRIFT.ofLimit * limit));
    });
  }

  /** Null while it is not known, or for a probe that does not tell this quantity. */
  offset(i: number): Offset | null {
    const values = this.#blocks.map((b) => b.deviation[i] ?? NaN);
    const n = values.length;
    const offset = average(values);
    if (n < 2 || Number.isNaN(offset)) return null;
    const square = values.reduce((s, v) => s + (v - offset) ** 2, 0) / (n - 1);
    return { offset, u: Math.sqrt(square / n), agrees: this.#explained(i, offset) };
  }

  /** The others' mean is offset the other way: w_i d_i + Σ w_j d_j = 0. */
  #explained(i: number, offset: number): boolean {
    const w = this.#weights[i] ?? 0;
    let others = 0;
    let limit = 0;
    this.#weights.forEach((wj, j) => {
      if (j === i) return;
      others += wj;
      limit += wj * (this.#limits[j] ?? 0);
    });
    return Math.abs(offset) * (1 + w / others) <= (this.#limits[i] ?? 0) + limit / others;
  }

  #mean(i: number, from: number, to: number): number {
    return average(this.#blocks.slice(from, to).map((b) => b.deviation[i] ?? NaN));
  }
}

/** Mean of what is known; NaN of nothing. */
function average(values: readonly number[]): number {
  let sum = 0;
  let n = 0;
  for (const v of values) {
    if (Number.isNaN(v)) continue;
    sum += v;
    n++;
  }
  return sum / n;
}
