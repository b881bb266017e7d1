/**
 * Defrosts of a unit that heats: it stops delivering, or takes heat out of the room, for some minutes
 * by itself, and then goes on. What it delivers meanwhile, and for five minutes after (the rule of
 * ANSI/ASHRAE 37 and 10 CFR 430 App. M for heating with frost), is not a figure to be written down.
 *
 * A unit that is off for a while looks much the same; a defrost is told by a supply colder than the
 * return, or by weather in which an outdoor coil frosts. Constant work a second.
 */

/** Not counted after the end of a defrost, s. */
export const AFTER_S = 300;
/** A defrost has begun when the output is below this part of what it was. */
const GONE = 0.35;
/** It has ended when the output is back at this part. */
const BACK = 0.6;
/** The output before it, at least, W: of less than this nothing can be said. */
const LEAST_W = 300;
/** Supply colder than the return by this much: heat is taken from the room, K. */
const COLD_K = 1.5;
/** Outdoors warmer than this no coil frosts, °C (common practice, no source). */
export const FROST_BELOW_C = 8;
/** Delivering next to nothing in frosty weather for so long is one, s. */
const SURE_S = 10;
/** Shorter than any defrost, s. */
const SHORTEST_S = 90;
/** No coil frosts over in less, s (common practice, no source): a thermostat pauses more often. */
const FROSTS_S = 1200;
/** Longer than any defrost, s: it is something else. */
export const LONGEST_S = 1200;
/** The level before is followed with this time constant, s. */
const FOLLOW_S = 60;
/** After something was told the output goes to another level by itself: for so long it is no measure, s. */
const CHANGES_S = 180;

export interface DefrostSpan {
  from: number;
  /** Null while it goes on. */
  to: number | null;
}

export class Defrost {
  /** The defrost that goes on, or that ended less than five minutes ago. */
  span: DefrostSpan | null = null;
  #level = NaN;
  #goneSince: number | null = null;
  /** Since when it has delivered without a pause, ms. */
  #deliversSince: number | null = null;
  /** So many seconds more nothing is made of the output. */
  #changesS = 0;

  /**
   * Takes one second of a unit.
   * @param totalW what it delivers, NaN where not known
   * @param riseK supply less return, NaN where not known
   * @param outdoorC NaN where no probe tells
   * @returns what has just happened
   */
  second(t: number, totalW: number, riseK: number, outdoorC: number): 'begins' | 'ends' | null {
    if (totalW !== totalW) return null;
    const span = this.span;
    if (span?.to === null) return this.#during(t, span, totalW);
    if (span !== null && span.to !== null && t - span.to >= 1000 * AFTER_S) this.span = null;
    if (this.#changesS > 0) {
      this.#changesS--;
      return null;
    }
    const gone = this.#goneSince;
    if (
      gone === null
        ? !(this.#level > LEAST_W) || totalW >= GONE * this.#level
        : totalW > BACK * this.#level
    ) {
      const found = gone !== null && this.#wasOne(gone, t, outdoorC);
      this.#goneSince = null;
      this.#follow(totalW);
      if (!(totalW > LEAST_W)) this.#deliversSince = null;
      else if (gone !== null && t - gone >= 1000 * SHORTEST_S) this.#deliversSince = t;
      else this.#deliversSince ??= t;
      return found ? this.#found(gone, t) : null;
    }
    if (gone === null) {
      this.#goneSince = t;
      return null;
    }
    const frosty = outdoorC < FROST_BELOW_C;
    const taken = riseK < -COLD_K;
    const mayBe = outdoorC !== outdoorC || frosty;
    if ((frosty && t - gone >= 1000 * SURE_S) || (taken && mayBe)) {
      this.span = { from: gone, to: null };
      return 'begins';
    }
    // It is off, then, and what it gave before says nothing of the next start.
    if (t - gone > 1000 * LONGEST_S) this.clear();
    return null;
  }

  /** Whether a pause that is over was a defrost: it came and went like one, in weather that is not known. */
  #wasOne(gone: number, t: number, outdoorC: number): boolean {
    const since = this.#deliversSince;
    const ranMs = since === null ? 0 : gone - since;
    const ms = t - gone;
    return (
      outdoorC !== outdoorC &&
      ranMs >= 1000 * FROSTS_S &&
      ms >= 1000 * SHORTEST_S &&
      ms <= 1000 * LONGEST_S
    );
  }

  #found(from: number, to: number): 'ends' {
    this.span = { from, to };
    return 'ends';
  }

  #follow(totalW: number): void {
    if (this.#level !== this.#level) this.#level = totalW;
    // Falling, it is followed slowly: what was delivered before is what counts.
    this.#level += (totalW - this.#level) / (FOLLOW_S * (totalW < this.#level ? 5 : 1));
  }

  #during(t: number, span: DefrostSpan, totalW: number): 'ends' | null {
    const back = totalW > BACK * this.#level;
    if (!back && t - span.from < 1000 * LONGEST_S) return null;
    span.to = t;
    this.#goneSince = null;
    this.#deliversSince = t;
    if (!back) this.#level = NaN;
    return 'ends';
  }

  /**
   * Another setpoint or fan speed: what was delivered before is no measure any more. A defrost that goes
   * on still does, and the minutes after one are as bad as they were.
   */
  changed(): void {
    if (this.span?.to === null) return;
    this.#forget();
    this.#changesS = CHANGES_S;
  }

  /** Nothing that was before counts: another mode. */
  clear(): void {
    this.span = null;
    this.#changesS = 0;
    this.#deliversSince = null;
    this.#forget();
  }

  #forget(): void {
    this.#level = NaN;
    this.#goneSince = null;
  }
}
