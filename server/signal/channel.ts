/**
 * One quantity of one probe over time: the newest value that can be believed, the rhythm in which
 * readings come, and so whether the value is still live. Constant work a reading, no clock.
 *
 * A lone spike does not show: a reading far from the last believed one is held until the next
 * reading of the same quantity tells whether it was a step (then both are believed) or a spike.
 */

/** Longer of this and three usual intervals without a reading: stale, ms. */
export const STALE_MS = 10_000;
/** Stands in for three intervals until a second reading has shown the rhythm, ms. */
const UNKNOWN_RHYTHM_MS = 90_000;
/** A probe rarer than once in a quarter of an hour is not live between its readings, ms. */
const SLOWEST_MS = 900_000;
/** Readings whose times are kept, to find the rhythm and readings that come twice. */
const KEPT = 32;

/** Where intervals are sorted: of use within one call only. */
const GAPS = new Float64Array(KEPT - 1);

/** How a quantity may move between two readings before the second needs a witness. */
export interface SpikeRule {
  /** Smallest step that is suspicious, in the quantity's unit. */
  readonly floor: number;
  /** The floor grows by itself once in so many ms between readings: a slow logger sees large steps. */
  readonly perMs: number;
}

/** Common practice, no source: well above sensor noise, below what a bad contact or code gives. */
export const SPIKE_RULES = {
  temperatureC: { floor: 1.5, perMs: 8_000 },
  humidityPct: { floor: 6, perMs: 8_000 },
  dewPointC: { floor: 2, perMs: 8_000 },
  velocityMs: { floor: 0.8, perMs: 8_000 },
  pressurePa: { floor: 300, perMs: 8_000 },
  powerW: null,
} as const satisfies Record<string, SpikeRule | null>;

export type Taken = 'taken' | 'held' | 'late' | 'duplicate';

export class Channel {
  readonly #rule: SpikeRule | null;
  readonly #times = new Float64Array(KEPT);
  #count = 0;
  /** The median interval, and the one that nearly all readings keep to, bursts and lost ones included. */
  #usualMs = NaN;
  #keptToMs = NaN;
  /** How many readings had come when these were worked out. */
  #rhythmOf = 0;
  /** Time of the newest reading, held ones included. */
  #seenT = -Infinity;
  /** Newest believed value. */
  #value = NaN;
  #valueT = -Infinity;
  /** Typical step between readings: a slow average of their sizes. */
  #step = 0;
  #held = NaN;
  /** Believed readings since the last `take`. */
  #sum = 0;
  #n = 0;
  spikes = 0;

  constructor(rule: SpikeRule | null) {
    this.#rule = rule;
  }

  /** Time of the newest reading, ms; −∞ before the first. */
  get lastT(): number {
    return this.#seenT;
  }

  /** Takes one reading. Late ones (older than the newest) and repeated ones change nothing. */
  add(t: number, value: number): Taken {
    if (t <= this.#seenT) return this.#has(t) ? 'duplicate' : 'late';
    const gap = t - this.#seenT;
    this.#seenT = t;
    this.#times[this.#count % KEPT] = t;
    this.#count++;
    if (this.#rule !== null && this.#suspicious(value, gap)) {
      this.#held = value;
      return 'held';
    }
    this.#believe(t, value);
    return 'taken';
  }

  #suspicious(value: number, gap: number): boolean {
    const rule = this.#rule;
    const step = Math.abs(value - this.#value);
    // Written so that the first reading (no value yet: NaN) is never suspicious.
    if (rule === null || !(step > rule.floor)) return this.#drop();
    if (step <= rule.floor * (1 + gap / rule.perMs) + 6 * this.#step) return this.#drop();
    const held = this.#held;
    this.#held = NaN;
    // Of the first two either may be the wrong one: the newer one is shown, a third will tell.
    if (this.#count === 2) return false;
    if (Math.abs(value - held) < step) return false; // the witness: it was a step
    if (held === held) this.spikes++;
    return true;
  }

  /** Nothing suspicious: whatever was held was a spike. */
  #drop(): false {
    if (this.#held === this.#held) {
      this.spikes++;
      this.#held = NaN;
    }
    return false;
  }

  #believe(t: number, value: number): void {
    const step = Math.abs(value - this.#value);
    // Clipped: a real step must not make a spike after it pass for another.
    const most = this.#rule?.floor ?? Infinity;
    if (step === step) this.#step += 0.1 * (Math.min(step, most / 3) - this.#step);
    this.#value = value;
    this.#valueT = t;
    this.#sum += value;
    this.#n++;
  }

  #has(t: number): boolean {
    const kept = Math.min(this.#count, KEPT);
    for (let i = 0; i < kept; i++) if (this.#times[i] === t) return true;
    return false;
  }

  /** Whether anything was believed since the last `take`. */
  get fresh(): boolean {
    return this.#n > 0;
  }

  /**
   * The mean of what came since the last call, else the newest value: a fast probe is averaged over
   * the second, a slow one stands. NaN before the first reading. Does not look at age.
   */
  take(): number {
    const value = this.#n > 0 ? this.#sum / this.#n : this.#value;
    this.#sum = 0;
    this.#n = 0;
    return value;
  }

  /** The newest believed value; NaN before the first. */
  get value(): number {
    return this.#value;
  }

  /** The usual interval between readings, ms: the median of the last ones; null until the second. */
  intervalMs(): number | null {
    if (this.#count < 2) return null;
    this.#rhythm();
    return this.#usualMs;
  }

  /** Sorts the intervals between the kept readings, unless there is no newer one since it last did. */
  #rhythm(): void {
    if (this.#rhythmOf === this.#count) return;
    this.#rhythmOf = this.#count;
    const n = Math.min(this.#count, KEPT) - 1;
    const gaps = GAPS.subarray(0, n);
    // Readings are kept in order of time: each is newer than all before it.
    for (let i = 0; i < n; i++) {
      gaps[i] = this.#timeOf(this.#count - 1 - i) - this.#timeOf(this.#count - 2 - i);
    }
    gaps.sort();
    const at = (quantile: number): number => gaps[Math.min(n - 1, Math.floor(quantile * n))] ?? NaN;
    this.#usualMs = at(0.5);
    this.#keptToMs = at(0.85);
  }

  /** Time of the reading that was the n-th, from 0. */
  #timeOf(n: number): number {
    return this.#times[n % KEPT] ?? NaN;
  }

  /** How old the newest believed value is at `now`, ms. */
  ageMs(now: number): number {
    return now - this.#valueT;
  }

  /** From which age on the value is stale, ms. */
  staleAfterMs(): number {
    if (this.#count < 2) return UNKNOWN_RHYTHM_MS;
    this.#rhythm();
    return Math.max(STALE_MS, 3 * Math.min(this.#keptToMs, SLOWEST_MS));
  }

  /** From when on the newest believed value is stale, ms; −∞ before the first. */
  liveUntil(): number {
    return this.#valueT + Math.max(STALE_MS, this.staleAfterMs());
  }

  /** True while the value may be used at `now`. */
  live(now: number): boolean {
    const age = this.ageMs(now);
    return age < STALE_MS || age < this.staleAfterMs();
  }

  /** True when live, but later than the rhythm promises: half the time to stale has gone. */
  late(now: number): boolean {
    const age = this.ageMs(now);
    return age >= STALE_MS / 2 && age >= this.staleAfterMs() / 2 && this.live(now);
  }
}
