/**
 * The mean velocity of one spot in a turbulent stream: over the last minutes, or since it has last
 * jumped, so that it is calm while the fan is and follows soon when it is not.
 *
 * Where the seconds scatter by 8 % (three tenths of a deviation last into the next), a mean of 60 s
 * still wanders by 1.4 %, one of two minutes by 1.0 %, one of four by 0.7 %: less than what settling looks for.
 * A fan that slows down by a third is followed to 5 % after some 20 s.
 */

/** So long is averaged, ms, and at least so many readings where they come seldom. */
const WINDOW_MS = 240_000;
const FEWEST = 5;
/** A jump: the last so many readings differ from those before by more than this, and than their scatter. */
const LAST = [5, 20] as const;
const JUMP = 0.1;
const SIGMAS = 5;
/** Turbulence lasts from one second to the next: its mean scatters by so much more, as a variance. */
const LASTS = 2;

export class SpotMean {
  readonly #t: number[] = [];
  readonly #v: number[] = [];
  #sum = 0;
  #square = 0;

  /** Takes a reading; times rise. */
  add(t: number, v: number): void {
    this.#t.push(t);
    this.#v.push(v);
    this.#sum += v;
    this.#square += v * v;
    while (this.#t.length > FEWEST && (this.#t[0] ?? t) <= t - WINDOW_MS) this.#shift();
    for (const last of LAST) this.#jump(last);
  }

  /** NaN where there is no reading. */
  get value(): number {
    return this.#sum / this.#v.length;
  }

  /** Its standard uncertainty by turbulence, as a part of it. */
  get u(): number {
    const n = this.#v.length;
    return Math.sqrt((LASTS * this.#variance()) / n) / this.value;
  }

  /** From its first reading to its last, ms. */
  get spanMs(): number {
    return (this.#t.at(-1) ?? NaN) - (this.#t[0] ?? NaN);
  }

  forgetBefore(t: number): void {
    while ((this.#t[0] ?? Infinity) < t) this.#shift();
  }

  clear(): void {
    this.#keep(0);
  }

  /** Where the last so many readings are of another velocity, those before are let go. */
  #jump(last: number): void {
    const n = this.#v.length;
    const earlier = n - last;
    if (earlier < FEWEST) return;
    let sum = 0;
    for (let i = earlier; i < n; i++) sum += this.#v[i] ?? NaN;
    const before = (this.#sum - sum) / earlier;
    const now = sum / last;
    const step = Math.abs(now - before);
    if (step <= JUMP * before) return;
    // What each of the two scatters by, without the step between them.
    const scatter = (this.#square - earlier * before ** 2 - last * now ** 2) / n;
    const least = SIGMAS ** 2 * LASTS * Math.max(scatter, 0) * (1 / last + 1 / earlier);
    if (step ** 2 <= least) return;
    this.#keep(last);
    // The first of these are mostly of before, or on the way.
    while (Math.abs((this.#v[0] ?? NaN) - before) < Math.abs((this.#v[0] ?? NaN) - now)) {
      this.#shift();
    }
  }

  #variance(): number {
    return Math.max(this.#square / this.#v.length - this.value ** 2, 0);
  }

  #keep(last: number): void {
    while (this.#v.length > last) this.#shift();
  }

  #shift(): void {
    this.#t.shift();
    const v = this.#v.shift() ?? 0;
    this.#sum -= v;
    this.#square -= v * v;
    if (this.#v.length === 0) this.#sum = this.#square = 0;
  }
}
