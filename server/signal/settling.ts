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
/** Once steady, it takes this much more than the band to stop being so. */
const HYSTERESIS = 1.5;

export type SettlingState = 'waiting' | 'settling' | 'steady';

export class Settling {
  state: SettlingState = 'waiting';
  /** Since when it is in this state; null before the first second. */
  since: number | null = null;
  /** Where the data begin that made it steady. */
  steadyFrom: number | null = null;

  readonly #blocks: number[] = [];
  #sum = 0;
  #n = 0;
  #blockFrom = 0;

  /** Begins anew: a setpoint, a fan speed, another airflow, a moved probe. */
  restart(t: number): void {
    this.#clear();
    if (this.state !== 'waiting') this.#become('settling', t);
  }

  /** Takes the capacity of one second, W; null where there is none. */
  add(t: number, watts: number | null): void {
    if (watts === null) {
      this.#clear();
      this.#become('waiting', t);
      return;
    }
    this.since ??= t;
    if (this.#n === 0) this.#blockFrom = t;
    this.#sum += watts;
    this.#n++;
    if (this.#n < BLOCK_S) return;
    this.#blocks.push(this.#sum / this.#n);
    if (this.#blocks.length > BLOCKS) this.#blocks.shift();
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
    const half = BLOCKS / 2;
    const drift = average(this.#blocks.slice(half)) - average(this.#blocks.slice(0, half));
    if (range <= band && Math.abs(drift) <= HALVES * band) {
      if (this.state !== 'steady') {
        this.steadyFrom = this.#blockFrom - (BLOCKS - 1) * BLOCK_S * 1000;
        this.#become('steady', t);
      }
    } else {
      this.#become('settling', t);
    }
  }

  #become(state: SettlingState, t: number): void {
    if (state !== 'steady') this.steadyFrom = null;
    if (this.state === state && this.since !== null) return;
    this.state = state;
    this.since = t;
  }

  #clear(): void {
    this.#blocks.length = 0;
    this.#sum = 0;
    this.#n = 0;
  }
}

function average(values: readonly number[]): number {
  let sum = 0;
  for (const v of values) sum += v;
  return sum / values.length;
}
