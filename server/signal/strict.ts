/**
 * The strict test for steady, after the shape of ANSI/ASHRAE 37's tolerances: over 30 minutes the
 * range of each air temperature stays within its test operating tolerance. In a house nobody sets the
 * conditions, so in place of the deviation from a wanted mean the means of both halves are compared,
 * against the test condition tolerance.
 *
 * Tolerances (ANSI/ASHRAE 37-2009 Table 2b as given in 10 CFR 430 App. M, from memory of these
 * documents): dry bulb 2.0 °F range, 0.5 °F mean; wet bulb 1.0 °F range, 0.3 °F mean.
 */

/** How long, s. */
export const STRICT_S = 1800;
/** Means over so many seconds are what "a reading" is here: probe noise is no range of the air. */
const READING_S = 10;
const READINGS = STRICT_S / READING_S;
/** So many of them may be unknown: a probe that is late for a moment is no reason to begin anew. */
const MOST_UNKNOWN = READINGS / 10;
const RANGE_K = { dryBulb: 1.1, wetBulb: 0.56 };
const MEAN_K = { dryBulb: 0.28, wetBulb: 0.17 };
const INPUTS = 4;

/** The air in and out, °C; wet bulbs NaN where no humidity is known. */
export interface StrictAir {
  returnC: number;
  returnWetC: number;
  supplyC: number;
  supplyWetC: number;
}

export class Strict {
  readonly #rings = Array.from({ length: INPUTS }, () => new Float64Array(READINGS));
  readonly #sums = new Float64Array(INPUTS);
  /** Of how many seconds each sum is. */
  readonly #known = new Float64Array(INPUTS);
  #n = 0;
  #readings = 0;

  /** Takes one second. */
  second(air: StrictAir): void {
    this.#take(0, air.returnC);
    this.#take(1, air.returnWetC);
    this.#take(2, air.supplyC);
    this.#take(3, air.supplyWetC);
    if (++this.#n < READING_S) return;
    for (let i = 0; i < INPUTS; i++) {
      const ring = this.#rings[i];
      // Of no known second: 0/0, NaN.
      if (ring !== undefined) {
        ring[this.#readings % READINGS] = (this.#sums[i] ?? 0) / (this.#known[i] ?? 0);
      }
    }
    this.#readings++;
    this.#open();
  }

  #take(input: number, value: number): void {
    if (value !== value) return;
    this.#sums[input] = (this.#sums[input] ?? 0) + value;
    this.#known[input] = (this.#known[input] ?? 0) + 1;
  }

  /** Begins the next reading. */
  #open(): void {
    this.#sums.fill(0);
    this.#known.fill(0);
    this.#n = 0;
  }

  /** How long it has to be looked at before it can hold, s; null: after that nobody can say. */
  get leftS(): number | null {
    const leftS = STRICT_S - this.#readings * READING_S - this.#n;
    return leftS > 0 ? leftS : null;
  }

  /** Whether the last 30 minutes are within all tolerances. */
  holds(): boolean {
    return (
      this.#readings >= READINGS &&
      this.#rings.every((ring, i) => {
        const wet = i % 2 === 1;
        // A wet bulb that is never known is not asked for (heating without humidity).
        if (wet && ring.every((v) => v !== v)) return true;
        return this.#within(ring, wet ? 'wetBulb' : 'dryBulb');
      })
    );
  }

  #within(ring: Float64Array, of: keyof typeof RANGE_K): boolean {
    let low = Infinity;
    let high = -Infinity;
    const sums = [0, 0];
    const known = [0, 0];
    for (let i = 0; i < READINGS; i++) {
      const v = ring[(this.#readings + i) % READINGS] ?? NaN;
      if (v !== v) continue;
      if (v < low) low = v;
      if (v > high) high = v;
      const half = i < READINGS / 2 ? 0 : 1;
      sums[half] = (sums[half] ?? 0) + v;
      known[half] = (known[half] ?? 0) + 1;
    }
    const [older = 0, newer = 0] = known;
    if (older + newer < READINGS - MOST_UNKNOWN) return false;
    const drift = Math.abs((sums[1] ?? 0) / newer - (sums[0] ?? 0) / older);
    return high - low <= RANGE_K[of] && drift <= MEAN_K[of];
  }

  clear(): void {
    this.#readings = 0;
    this.#open();
  }
}
