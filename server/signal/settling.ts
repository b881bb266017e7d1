/**
 * Whether a capacity has settled. Constant work a second, no clock.
 *
 * What is judged is the mean that a person would write down. It is steady when the mean of the next ten
 * minutes will probably agree with the mean so far within 2 % or 40 W: by its course, weighed over
 * all approaches that explain it (approach.ts), and by how means of every length vary about that course
 * (hover.ts), which the record itself tells. It stays so until a mean of some length is off by more than
 * that and the hover explain.
 *
 * A figure that has swung by itself must lie still for as long as its swing there and back took, and one
 * that keeps swinging alike is `cycling` (turns.ts). After something was told to the unit and nothing has
 * moved yet, it may be dead time: then steady has to wait. Where it is heading meanwhile: forecast.ts.
 */
import { Agreement } from './agreement.ts';
import type { Approach } from './approach.ts';
import { AHEAD_S } from './bands.ts';
import { BLOCK_S, BlockMeans, LEVELS } from './block-means.ts';
import { Course } from './course.ts';
import { Cycles } from './cycles.ts';
import { Forecast } from './forecast.ts';
import { Hover } from './hover.ts';
import { Presence } from './presence.ts';
import { LEVEL_S, ShownLevel } from './shown-level.ts';
import { SteadyMean } from './steady-mean.ts';
import type { CycleFound } from './turns.ts';

export type SettlingState = 'waiting' | 'settling' | 'steady' | 'cycling';

/** A span of which a mean says something, ms since the epoch; it grows until it is over. */
export interface Span {
  kind: 'steady' | 'cycling';
  from: number;
  /** Judged up to here: for cycles the end of the last whole one. */
  to: number;
}

/** What one second brings. */
export interface SettlingSecond {
  /** The capacity, W; null where there is none. */
  watts: number | null;
  /** Whether it can be told from nothing: a unit that is off is not steady. */
  delivers: boolean;
  /** Whether return and supply were heard anew in this second. */
  ret: boolean;
  sup: boolean;
}

/**
 * Looked at for so long at least, s; readings that come seldom: so many of them. What moves by itself
 * began to no longer ago, and the level before is the mean of as long.
 */
const LEAST_S = 65;
const LEAST_READINGS = 3;
/** And at the beginning of a visit, when nobody knows what was before, s. */
const FIRST_S = 120;
/** The course of a steady figure is looked at once in so many finest means. */
const LOOK_BLOCKS = 8;
/** When something was told and nothing has moved since, it may yet, s. */
const DEAD_TIME_S = 140;

export class Settling {
  state: SettlingState = 'waiting';
  /** Since when it is in this state; null before the first second. */
  since: number | null = null;
  /** The span that may be averaged: steady so far, or whole cycles so far; null where there is none. */
  span: Span | null = null;
  /** True in the second in which a cycle ends and the next begins. */
  cycleEnds = false;
  readonly forecast = new Forecast();
  /** Mean of the last seconds, W; null where one of them is not known. How far it is behind, s. */
  levelW: number | null = null;
  levelDelayS: number | null = null;
  /** By how much the means of both halves of the seconds looked at differ, W; null before they are. */
  movedW: number | null = null;
  lookedS: number | null = null;
  /** While steady: how far it may move in the next ten minutes, 95 % of what is likely, W. */
  aheadW: number | null = null;

  /** The cycles that it is in; null where it is in none. */
  get cycle(): CycleFound | null {
    return this.#cycles.found;
  }

  /** While steady: the mean of the last minutes, W. */
  get restW(): number | null {
    return this.#judged === 'steady' ? this.#mean.value : null;
  }

  /** While steady: how far the shown level hovers, as the amplitude of a wave that scatters as much, W. */
  get hoverW(): number | null {
    return this.#judged === 'steady' ? Math.sqrt(2 * this.#hover.varianceOf(LEVEL_S)) : null;
  }

  readonly #means = new BlockMeans();
  readonly #course = new Course();
  readonly #cycles = new Cycles();
  readonly #mean = new SteadyMean();
  readonly #hover = new Hover();
  readonly #agreement = new Agreement();
  readonly #level = new ShownLevel();
  readonly #presence = new Presence();
  #newestT = -Infinity;
  /** What the last means say; `state` also looks at whether there is a figure now. */
  #judged: 'settling' | 'steady' | 'cycling' = 'settling';
  /** When the present stretch began, ms; moved on to its first figure. */
  #beganT = -Infinity;
  #empty = true;
  #notBefore = -Infinity;
  #suspended = false;
  /** Nothing was seen before the present stretch. */
  #first = true;
  /** It was told that something has changed: nothing may have come of it yet. */
  #told = false;
  /** Steady before a gap, and not seen to be so since; when figures came back, ms. */
  #paused = false;
  #backT: number | null = null;
  /** The end of the steady span that it left by itself, ms: the next one begins later. */
  #endedT = -Infinity;

  constructor() {
    this.forecast.begin(null); // nobody knows what was before
  }

  /**
   * Something has changed at `t` (a setpoint, a fan speed, another airflow, a moved probe): it begins
   * anew with what came after. A defrost that goes on, and the time after one, are as they were.
   * @param jumps the figure itself is worked out otherwise from then on, as with another airflow: where
   *   it was before is no level to come from
   */
  restart(t: number, jumps = false): void {
    const agoS = (this.#newestT - t) / 1000;
    const before = this.#judged === 'steady' ? this.#steadyBefore(agoS) : this.#level.watts;
    this.#begin(t, agoS, jumps || Number.isNaN(before) ? null : before);
    this.#told = !jumps && !Number.isNaN(before);
    if (jumps) this.#level.clear();
    this.#cycles.forget();
    if (this.state !== 'waiting') this.#become('settling', t);
    // No figure from before a jump belongs to this state.
    if (jumps && this.state === 'settling') this.since = t;
  }

  /** A defrost has begun: until `resume` nothing is judged. */
  suspend(t: number): void {
    this.#begin(t, 0, null);
    this.#cycles.forget();
    this.#suspended = true;
    this.#become('settling', t);
  }

  /** It goes on after a defrost; steady cannot be before `notBefore`, ms. */
  resume(t: number, notBefore: number): void {
    this.#notBefore = notBefore;
    if (!this.#suspended) return;
    this.#suspended = false;
    this.#begin(t, 0, null);
  }

  /**
   * The figure is worked out with another airflow from now on, by so much more: the fan's own doing, or
   * the same airflow better known. All that was before is seen as if it had been so then.
   */
  rescale(ratio: number): void {
    this.#means.rescale(ratio);
    this.#cycles.rescale(ratio);
    this.#course.clear();
    this.#hover.rescale(ratio);
    this.forecast.rescale(ratio);
    this.#level.rescale(ratio);
    this.#mean.rescale(ratio);
    if (this.movedW !== null) this.movedW *= ratio;
    if (this.aheadW !== null) this.aheadW *= ratio;
  }

  /**
   * Takes one second that ends at `t`.
   * @param standsS it stands for so many, up to itself, in which nothing was heard: their means are kept as
   *   those of any other, but what comes of them is looked at once
   */
  add(t: number, { watts, delivers, ret, sup }: SettlingSecond, standsS = 1): void {
    // Without a figure only the end of a silence is worked out: what was passed over has passed all the same.
    const passedS = this.#newestT === -Infinity ? 1 : Math.max(1, (t - this.#newestT) / 1000);
    this.#newestT = t;
    this.since ??= t;
    this.cycleEnds = false;
    const value = watts ?? NaN;
    this.#level.add(value, ret, sup, passedS, standsS);
    this.#showLevel();
    const presence = this.#presence;
    presence.second(watts === null ? 0 : standsS, passedS);
    if (presence.pauses) this.#pause();
    if (presence.loses) this.#lose(t);
    if (presence.lost || this.#suspended) return;
    if (watts !== null) {
      if (this.#paused && this.#backT === null) this.#backT = t;
      if (this.#empty) this.#beganT = t;
      this.#empty = false;
      this.#onOff(t, presence.deliver(delivers, standsS));
    }
    if (this.#judged === 'steady' && this.#mean.collapsed(value, standsS, this.#hover)) {
      this.#leave(t);
    }
    this.forecast.pass(standsS);
    let blocks = 0;
    for (let left = standsS; left > 0; left--) {
      if (!this.#means.add(value)) continue;
      blocks++;
      this.#cycles.take(this.#means.last(0));
    }
    if (blocks > 0) this.#block(t, blocks);
    this.#show(t, delivers);
  }

  /** Begins anew with the last seconds that are kept, and the level from which it comes. */
  #begin(t: number, keepS: number, before: number | null): void {
    if (!this.#empty) this.#first = false;
    const keptS = this.#means.keepLast(keepS);
    this.#course.clear();
    this.#hover.restart();
    this.#beganT = keptS > 0 ? this.#newestT - 1000 * keptS : t;
    this.#empty = keptS === 0;
    this.#told = false;
    this.forecast.begin(before);
    const n = this.#means.count(0);
    for (let back = n - 1; back >= 0; back--) {
      const mean = this.#means.last(0, back);
      this.forecast.watch(this.#means, mean, (n - back) * BLOCK_S, this.#hover, 1);
    }
    this.#judged = 'settling';
    this.#paused = false;
    this.span = null;
    this.movedW = null;
    this.lookedS = null;
    this.aheadW = null;
  }

  /** Without a figure for a while: a span ends there, and steady has to be seen again. */
  #pause(): void {
    if (this.#judged !== 'steady') return;
    this.span = null;
    this.#paused = true;
    this.#backT = null;
  }

  /** For minutes there was no figure: nothing is known any more. */
  #lose(t: number): void {
    this.#begin(t, 0, null);
    this.#cycles.forget();
    this.#become('waiting', t);
  }

  /** A unit that stops delivering for a while begins anew when it goes on; its turns go on counting. */
  #onOff(t: number, turns: 'off' | 'on' | null): void {
    if (turns === 'off' && this.#judged === 'steady') this.#leave(t);
    if (turns === 'on' && this.#judged !== 'cycling') this.#begin(t, LEAST_S, 0);
  }

  /** The level of a steady figure before the last `agoS` seconds: it may have drifted from its mean. */
  #steadyBefore(agoS: number): number {
    const before = this.#means.mean(LEAST_S, agoS);
    return before === before ? before : this.#mean.value;
  }

  /** It has moved away by itself: it settles anew from there, and no dead time is left. */
  #leave(t: number): void {
    this.#endedT = this.span?.to ?? this.#endedT;
    this.#begin(t, LEAST_S, this.#steadyBefore(LEAST_S));
    this.#become('settling', t);
  }

  /** What the means say when the next one is complete, or the last of several of one value. */
  #block(t: number, blocks: number): void {
    const newest = this.#means.last(0);
    if (newest !== newest) return;
    const before = this.#means.last(0, 1);
    const smooth = before === before ? (newest + before) / 2 : newest;
    const { intervalS } = this;
    this.#cycles.look(t, smooth, this.#means, this.#hover, intervalS);
    this.#cycle(t);
    if (this.#judged === 'cycling') return;
    // Of a reading three means at most: more would only repeat it.
    let base = 0;
    while (base < LEVELS - 1 && this.#means.lengthS(base) < 0.3 * intervalS) base++;
    const steady = this.#judged === 'steady';
    if (!steady || this.#course.fit === null || this.#means.count(0) % LOOK_BLOCKS < blocks)
      this.#course.look(this.#means, base, LEAST_READINGS * intervalS, this.#hover, steady);
    this.forecast.watch(this.#means, smooth, (t - this.#beganT) / 1000, this.#hover);
    const { fit } = this.#course;
    if (fit === null) return;
    if (this.#judged === 'steady') this.#stay(t, fit, smooth, base, blocks);
    else this.#settle(t, fit, smooth);
  }

  #cycle(t: number): void {
    this.cycleEnds = this.#cycles.ends;
    if (this.cycle !== null) {
      const { from, to } = this.cycle;
      if (this.#judged !== 'cycling') this.#begin(t, LEVEL_S, null);
      this.#judged = 'cycling';
      this.span = to > from ? { kind: 'cycling', from, to } : null;
    } else if (this.#judged === 'cycling') {
      this.#begin(t, LEVEL_S, null);
    }
  }

  /** For how long it has to be seen at least, s. */
  get #leastS(): number {
    return Math.max(this.#first ? FIRST_S : LEAST_S, LEAST_READINGS * this.intervalS);
  }

  /** While it is not steady: is it now, and where is it heading? */
  #settle(t: number, fit: Approach, smooth: number): void {
    const agedS = (t - this.#beganT) / 1000;
    const { movedS } = this.forecast;
    // What has moved lies still when it does so since then.
    const sinceS = agedS - (movedS ?? Infinity);
    const restS = this.#cycles.restS(t, smooth, this.#beganT, this.#hover);
    const leastS = roundS(Math.max(this.#leastS, restS));
    const waited = !this.#told || (movedS === null ? agedS >= DEAD_TIME_S : sinceS >= LEAST_S);
    const mostS = BLOCK_S * Math.floor(Math.min(fit.lengthS, agedS) / BLOCK_S);
    const agrees = this.#agreement.look(fit, leastS, mostS, this.#hover);
    const { spanS } = this.#agreement;
    this.#look(spanS);
    if (waited && agrees && t >= this.#notBefore && this.#presence.delivers) {
      this.#judged = 'steady';
      this.#mean.begin(this.#means, spanS);
      const sinceT = Math.max(this.#notBefore, this.#beganT, this.#endedT + 1000);
      const from = Math.max(t - 1000 * spanS + 1000, sinceT);
      this.span = { kind: 'steady', from, to: t };
      this.forecast.silence();
      this.aheadW = fit.aheadWithin(AHEAD_S);
      return;
    }
    this.aheadW = null;
    const waitS = Math.max(leastS - mostS, (this.#notBefore - t) / 1000);
    this.forecast.update(
      this.#means,
      waited || sinceS >= 0 ? fit : null,
      smooth,
      this.#cycles.turnedBack(this.#beganT),
      waitS,
    );
  }

  #look(seconds: number): void {
    this.lookedS = seconds;
    const moved = 2 * Math.abs(this.#means.mean(seconds / 2) - this.#means.mean(seconds));
    this.movedW = moved === moved ? moved : null;
  }

  /** How far it may move: followed slowly, as stretches of the past come and go. */
  #expect(fit: Approach): void {
    const ahead = fit.aheadWithin(AHEAD_S);
    this.aheadW = (this.aheadW ?? ahead) + (ahead - (this.aheadW ?? ahead)) * (BLOCK_S / LEAST_S);
  }

  /** While it is steady: has it left? */
  #stay(t: number, fit: Approach, smooth: number, base: number, blocks: number): void {
    const mean = this.#mean;
    if (mean.isLeft(this.#means, this.#hover, base, blocks)) {
      this.#leave(t);
      return;
    }
    this.#expect(fit);
    for (let left = blocks; left > 0; left--) mean.take(smooth);
    this.#look(mean.seconds);
    if (this.#paused) {
      this.#paused = false;
      mean.newSpan();
      this.span = { kind: 'steady', from: this.#backT ?? t, to: t };
    }
    if (this.span === null) return;
    if (mean.hasDrifted(this.#hover)) {
      mean.newSpan();
      this.span = { kind: 'steady', from: t, to: t };
    } else {
      this.span.to = t;
    }
  }

  /** What is shown: without a figure the best judgement is of the past. */
  #show(t: number, delivers: boolean): void {
    const { live } = this.#presence;
    if (this.#presence.paused || this.#paused) this.#become('waiting', t);
    else if (this.#judged === 'cycling') this.#become('cycling', t);
    else if (live ? !delivers : this.#means.count(0) === 0) this.#become('waiting', t);
    else if (live && (this.#judged === 'steady' || this.#means.count(0) >= 2)) {
      this.#become(this.#judged, t);
    }
  }

  #showLevel(): void {
    const { watts } = this.#level;
    const known = watts === watts;
    this.levelW = known ? watts : null;
    this.levelDelayS = known ? this.#level.delayS : null;
  }

  /** Usual time from one reading to the next, of the place that is heard less often, s. */
  get intervalS(): number {
    return this.#level.intervalS;
  }

  #become(state: SettlingState, t: number): void {
    if (this.state === state && this.since !== null) return;
    this.state = state;
    this.since = t;
  }
}

/** Whole finest means, s. */
function roundS(seconds: number): number {
  return BLOCK_S * Math.round(seconds / BLOCK_S);
}
