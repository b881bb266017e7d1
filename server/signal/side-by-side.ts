/**
 * The side-by-side check: probes that lie in the same air are watched until they have agreed, or
 * differed, steadily. Constant work a second, no clock.
 *
 * Each second every probe's deviation from the mean of all is taken; seconds are gathered into blocks
 * of 20 s, so that noise, its autocorrelation and readings that come seldom average out. The offsets
 * are believed when over the last six blocks (two minutes)
 * - the air itself has moved little (else probes of different lag differ without being wrong),
 * - no probe's deviation has drifted (none is still on its way to the air's temperature), and
 * - each probe was heard in all of them, or in none (else the mean is now of these, now of those).
 *
 * A probe agrees when it does so, within the limits of both, with at least half of the others. Where
 * some agree and some do not, offsets are from the mean of those that agree.
 */

const BLOCK_S = 20;
const BLOCKS = 6;
/** The air may move by this much over the blocks. Common practice, no source. */
const STILL = { temperature: 0.4, humidity: 2.5 };
/** A deviation may drift by this much between the halves, and by this share of the probe's limit. */
const DRIFT = { temperature: 0.06, humidity: 0.5, ofLimit: 0.15 };
/** Half-widths that stand in where a data sheet's are not known, for the verdict only. */
const TYPICAL = { temperature: 0.5, humidity: 3 };
/** Their weight in the mean: next to nothing beside a probe whose limits are known. */
const UNKNOWN_WEIGHT = 1e-6;
/** A block of a probe counts if it was heard in so many of its seconds. */
const LEAST_HEARD = BLOCK_S / 2;

export type CheckVerdict = 'listening' | 'moving' | 'agree' | 'off';

/** What a check knows of a probe in one quantity. */
export interface Offset {
  /** From the mean of the probes that agree; of all, where none do. */
  offset: number;
  /** Standard uncertainty of that: from the scatter of the blocks (type A), and how it has drifted. */
  u: number;
  /** Whether the limits explain its difference from at least half of the others. */
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
    const of = (quantity: keyof CheckLimits): (number | undefined)[] =>
      limits.map((l) => l[quantity]);
    this.#temperature = new Deviations(of('temperatureC'), TYPICAL.temperature);
    this.#humidity = new Deviations(of('humidityPct'), TYPICAL.humidity);
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
    const temperatures = t.offsets();
    const humidities = h.offsets();
    this.#ids.forEach((id, i) => {
      const checked = { temperature: temperatures[i] ?? null, humidity: humidities[i] ?? null };
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
  deviation: number[];
}

/** One quantity of all probes of a check. */
class Deviations {
  readonly #limits: readonly number[];
  readonly #weights: readonly number[];
  readonly #blocks: Block[] = [];
  readonly #sums: Float64Array;
  readonly #counts: Float64Array;
  #n = 0;
  /** True once two probes have told this quantity in the same second. */
  heard = false;

  constructor(limits: readonly (number | undefined)[], typical: number) {
    this.#limits = limits.map((a) => a ?? typical);
    this.#weights = limits.map((a) => (a === undefined ? UNKNOWN_WEIGHT : 1 / (a * a || 1e-6)));
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
    let known = 0;
    for (const v of values) if (!Number.isNaN(v)) known++;
    if (known < 2) return;
    this.heard = true;
    values.forEach((v, i) => {
      if (Number.isNaN(v)) return;
      this.#sums[i] = (this.#sums[i] ?? 0) + v;
      this.#counts[i] = (this.#counts[i] ?? 0) + 1;
    });
    if (++this.#n < BLOCK_S) return;
    const means = values.map((_, i) => {
      const count = this.#counts[i] ?? 0;
      return count < LEAST_HEARD ? NaN : (this.#sums[i] ?? 0) / count;
    });
    const level = this.#mean(means);
    this.#blocks.push({ level, deviation: means.map((v) => v - level) });
    if (this.#blocks.length > BLOCKS) this.#blocks.shift();
    this.#sums.fill(0);
    this.#counts.fill(0);
    this.#n = 0;
  }

  still(range: number, drift: number): boolean {
    const levels = this.#blocks.map((b) => b.level);
    if (Math.max(...levels) - Math.min(...levels) > range) return false;
    return this.#limits.every((limit, i) => {
      const values = this.#of(i);
      const unheard = values.filter((v) => Number.isNaN(v)).length;
      if (unheard > 0) return unheard === values.length;
      return Math.abs(driftOf(values)) <= Math.max(drift, DRIFT.ofLimit * limit);
    });
  }

  /** Of each probe; null while it is not known, or for one that does not tell this quantity. */
  offsets(): (Offset | null)[] {
    const raw = this.#limits.map((_, i) => average(this.#of(i)));
    const agree = raw.map((_, i) => this.#agrees(i, raw));
    const from = agree.includes(true)
      ? this.#mean(raw.map((d, i) => (agree[i] === true ? d : NaN)))
      : 0;
    return raw.map((d, i) => {
      const values = this.#of(i).filter((v) => !Number.isNaN(v));
      const n = values.length;
      if (n < 2) return null;
      const square = values.reduce((s, v) => s + (v - d) ** 2, 0) / (n - 1) / n;
      // Of mere scatter, the halves' difference has four times the variance of the mean; what is
      // beyond is a probe on its way, which may have as far to go again.
      const onItsWay = Math.max(0, driftOf(values) ** 2 - 4 * square);
      return { offset: d - from, u: Math.sqrt(square + onItsWay), agrees: agree[i] === true };
    });
  }

  /** Within the limits of both, with at least half of the others that are heard. */
  #agrees(i: number, offsets: readonly number[]): boolean {
    let others = 0;
    let agreeing = 0;
    offsets.forEach((d, j) => {
      if (j === i || Number.isNaN(d)) return;
      others++;
      const apart = Math.abs(d - (offsets[i] ?? NaN));
      if (apart <= (this.#limits[i] ?? 0) + (this.#limits[j] ?? 0)) agreeing++;
    });
    return others > 0 && 2 * agreeing >= others;
  }

  #of(i: number): number[] {
    return this.#blocks.map((b) => b.deviation[i] ?? NaN);
  }

  /** Weighted mean over the probes that are known. */
  #mean(values: readonly number[]): number {
    let sum = 0;
    let weights = 0;
    values.forEach((v, i) => {
      if (Number.isNaN(v)) return;
      const w = this.#weights[i] ?? 0;
      sum += w * v;
      weights += w;
    });
    return sum / weights;
  }
}

/** Difference of the later half's mean from the earlier one's. */
function driftOf(values: readonly number[]): number {
  const half = values.length / 2;
  return average(values.slice(Math.ceil(half))) - average(values.slice(0, Math.floor(half)));
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
