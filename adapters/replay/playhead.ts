/**
 * Where in a recording one is: it moves on at its speed, stands while it is paused, and is put wherever
 * somebody jumps to. It is told the time; it keeps no timer.
 */

/** Who is further behind than this goes on from here instead of catching up in a rush, ms. */
const LATE_MS = 1000;

export class Playhead {
  readonly #now: () => number;
  #anchor: { t: number; at: number } | null = null;
  #speed: number;
  #paused = false;

  /**
   * @param now the clock for the pace, ms
   * @param speed how many times faster than it was recorded, or Infinity
   */
  constructor(now: () => number, speed: number) {
    this.#now = now;
    this.#speed = speed;
  }

  get speed(): number {
    return this.#speed;
  }

  set speed(speed: number) {
    this.#hold();
    this.#speed = speed;
  }

  get paused(): boolean {
    return this.#paused;
  }

  set paused(paused: boolean) {
    this.#hold();
    this.#paused = paused;
  }

  /** The recording's time now, ms; null before its first line. */
  get t(): number | null {
    const anchor = this.#anchor;
    if (anchor === null) return null;
    const passedMs = this.#now() - anchor.at;
    return this.#paused || passedMs <= 0 ? anchor.t : anchor.t + passedMs * this.#speed;
  }

  put(t: number): void {
    this.#anchor = { t, at: this.#now() };
  }

  /** Nothing of the recording has come yet. */
  clear(): void {
    this.#anchor = null;
  }

  /** How long until `t` by the clock, ms, below 0 where it is over; Infinity while it is paused. */
  untilMs(t: number): number {
    this.#anchor ??= { t, at: this.#now() };
    if (this.#paused) return Infinity;
    if (this.#speed === Infinity) return 0;
    return this.#anchor.at + (t - this.#anchor.t) / this.#speed - this.#now();
  }

  /** A line of `t` is handed over: after a sleep of the computer it goes on from there. */
  passed(t: number): void {
    if (this.untilMs(t) < -LATE_MS) this.put(t);
  }

  #hold(): void {
    const { t } = this;
    if (t !== null) this.put(t);
  }
}
