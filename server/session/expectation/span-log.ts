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

  /** Takes a second that ends at `t`, ms, and stands for so many. */
  second(t: number, standsS: number, around: Around): void {
    const minute = Math.floor(t / MINUTE_MS) * MINUTE_MS;
    let last = this.#minutes.at(-1);
    if (last?.t !== minute) {
      const n = QUANTITIES.length;
      last = { t: minute, sums: new Float64Array(n), seconds: new Float64Array(n) };
      this.#minutes.push(last);
      if (this.#minutes.length > KEPT) this.#minutes.shift();
    }
    for (const [i, quantity] of QUANTITIES.entries()) {
      const value = around[quantity];
      if (value === null) continue;
      last.sums[i] = (last.sums[i] ?? 0) + standsS * value;
      last.seconds[i] = (last.seconds[i] ?? 0) + standsS;
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
  }
}
