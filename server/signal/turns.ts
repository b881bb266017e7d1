/**
 * Turning points of a figure that rises and falls by itself, and whether they come round: cycling of
 * a thermostat, hunting of a controller. Constant work a block.
 *
 * A turn counts when the figure has come back by more than a threshold from its highest or lowest
 * value since the turn before; the moment when it has is sharp at a switch and regular in a wave,
 * so the time from one such moment to the next of its kind is the period.
 */

/** Moments that are kept. */
const KEPT = 12;
/** So many turns in a row, evenly spaced, are cycling: two whole periods and the beginning of a third. */
const TURNS = 5;
/** Less than this part of the swings before and after is their ripple. */
const RIPPLE_OF_SWING = 0.2;
/** Periods of cycling differ by less than this factor, swings by less than that. */
const EVEN_PERIODS = 1.8;
const EVEN_SWINGS = 2.2;
/** After so many times the longest period without a turn of its kind it has ended. */
const OVERDUE = 1.7;
/** What has swung once, twice, and goes on swinging must lie still for no longer than this, s. */
const SINGLE_S = 120;
const SWING_S = 180;
const SWINGS_S = 900;

export interface Turn {
  /** When it was clear, ms. */
  t: number;
  /** True where the figure rises from here. */
  rising: boolean;
  /** The extreme itself. */
  value: number;
}

export interface CycleFound {
  periodS: number;
  /** Half of the way from lowest to highest. */
  amplitude: number;
  /** When the first and the last whole cycle that count began and ended, ms. */
  from: number;
  to: number;
  count: number;
}

export class Turns {
  readonly list: Turn[] = [];
  #rising: boolean | null = null;
  #high = -Infinity;
  #low = Infinity;
  #from = 0;
  #count = 0;
  #cycling = false;
  /** Of the last cycles. */
  #swing = 0;

  /**
   * Takes the next value.
   * @param least how far it has to come back for a turn; in cycles, more than their ripple
   * @returns whether this was a turn
   */
  add(t: number, value: number, least: number): boolean {
    const threshold = this.#cycling ? Math.max(least, RIPPLE_OF_SWING * this.#swing) : least;
    if (value > this.#high) this.#high = value;
    if (value < this.#low) this.#low = value;
    if (this.#rising !== false && this.#high - value > threshold) {
      this.#push({ t, rising: false, value: this.#high });
      this.#rising = false;
      this.#low = value;
      return true;
    }
    if (this.#rising !== true && value - this.#low > threshold) {
      this.#push({ t, rising: true, value: this.#low });
      this.#rising = true;
      this.#high = value;
      return true;
    }
    return false;
  }

  #push(turn: Turn): void {
    this.list.push(turn);
    this.#forgetRipple();
    if (this.list.length > KEPT) this.list.shift();
  }

  /** Ripple between two far larger swings, at the foot or the top of a wave, is part of it: one turn. */
  #forgetRipple(): void {
    const { list } = this;
    const range = (i: number): number =>
      Math.abs((list[i]?.value ?? NaN) - (list[i - 1]?.value ?? NaN));
    const newest = list.length - 1;
    const small = RIPPLE_OF_SWING * range(newest);
    let first = newest - 1;
    while (range(first) < small) first--;
    const last = list[newest - 1];
    if (last === undefined || first === newest - 1 || !(range(first) >= small)) return;
    const values = list.slice(first, newest).map(({ value }) => value);
    last.value = last.rising ? Math.min(...values) : Math.max(...values);
    list.splice(first, newest - 1 - first);
  }

  /** The largest size among a value and what was seen since the last turns: what a band is a part of. */
  reach(value: number): number {
    let most = Math.abs(value);
    for (const turn of this.list) if (Math.abs(turn.value) > most) most = Math.abs(turn.value);
    return most;
  }

  /** How many were clear after `t`. The first of a stretch is where it leaves its beginning. */
  since(t: number): number {
    let n = 0;
    for (const turn of this.list) if (turn.t > t) n++;
    return n;
  }

  /** The last turn, null before the first. */
  get last(): Turn | null {
    return this.list.at(-1) ?? null;
  }

  /**
   * For how long what has swung must lie still to be believed, s: as long as its swing there and back
   * took. After two like swings another may be under way, so then for longer. 0 where it has not swung.
   * @param value where it is now, at `t`
   * @param beganT when the stretch that is looked at began, ms
   * @param least swings of less are the hover's
   */
  restS(t: number, value: number, beganT: number, least: number): number {
    const [first, before, last] = [this.list.at(-3), this.list.at(-2), this.list.at(-1)];
    if (last === undefined) return 0;
    const underWay = Math.abs(value - last.value);
    const swung = before === undefined ? 0 : Math.abs(last.value - before.value);
    if (Math.max(underWay, swung) < least) return 0;
    if (before === undefined) return Math.min(SINGLE_S, (last.t - beganT) / 1000);
    const s = (last.t - before.t) / 1000;
    const goesOn =
      first !== undefined &&
      alike(s, (before.t - first.t) / 1000) &&
      alike(swung, Math.abs(before.value - first.value)) &&
      underWay < 2 * swung &&
      (t - last.t) / 1000 < OVERDUE * s;
    return Math.min(goesOn ? SWINGS_S : SWING_S, 2 * s);
  }

  /** The cycles that it is in at `t`, null where it is in none. */
  cycle(
    t: number,
    comesRound: (periodS: number, swing: number, cycling: boolean) => boolean = () => true,
  ): CycleFound | null {
    const list = this.list;
    const last = list.at(-1);
    const n = list.length;
    if (last === undefined || n < TURNS) return this.#none();
    const { periods, swings } = this.#newest();
    const longest = Math.max(...periods);
    this.#swing = mean(swings);
    const even =
      longest < EVEN_PERIODS * Math.min(...periods) &&
      Math.max(...swings) < EVEN_SWINGS * Math.min(...swings);
    // The next turn of the other kind is due after a period counted from the last of that kind.
    const other = list[n - 2];
    const due = other === undefined ? 0 : (t - other.t) / 1000;
    // Once it is, it stays so through one uneven cycle.
    const overdue = due > OVERDUE * longest;
    if (overdue || (!even && !this.#cycling)) return this.#none();
    if (!even && longest > 2 * EVEN_PERIODS * Math.min(...periods)) return this.#none();

    // Of the turns that were looked at: a cycle before them may be a pause.
    const edges = list.slice(n - TURNS).filter((turn) => turn.rising);
    const [first, edge] = [edges.at(0), edges.at(-1)];
    if (first === undefined || edge === undefined) return this.#none();
    if (!comesRound(mean(periods), mean(swings), this.#cycling)) return this.#none();
    if (!this.#cycling) {
      this.#cycling = true;
      this.#from = first.t;
      this.#count = edges.length - 1;
    }
    return {
      periodS: mean(periods),
      amplitude: mean(swings) / 2,
      from: this.#from,
      to: edge.t,
      count: this.#count,
    };
  }

  /** Periods, s, and swings of the last turns. */
  #newest(): { periods: number[]; swings: number[] } {
    const list = this.list.slice(-TURNS);
    const periods: number[] = [];
    const swings: number[] = [];
    list.forEach((turn, i) => {
      const before = list[i - 1];
      const same = list[i - 2];
      if (before !== undefined) swings.push(Math.abs(turn.value - before.value));
      if (same !== undefined) periods.push((turn.t - same.t) / 1000);
    });
    return { periods, swings };
  }

  /** To be called when a rising turn ends a whole cycle. */
  countCycle(): void {
    if (this.#cycling) this.#count++;
  }

  #none(): null {
    this.#cycling = false;
    return null;
  }

  /** Multiplies all values that are kept. */
  rescale(ratio: number): void {
    for (const turn of this.list) turn.value *= ratio;
    this.#high *= ratio;
    this.#low *= ratio;
    this.#swing *= ratio;
  }

  clear(): void {
    this.list.length = 0;
    this.#rising = null;
    this.#high = -Infinity;
    this.#low = Infinity;
    this.#cycling = false;
  }
}

/** The first swing of a wave may be half as large as the next. */
const alike = (a: number, b: number): boolean => Math.max(a, b) < EVEN_SWINGS * Math.min(a, b);

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
