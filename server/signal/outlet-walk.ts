/**
 * Walking the outlet: one probe is moved along it at an even pace while others stay. What it reads more
 * than they do, second by second, tells how far each of them is from the mean of the whole outlet, and
 * how much the air differs from spot to spot. Humidity goes along as the humidity ratio.
 *
 * A probe follows the air late, by a first-order lag τ: x = R + τ dR/dt. So the mean over the walk is
 * that of the readings plus τ (R_end − R_start)/T, and the spots' deviation is that of R + τ ΔR/Δt over
 * steps that are long against its noise. What the air does everywhere at once is in both probes and
 * cancels.
 *
 * Walked there and back, the same spot is read twice, and a probe that lags reads it late both times:
 * τ is taken so that both agree, as far as that says more than what is usual.
 */

/** A walk this long says something; what comes after this long is not looked at, s. */
export const LEAST_S = 45;
const MOST_S = 600;
/** A probe's usual lag, and how well that is known, s (common practice, no source). */
const LAG_S = 15;
const U_LAG_S = 8;
const LAGS_S = { least: 4, most: 40 };
/** How well two readings of one spot agree, K. */
const AGREE_K = 0.15;
/** Readings are taken together over steps so long, s. */
const STEP_S = 5;
/** One spot in so many seconds counts as another one: a degree of freedom. */
const SPOT_S = 10;
/** Held still it has settled when it has moved by less than this in this time, K, s. */
const STILL_K = 0.3;
const STILL_S = 15;
/** So much of the time must have been heard. */
const HEARD = 0.8;

/** What one probe reads: °C and kg/kg; NaN where it is not heard. */
export interface WalkReading {
  temperatureC: number;
  humidityRatio: number;
}

/** How far a probe that stayed reads from the mean of the outlet. */
export interface WalkBias {
  temperatureK: number;
  /** NaN where one of them tells no humidity. */
  humidityRatio: number;
}

export interface WalkResult {
  /** Standard deviation from spot to spot, K. */
  spotK: number;
  /** For how many degrees of freedom it counts. */
  degrees: number;
  /** Of those that stayed, in their order. */
  biases: readonly WalkBias[];
  /** Standard uncertainty of a bias by the lag that is not known, K. */
  uLagK: number;
}

export class OutletWalk {
  readonly #staying: number;
  /** Per second: the difference from each that stays, temperature and humidity ratio by turns. */
  readonly #rows: Float64Array[] = [];
  #heard = 0;

  /** @param staying how many probes stay */
  constructor(staying: number) {
    this.#staying = staying;
  }

  /** Seconds so far. */
  get seconds(): number {
    return this.#rows.length;
  }

  /** Takes one second. */
  second(moving: WalkReading, staying: readonly WalkReading[]): void {
    if (this.#rows.length >= MOST_S) return;
    const row = new Float64Array(2 * this.#staying);
    let complete = true;
    staying.forEach((each, i) => {
      row[2 * i] = moving.temperatureC - each.temperatureC;
      row[2 * i + 1] = moving.humidityRatio - each.humidityRatio;
      complete &&= !Number.isNaN(row[2 * i]);
    });
    this.#rows.push(row);
    if (complete) this.#heard++;
  }

  /** It goes from here on: what was before was its way to the place. */
  go(): void {
    this.#rows.length = 0;
    this.#heard = 0;
  }

  /** Whether the probe that is held still has come to the air where it is. */
  get settled(): boolean {
    const last = this.#rows.slice(-STILL_S).map((row) => row[0] ?? NaN);
    return last.length === STILL_S && Math.max(...last) - Math.min(...last) < STILL_K;
  }

  /** Whether most of it has been heard. */
  get audible(): boolean {
    return this.#heard >= HEARD * this.#rows.length;
  }

  /** What it tells so far; null while that is too little. */
  result(): WalkResult | null {
    if (this.#rows.length < LEAST_S || !this.audible) return null;
    const first = this.#steps(0);
    if (first.length < LEAST_S / STEP_S / 2) return null;
    const lagS = lagOf(first);
    const biases: WalkBias[] = [];
    for (let i = 0; i < this.#staying; i++) {
      biases.push({
        // The one that stays reads less where the one that moves reads more.
        temperatureK: -this.#mean(this.#steps(2 * i), lagS),
        humidityRatio: -this.#mean(this.#steps(2 * i + 1), lagS),
      });
    }
    return {
      spotK: deviation(first.map((x, i) => x + lagS * slope(first, i))),
      degrees: Math.max(3, Math.floor(this.#rows.length / SPOT_S)),
      biases,
      uLagK: (U_LAG_S * Math.abs(travel(first))) / this.#rows.length,
    };
  }

  /** Means over equal steps of one column; a step without a reading is left out. */
  #steps(column: number): number[] {
    const steps: number[] = [];
    const count = Math.floor(this.#rows.length / STEP_S);
    const end = (k: number): number => Math.round((k * this.#rows.length) / count);
    for (let k = 0; k < count; k++) {
      let sum = 0;
      let n = 0;
      for (let j = end(k); j < end(k + 1); j++) {
        const value = this.#rows[j]?.[column] ?? NaN;
        if (Number.isNaN(value)) continue;
        sum += value;
        n++;
      }
      if (n > 0) steps.push(sum / n);
    }
    return steps;
  }

  /** The mean of the air, from the readings of a probe that follows late. */
  #mean(steps: readonly number[], lagS: number): number {
    if (steps.length === 0) return NaN;
    const mean = steps.reduce((sum, x) => sum + x, 0) / steps.length;
    return mean + (lagS * travel(steps)) / (steps.length * STEP_S);
  }
}

/** From the first step to the last. */
const travel = (steps: readonly number[]): number => (steps.at(-1) ?? NaN) - (steps[0] ?? NaN);

/** How fast it changes about a step, 1/s. */
function slope(steps: readonly number[], i: number): number {
  const from = Math.max(0, i - 1);
  const to = Math.min(steps.length - 1, i + 1);
  return ((steps[to] ?? NaN) - (steps[from] ?? NaN)) / ((to - from) * STEP_S);
}

/**
 * The lag with which the way back agrees best with the way there, folded at half time: least squares
 * of R + τ R′ at both, with what is usual as a first guess (a ridge).
 */
function lagOf(steps: readonly number[]): number {
  // Who ends elsewhere has not gone back.
  if (Math.abs(travel(steps)) > (Math.max(...steps) - Math.min(...steps)) / 2) return LAG_S;
  let product = 0;
  let square = 0;
  for (let i = 0; i < steps.length >> 1; i++) {
    const back = steps.length - 1 - i;
    const apart = (steps[i] ?? NaN) - (steps[back] ?? NaN);
    const turns = slope(steps, i) - slope(steps, back);
    product += apart * turns;
    square += turns * turns;
  }
  const known = (AGREE_K / U_LAG_S) ** 2;
  const lagS = (known * LAG_S - product) / (known + square);
  return Math.min(LAGS_S.most, Math.max(LAGS_S.least, lagS));
}

function deviation(values: readonly number[]): number {
  const mean = values.reduce((sum, x) => sum + x, 0) / values.length;
  const square = values.reduce((sum, x) => sum + (x - mean) ** 2, 0);
  return Math.sqrt(square / (values.length - 1));
}
