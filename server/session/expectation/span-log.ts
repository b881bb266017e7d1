/** What surrounds a unit's figure, minute by minute: its mean over the span of a capture. */

const MINUTE_MS = 60_000;
/** A day of minutes. */
const KEPT = 1440;

export const QUANTITIES = [
  ...(['indoorC', 'indoorWetBulbC', 'indoorPct', 'supplyC', 'supplyPct', 'roomC'] as const),
  ...(['outdoorC', 'powerW', 'groupW'] as const),
] as const;
export type Quantity = (typeof QUANTITIES)[number];
/** Null: not known in that second. */
export type Around = Readonly<Record<Quantity, number | null>>;

/** Sums of one minute over the seconds in which each quantity was known. */
interface Minute {
  t: number;
  sums: Float64Array;
  seconds: Float64Array;
}

export class SpanLog {
  #minutes: Minute[] = [];
  #last: Minute | null = null;

  /**
   * Takes a second that ends at `t`, ms, and stands for so many.
   * @param around in the order of `QUANTITIES`; NaN is not known. Numbers alone: it runs each second.
   */
  second(t: number, standsS: number, around: Float64Array): void {
    let last = this.#last;
    if (last === null || t < last.t || t >= last.t + MINUTE_MS) {
      const n = QUANTITIES.length;
      const minute = Math.floor(t / MINUTE_MS) * MINUTE_MS;
      last = { t: minute, sums: new Float64Array(n), seconds: new Float64Array(n) };
      this.#last = last;
      this.#minutes.push(last);
      if (this.#minutes.length > KEPT) this.#minutes.shift();
    }
    const { sums, seconds } = last;
    for (let i = 0; i < around.length; i++) {
      const value = around[i] ?? NaN;
      if (value !== value) continue;
      sums[i] = (sums[i] ?? 0) + standsS * value;
      seconds[i] = (seconds[i] ?? 0) + standsS;
    }
  }

  /** Means over a span, ms; of its first and last minute all seconds count. */
  mean(from: number, to: number): Around {
    const n = QUANTITIES.length;
    const sums = new Float64Array(n);
    const seconds = new Float64Array(n);
    // The span of a capture is mostly the newest.
    for (let at = this.#minutes.length - 1; at >= 0; at--) {
      const minute = this.#minutes[at];
      if (minute === undefined || minute.t + MINUTE_MS <= from) break;
      if (minute.t > to) continue;
      for (let i = 0; i < n; i++) {
        sums[i] = (sums[i] ?? 0) + (minute.sums[i] ?? 0);
        seconds[i] = (seconds[i] ?? 0) + (minute.seconds[i] ?? 0);
      }
    }
    const of = (quantity: Quantity): number | null => {
      const i = QUANTITIES.indexOf(quantity);
      const s = seconds[i] ?? 0;
      return s > 0 ? (sums[i] ?? NaN) / s : null;
    };
    return {
      ...{ indoorC: of('indoorC'), indoorWetBulbC: of('indoorWetBulbC') },
      ...{ indoorPct: of('indoorPct'), supplyC: of('supplyC'), supplyPct: of('supplyPct') },
      ...{ roomC: of('roomC'), outdoorC: of('outdoorC') },
      ...{ powerW: of('powerW'), groupW: of('groupW') },
    };
  }

  clockSet(shiftMs: number): void {
    this.#minutes = this.#minutes.map((m) => ({ ...m, t: m.t + shiftMs }));
    this.#last = null;
  }
}
