/**
 * The mean that a difference has come to, second by second, after something was switched: its last
 * stretch, with how that scatters and how far it may still have to go.
 */
import { MeanScatter } from './scatter.ts';

/** No more than the last so many seconds are kept, unless fewer are asked for. */
const MOST_S = 3600;
/** The stretch is the last half, of so many seconds at least. */
const LEAST_S = 60;

export interface Settled {
  mean: number;
  /** Standard uncertainty by scatter, and by what may still be to come (half of a rectangle). */
  u: number;
  /** How far it may still have to go, and which way. */
  ahead: number;
  seconds: number;
}

export class SettledMean {
  readonly #values: number[] = [];
  readonly #mostS: number;

  constructor(mostS = MOST_S) {
    this.#mostS = mostS;
  }

  /** Takes a second; NaN where it is not known. */
  second(value: number): void {
    if (Number.isNaN(value)) return;
    this.#values.push(value);
    if (this.#values.length > this.#mostS) this.#values.shift();
  }

  get seconds(): number {
    return this.#values.length;
  }

  /** Null before there is enough. */
  result(): Settled | null {
    const n = this.#values.length;
    const seconds = Math.max(LEAST_S, Math.floor(n / 2));
    if (n < seconds) return null;
    const last = this.#values.slice(n - seconds);
    const scatter = new MeanScatter();
    for (const value of last) scatter.add(value);
    const ahead = stillToCome(last);
    return {
      mean: scatter.mean,
      u: Math.hypot(scatter.u, ahead / Math.sqrt(3)),
      ahead,
      seconds,
    };
  }
}

/** Means of fewer seconds are not compared with each other. */
const THIRD_LEAST = 10;

/**
 * What an exponential approach has still ahead of the mean of a stretch: three equal thirds give its
 * end (Aitken's extrapolation); where they do not get closer, what the last two differ by.
 */
function stillToCome(values: readonly number[]): number {
  const n = Math.floor(values.length / 3);
  if (n < THIRD_LEAST) return 0;
  const mean = (from: number): number => {
    let sum = 0;
    for (let i = from; i < from + n; i++) sum += values[i] ?? NaN;
    return sum / n;
  };
  const start = values.length - 3 * n;
  const a = mean(start);
  const b = mean(start + n);
  const c = mean(start + 2 * n);
  const middle = (a + b + c) / 3;
  const first = b - a;
  const second = c - b;
  const ratio = second / first;
  const end = ratio > 0 && ratio < 0.9 ? c + (second * ratio) / (1 - ratio) : c + second;
  return end - middle;
}
