/**
 * Whether a capacity has stopped moving, in its simplest honest form: six consecutive means of
 * 30 s (three minutes) that lie within a band, and whose two halves do not differ. Constant work a
 * second, no clock. It says `settling` in all other cases, also while a unit cycles.
 */

/** Length of one block, in seconds of data. */
const BLOCK_S = 30;
const BLOCKS = 6;
/** The band: 3 % of the mean, and never tighter than 40 W (common practice, no source). */
const BAND = 0.03;
const BAND_W = 40;
/** The halves may differ by half of the band. */
const HALVES = 0.5;
/** Readings that both places must have given in the blocks: three of a logger once a minute. */
const ENOUGH = 3;
/** Once steady, it takes this much more than the band to stop being so. */
const HYSTERESIS = 1.5;
/** So many seconds in a row further than twice the band from the mean end it at once. */
const COLLAPSE_S = 5;

export type SettlingState = 'waiting' | 'settling' | 'steady' | 'cycling';

/** A span of which a mean says something, ms since the epoch; it grows until it is over. */
export interface Span {
  kind: 'steady' | 'cycling';
  from: number;
  /** Judged up to here: for cycles the end of the last whole one. */
  to: number;
}

export class Settling {
  state: SettlingState = 'waiting';
  /** Since when it is in this state; null before the first second. */
  since: number | null = null;
  /** The span that may be averaged: steady so far, or whole cycles so far; null where there is none. */
  span: Span | null = null;
  /** True in the second in which a cycle ends and the next begins. */
  cycleEnds = false;
  /** The test: that of the field, or the strict one. */
  strict = false;

  readonly #blocks: number[] = [];
  /** Readings heard in each block, of the place that was heard least. */
  readonly #heard: number[] = [];
  #returns = 0;
  #supplies = 0;
  #sum = 0;
  #n = 0;
  #mean = 0;
  #away = 0;

  /** Begins anew: a setpoint, a fan speed, another airflow, a moved probe. */
  restart(t: number): void {
    this.#clear();
    if (this.state !== 'waiting') this.#become('settling', t);
  }

  /**
   * Takes the capacity of one second, W; null where there is none.
   * @param fresh whether return and supply were heard anew in this second
   */
  add(t: number, watts: number | null, fresh: { ret: boolean; sup: boolean }): void {
    if (watts === null) {
      this.#clear();
      this.#become('waiting', t);
      return;
    }
    this.since ??= t;
    if (this.#collapsed(watts)) {
      this.restart(t);
      return;
    }
    this.#sum += watts;
    this.#n++;
    if (fresh.ret) this.#returns++;
    if (fresh.sup) this.#supplies++;
    if (this.#n < BLOCK_S) return;
    this.#blocks.push(this.#sum / this.#n);
    this.#heard.push(Math.min(this.#returns, this.#supplies));
    if (this.#blocks.length > BLOCKS) {
      this.#blocks.shift();
      this.#heard.shift();
    }
    this.#returns = 0;
    this.#supplies = 0;
    this.#sum = 0;
    this.#n = 0;
    this.#judge(t);
  }

  #judge(t: number): void {
    if (this.#blocks.length < BLOCKS) {
      if (this.state === 'waiting') this.#become('settling', t);
      return;
    }
    const mean = average(this.#blocks);
    const band =
      Math.max(BAND_W, BAND * Math.abs(mean)) * (this.state === 'steady' ? HYSTERESIS : 1);
    const range = Math.max(...this.#blocks) - Math.min(...this.#blocks);
    // Values that merely stand because nothing came are no proof of anything.
    const heard = this.#heard.reduce((sum, n) => sum + n, 0);
    const half = BLOCKS / 2;
    const drift = average(this.#blocks.slice(half)) - average(this.#blocks.slice(0, half));
    if (heard >= ENOUGH && range <= band && Math.abs(drift) <= HALVES * band) {
      this.#mean = mean;
      this.span ??= { kind: 'steady', from: t - (BLOCKS * BLOCK_S - 1) * 1000, to: t };
      this.span.to = t;
      this.#become('steady', t);
    } else {
      this.#become('settling', t);
    }
  }

  /** True when a steady figure has plainly gone: waiting for the block's end would show it as live. */
  #collapsed(watts: number): boolean {
    if (this.state !== 'steady') return false;
    const away = Math.abs(watts - this.#mean) > 2 * Math.max(BAND_W, BAND * Math.abs(this.#mean));
    this.#away = away ? this.#away + 1 : 0;
    return this.#away >= COLLAPSE_S;
  }

  #become(state: SettlingState, t: number): void {
    if (state !== 'steady') this.span = null;
    if (this.state === state && this.since !== null) return;
    this.state = state;
    this.since = t;
  }

  #clear(): void {
    this.#blocks.length = 0;
    this.#heard.length = 0;
    this.#returns = 0;
    this.#supplies = 0;
    this.#sum = 0;
    this.#n = 0;
    this.#away = 0;
  }
}

function average(values: readonly number[]): number {
  let sum = 0;
  for (const v of values) sum += v;
  return sum / values.length;
}
