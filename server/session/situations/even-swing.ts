/**
 * Whether a value swings evenly and quickly: one wave with a period of 5 to 30 s makes up most of what moves
 * in two minutes. Looked for each ten seconds; no clock.
 */

/** Two minutes are looked at, each ten seconds. */
const LOOKED_S = 120;
const EVERY_S = 10;
/** Periods looked for, as waves in that time: 30 to 5 s. */
const FEWEST = 4;
const MOST = 24;
/** The wave, with its neighbors and its first overtone, is this part of all that moves. */
const REGULAR = 0.6;
/** In so many looks in a row, with the same period give or take a wave. */
const LOOKS = 4;
/** After so many looks without it, it has ended. */
const GONE = 3;

export interface Swing {
  periodS: number;
  /** Half of the way there and back. */
  amplitude: number;
}

export class EvenSwing {
  readonly #least: number;
  readonly #values = new Float64Array(LOOKED_S).fill(NaN);
  readonly #even = new Float64Array(LOOKED_S);
  /** Seconds taken since something was missing. */
  #n = 0;
  #waves = 0;
  #looks = 0;
  #missed = 0;
  /** The swing that it is in, as it was first found; null: none. */
  found: Swing | null = null;

  /** @param least below this amplitude it is noise or rounding */
  constructor(least: number) {
    this.#least = least;
  }

  restart(): void {
    this.#n = 0;
    this.#looks = 0;
    this.#missed = 0;
    this.found = null;
  }

  /** Takes the value of one second; NaN where there is none. */
  second(value: number): void {
    if (Number.isNaN(value)) {
      this.restart();
      return;
    }
    this.#values[this.#n++ % LOOKED_S] = value;
    if (this.#n < LOOKED_S || this.#n % EVERY_S !== 0) return;
    const wave = this.#look();
    if (wave === null) {
      this.#looks = 0;
      if (++this.#missed >= GONE) this.found = null;
      return;
    }
    this.#looks = Math.abs(wave.waves - this.#waves) <= 1 ? this.#looks + 1 : 1;
    this.#waves = wave.waves;
    this.#missed = 0;
    if (this.#looks < LOOKS) return;
    this.found ??= { periodS: LOOKED_S / wave.waves, amplitude: wave.amplitude };
  }

  /** The one wave that the last two minutes are made of; null where they are not. */
  #look(): { waves: number; amplitude: number } | null {
    const variance = this.#straighten();
    if (variance < this.#least ** 2 / 2) return null;
    let best = 0;
    let most = 0;
    for (let waves = FEWEST; waves <= MOST; waves++) {
      const part = this.#power(waves);
      if (part <= most) continue;
      most = part;
      best = waves;
    }
    // The wave itself may lie between two of these.
    const below = this.#power(best - 1);
    const above = this.#power(best + 1);
    // What is slower than all that is looked for shows at the edge.
    if (below > most) return null;
    let power = below + most + above;
    const waves = best + (above - below) / power;
    for (const overtone of [2 * best - 1, 2 * best, 2 * best + 1]) power += this.#power(overtone);
    if (power < REGULAR * variance || power < this.#least ** 2 / 2) return null;
    return { waves, amplitude: Math.sqrt(2 * power) };
  }

  /** Takes the straight line out of the last two minutes. @returns the variance of what is left */
  #straighten(): number {
    const y = this.#even;
    let mean = 0;
    for (let i = 0; i < LOOKED_S; i++) {
      y[i] = this.#values[(this.#n + i) % LOOKED_S] ?? NaN;
      mean += (y[i] ?? 0) / LOOKED_S;
    }
    let xy = 0;
    for (let i = 0; i < LOOKED_S; i++) xy += (i - (LOOKED_S - 1) / 2) * (y[i] ?? 0);
    const slope = xy / ((LOOKED_S * (LOOKED_S ** 2 - 1)) / 12);
    let square = 0;
    for (let i = 0; i < LOOKED_S; i++) {
      const left = (y[i] ?? 0) - mean - slope * (i - (LOOKED_S - 1) / 2);
      y[i] = left;
      square += left * left;
    }
    return square / LOOKED_S;
  }

  /** The variance of the part that goes round so many times in the two minutes. */
  #power(waves: number): number {
    const step = (2 * Math.PI * waves) / LOOKED_S;
    const [turnC, turnS] = [Math.cos(step), Math.sin(step)];
    let [c, s] = [1, 0];
    let [sumC, sumS] = [0, 0];
    for (let i = 0; i < LOOKED_S; i++) {
      const y = this.#even[i] ?? 0;
      sumC += y * c;
      sumS += y * s;
      const next = c * turnC - s * turnS;
      s = s * turnC + c * turnS;
      c = next;
    }
    return (2 * (sumC * sumC + sumS * sumS)) / LOOKED_S ** 2;
  }
}
