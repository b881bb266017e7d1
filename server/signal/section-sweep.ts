/**
 * One section of an opening under a sweep: the mean over time of what the anemometer reads while it is
 * moved, and what that tells of the sweep. Constant work a reading; all times in ms of the readings.
 */
import { MeanScatter } from './scatter.ts';

/** Readings further apart than so many usual intervals, and than this, leave a gap that counts nothing. */
const GAP_INTERVALS = 3;
const GAP_MS = 2000;
/** Slower than this the head is not in the stream, m/s; for so long, and it was taken away, ms. */
const AWAY_MS = 0.3;
const AWAY_AFTER_MS = 3000;

export interface SweptSection {
  /** Mean over the time that counts, m/s; NaN before the first reading. */
  meanMs: number;
  /** Time that counts, s. */
  seconds: number;
  readings: number;
  /** Standard deviation of the readings as a part of the mean. */
  variation: number;
  /** Standard uncertainty of the mean by how the readings scatter, as a part of it. */
  u: number;
  /** The first half of the time less the second half, as a part of the mean; 0 for a single reading. */
  drift: number;
  /** Stretches in which nothing came, and in which the head was not in the stream, s. */
  gapS: number;
  awayS: number;
  /** Part of the time that the air went the other way. */
  reversed: number;
}

/**
 * A vane held in a stream tells something new this seldom, s: eddies of 0.2 to 1 s, and a vane that takes
 * 0.5 to 1.5 s to follow (an assumption; tried on such streams, where it holds 90 to 96 % of the means
 * over 5 to 30 s).
 */
const NEW_S = 3;

/**
 * Standard uncertainty of the mean at a point that is held, as a part of it. A hold is too short for what
 * judges a capacity (a minute at least), and too short to show by itself how slowly it hovers: so it
 * hovers no faster than a usual stream, or slower where that is seen.
 */
export function heldU({ u, variation, seconds }: SweptSection): number {
  const share = Math.min(0.5, NEW_S / seconds);
  // What is seen of the variance lacks that of the mean itself.
  return Math.max(u, variation * Math.sqrt(share / (1 - share)));
}

export class SectionSweep {
  readonly #moves: boolean;
  #runs: boolean;
  /** Where what counts has been added up to, ms. */
  #upTo: number;
  #last = NaN;
  #lastT = NaN;
  #intervalMs = NaN;
  #ms = 0;
  #sum = 0;
  #reversedMs = 0;
  #gapMs = 0;
  #awayMs = 0;
  /** The still stretch that has not lasted long enough to be called away. */
  #still = { ms: 0, sum: 0 };
  readonly #scatter = new MeanScatter();
  /** Running sums, once a second of what counts: time and its integral. */
  readonly #course: { ms: number; sum: number }[] = [{ ms: 0, sum: 0 }];

  /**
   * It begins at `t`.
   * @param moves whether the head is moved: one that reads nothing for a while was then taken away; held
   *   at a point, nothing is what blows there
   */
  constructor(t: number, moves: boolean) {
    this.#upTo = t;
    this.#runs = true;
    this.#moves = moves;
  }

  /** Whether the head is out of the stream just now: nothing counts. */
  get isAway(): boolean {
    return this.#still.ms >= AWAY_AFTER_MS;
  }

  /** The reading of `t`; those of a pause are passed over. */
  add(t: number, velocityMs: number): void {
    if (!this.#runs || t < this.#upTo) return;
    const gap = t - (Number.isNaN(this.#lastT) ? this.#upTo : this.#lastT);
    const isGap = gap > this.#longestMs;
    if (isGap) {
      // The reading before it holds no longer than usual.
      this.#hold(this.#upTo + Math.min(gap, this.#usualMs));
      this.#gapMs += Math.max(0, t - this.#upTo);
      this.#upTo = t;
    } else {
      const mean = Number.isNaN(this.#last) ? velocityMs : (this.#last + velocityMs) / 2;
      this.#count(t, mean);
      if (!Number.isNaN(this.#lastT)) {
        this.#intervalMs = Number.isNaN(this.#intervalMs)
          ? gap
          : this.#intervalMs + (gap - this.#intervalMs) / 8;
      }
    }
    this.#last = velocityMs;
    this.#lastT = t;
    if (!this.isAway) this.#scatter.add(velocityMs);
  }

  /** Nothing counts from `t` on. */
  pause(t: number): void {
    if (!this.#runs) return;
    this.#hold(Math.min(t, this.#upTo + this.#usualMs));
    this.#runs = false;
  }

  resume(t: number): void {
    if (this.#runs) return;
    this.#runs = true;
    this.#upTo = t;
    this.#last = this.#lastT = NaN;
  }

  clockSet(shiftMs: number): void {
    this.#upTo += shiftMs;
    this.#lastT += shiftMs;
  }

  result(): SweptSection {
    const mean = this.#sum / this.#ms;
    const { n } = this.#scatter;
    // The scatter of single readings from that of their mean.
    const u = this.#scatter.u;
    return {
      meanMs: mean,
      seconds: this.#ms / 1000,
      readings: n,
      variation: n < 2 ? 0 : (u * Math.sqrt(this.#scatter.effectiveN)) / Math.abs(mean),
      u: u / Math.abs(mean),
      drift: this.#drift(mean),
      gapS: this.#gapMs / 1000,
      awayS: (this.#awayMs + (this.isAway ? this.#still.ms : 0)) / 1000,
      reversed: this.#ms === 0 ? 0 : this.#reversedMs / this.#ms,
    };
  }

  get #usualMs(): number {
    return Number.isNaN(this.#intervalMs) ? 1000 : this.#intervalMs;
  }

  get #longestMs(): number {
    return Math.max(GAP_MS, GAP_INTERVALS * this.#usualMs);
  }

  /** The last reading holds up to `t`. */
  #hold(t: number): void {
    if (!Number.isNaN(this.#last) && t > this.#upTo) this.#count(t, this.#last);
  }

  /** The velocity was `v` from where it was added up to until `t`. */
  #count(t: number, v: number): void {
    const ms = t - this.#upTo;
    this.#upTo = t;
    if (v < 0) this.#reversedMs += ms;
    if (this.#moves && Math.abs(v) < AWAY_MS) {
      this.#still.ms += ms;
      this.#still.sum += v * ms;
      return;
    }
    if (this.isAway) this.#awayMs += this.#still.ms;
    else this.#put(this.#still.ms, this.#still.sum);
    this.#still = { ms: 0, sum: 0 };
    this.#put(ms, v * ms);
  }

  #put(ms: number, sum: number): void {
    this.#ms += ms;
    this.#sum += sum;
    if (this.#ms - (this.#course.at(-1)?.ms ?? 0) >= 1000) {
      this.#course.push({ ms: this.#ms, sum: this.#sum });
    }
  }

  #drift(mean: number): number {
    const half = this.#course.find(({ ms }) => ms >= this.#ms / 2);
    if (half === undefined || half.ms === this.#ms || this.#course.length < 3) return 0;
    const first = half.sum / half.ms;
    const second = (this.#sum - half.sum) / (this.#ms - half.ms);
    return (first - second) / mean;
  }
}
