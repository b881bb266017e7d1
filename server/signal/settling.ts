/**
 * Whether a capacity has settled. Constant work a second, no clock.
 *
 * It is called steady when, in the same moment,
 * - over the last minutes it moved by no more than a band (`movedW` over `lookedS`), and its older and
 *   newer half agree, and
 * - by its course, weighed over all approaches that explain it (approach.ts), it will in the next ten
 *   minutes very probably not move by more than 2 % or 40 W either.
 * What was long on its way may end in a long tail: it must lie still for a part of that. A figure that
 * has swung by itself must lie still for as long as its swing took, and one that keeps swinging is
 * `cycling` (turns.ts). After something was told to the unit and nothing has moved yet, it may be dead
 * time: then steady has to wait.
 *
 * The course is taken from the longest stretch since the last change in which one approach explains
 * the means as well as their scatter allows (course.ts): a pause, a ramp's end, a second stage ends the
 * stretch. Where it is heading meanwhile: forecast.ts.
 */
import type { Approach } from './approach.ts';
import { band, within } from './bands.ts';
import { BLOCK_S, BlockMeans, LEVELS } from './block-means.ts';
import { Course } from './course.ts';
import { Forecast } from './forecast.ts';
import { Jitter } from './jitter.ts';
import { Rhythm } from './rhythm.ts';
import { type CycleFound, Turns } from './turns.ts';

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

/** It is looked that far ahead, s; to be called steady it must be so much within, and so surely. */
const AHEAD_S = 600;
const ENTER = 0.65;
const SURE = 0.9;
/** It stays steady while it is not too unlikely to stay so much within. */
const STAY = 1.3;
const STILL = 0.4;
/** An unlikeliness must stand for so long, s. */
const STANDS_S = 20;
/** Older and newer half differ by less than this part of `within`. */
const HALVES = 0.45;
/** It is no more steady when it has gone so far, or half as far and on its way: parts of `within`. */
const GONE = 0.9;
const GOING = 0.5;
/** In so long on its way, s. */
const GOING_S = 20;
/** So many seconds in a row further than twice `within` end steady at once. */
const COLLAPSE_S = 5;
/** Looked at for so long at least and at most, s; readings that come seldom: so many of them. */
const LEAST_S = 60;
const MOST_S = 180;
const LEAST_READINGS = 3;
/** And for this part of the time it has been on its way, at most so long, s: a long way has a long tail. */
const OF_WAY = 0.33;
const WAY_MOST_S = 120;
/** A course is fitted to so long at least, s. */
const COURSE_S = 30;
/** When something was told and nothing has moved since, it may yet, s. */
const DEAD_TIME_S = 135;
/** What moves by itself began to move no longer ago than this, s. */
const ONSET_S = 60;
/** The waiting after a departure, after a swing, and after like swings, is no longer than this, s. */
const SINGLE_S = 120;
const SWING_S = 180;
const SWINGS_S = 900;
/** A steady span is ended, and the next begun, when it has drifted so far from its beginning. */
const DRIFTED = 1.5;
/** The shown level is the mean of so many seconds. */
const LEVEL_S = 10;
/** Not delivering for so long it is off, s. */
const OFF_S = 20;
/** Without a figure for so long it is not known how it is, and after so long all begins anew, s. */
const GAP_S = 15;
const LOST_S = 120;

export class Settling {
  state: SettlingState = 'waiting';
  /** Since when it is in this state; null before the first second. */
  since: number | null = null;
  /** The span that may be averaged: steady so far, or whole cycles so far; null where there is none. */
  span: Span | null = null;
  /** True in the second in which a cycle ends and the next begins. */
  cycleEnds = false;
  cycle: CycleFound | null = null;
  readonly forecast = new Forecast();
  /** Mean of the last seconds, W; null where one of them is not known. How far it is behind, s. */
  levelW: number | null = null;
  levelDelayS: number | null = null;
  /** From lowest to highest over the seconds looked at, W; null before they are. */
  movedW: number | null = null;
  lookedS: number | null = null;
  /** While steady: how far it may move in the next ten minutes, 95 % of what is likely, W. */
  aheadW: number | null = null;

  /** While steady: the mean of the last minutes, W. */
  get restW(): number | null {
    return this.#judged === 'steady' ? this.#reference : null;
  }

  readonly #means = new BlockMeans();
  readonly #course = new Course();
  readonly #turns = new Turns();
  readonly #jitter = new Jitter();
  readonly #return = new Rhythm();
  readonly #supply = new Rhythm();
  readonly #recent = new Float64Array(LEVEL_S).fill(NaN);
  #seconds = 0;
  #newestT = 0;
  /** What the last means say; `state` also looks at whether there is a figure now. */
  #judged: 'settling' | 'steady' | 'cycling' = 'settling';
  /** When the present stretch began, ms; moved on to its first figure. */
  #beganT = -Infinity;
  #empty = true;
  #notBefore = -Infinity;
  #suspended = false;
  /** It has begun by moving. */
  #onItsWay = false;
  #gapS = 0;
  /** Steady before a gap, and not seen to be so since; when figures came back, ms. */
  #paused = false;
  #backT: number | null = null;
  #offS = 0;
  #awayS = 0;
  #doubtfulS = 0;
  /** How much older and newer half differ, W. */
  #drift = 0;
  /** The mean that a steady figure is held against, and that of its span's beginning. */
  #reference = NaN;
  #spanW = NaN;

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
    const before = this.#judged === 'steady' ? this.#reference : this.#level();
    this.#begin(t, (this.#newestT - t) / 1000, jumps || Number.isNaN(before) ? null : before);
    if (jumps) this.#recent.fill(NaN);
    this.#forgetTurns();
    if (this.state !== 'waiting') this.#become('settling', t);
  }

  /** A defrost has begun: until `resume` nothing is judged. */
  suspend(t: number): void {
    this.#begin(t, 0, null);
    this.#forgetTurns();
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
    this.#turns.rescale(ratio);
    this.#course.clear();
    this.forecast.rescale(ratio);
    for (let i = 0; i < LEVEL_S; i++) this.#recent[i] = (this.#recent[i] ?? NaN) * ratio;
    this.#reference *= ratio;
    this.#spanW *= ratio;
    if (this.movedW !== null) this.movedW *= ratio;
    if (this.aheadW !== null) this.aheadW *= ratio;
  }

  /** Takes one second that ends at `t`. */
  add(t: number, { watts, delivers, ret, sup }: SettlingSecond): void {
    // Of a long silence only its end is worked out: what was passed over has passed all the same.
    const passedS = this.#seconds === 0 ? 1 : Math.max(1, (t - this.#newestT) / 1000);
    this.#newestT = t;
    this.since ??= t;
    this.cycleEnds = false;
    this.#return.second(ret, passedS);
    this.#supply.second(sup, passedS);
    const value = watts ?? NaN;
    this.#recent[this.#seconds++ % LEVEL_S] = value;
    const goneS = this.#gapS + passedS - (watts === null ? 0 : 1);
    this.#showLevel();
    if (goneS >= GAP_S && this.#gapS < GAP_S) this.#pause();
    if (goneS >= LOST_S && this.#gapS < LOST_S) this.#lose(t);
    this.#gapS = watts === null ? goneS : 0;
    if (this.#gapS >= LOST_S || this.#suspended) return;
    if (watts !== null) {
      if (this.#paused && this.#backT === null) this.#backT = t;
      if (this.#empty) this.#beganT = t;
      this.#empty = false;
      this.#onOff(t, delivers);
    }
    if (this.#collapsed(value)) this.#leave(t);
    this.forecast.second();
    if (this.#means.add(value)) this.#block(t);
    this.#show(t, delivers);
  }

  /** Begins anew with the last seconds that are kept, and the level from which it comes. */
  #begin(t: number, keepS: number, before: number | null): void {
    const keptS = this.#means.keepLast(keepS);
    this.#course.clear();
    this.#beganT = keptS > 0 ? this.#newestT - 1000 * keptS : t;
    this.#empty = keptS === 0;
    this.#onItsWay = false;
    this.forecast.begin(before);
    const n = this.#means.count(0);
    for (let back = n - 1; back >= 0; back--) {
      const mean = this.#means.last(0, back);
      this.forecast.watch(this.#means, mean, (n - back) * BLOCK_S, this.#jitter);
    }
    this.#judged = 'settling';
    this.#paused = false;
    this.span = null;
    this.movedW = null;
    this.lookedS = null;
    this.aheadW = null;
    this.#awayS = 0;
    this.#doubtfulS = 0;
  }

  #forgetTurns(): void {
    this.#turns.clear();
    this.cycle = null;
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
    this.#forgetTurns();
    this.#become('waiting', t);
  }

  /** A unit that stops delivering for a while begins anew when it goes on; its turns go on counting. */
  #onOff(t: number, delivers: boolean): void {
    if (!delivers) {
      if (++this.#offS === OFF_S && this.#judged === 'steady') this.#leave(t);
      return;
    }
    if (this.#offS >= OFF_S && this.#judged !== 'cycling') this.#begin(t, ONSET_S, 0);
    this.#offS = 0;
  }

  /** True when a steady figure has plainly gone: waiting for means would show it as live. */
  #collapsed(watts: number): boolean {
    if (this.#judged !== 'steady') return false;
    const away = Math.abs(watts - this.#reference) > 2 * within(this.#reference);
    this.#awayS = away ? this.#awayS + 1 : 0;
    return this.#awayS >= COLLAPSE_S;
  }

  /** It has moved away by itself: it settles anew from there, and no dead time is left. */
  #leave(t: number): void {
    this.#begin(t, ONSET_S, this.#reference);
    this.#onItsWay = true;
    this.#become('settling', t);
  }

  /** What the means say when the next one is complete. */
  #block(t: number): void {
    const newest = this.#means.last(0);
    if (newest !== newest) return;
    const before = this.#means.last(0, 1);
    const smooth = before === before ? (newest + before) / 2 : newest;
    const { intervalS } = this;
    this.#jitter.watch(this.#means, intervalS);
    this.#turn(t, smooth);
    if (this.#judged === 'cycling') return;
    let base = 0;
    while (base < LEVELS - 1 && this.#means.lengthS(base) < 0.6 * intervalS) base++;
    this.#course.look(this.#means, base, Math.max(COURSE_S, LEAST_READINGS * intervalS));
    this.forecast.watch(this.#means, smooth, (t - this.#beganT) / 1000, this.#jitter);
    const { fit } = this.#course;
    if (fit === null) return;
    this.#look(t, fit, Math.max(1, base));
    if (this.#judged === 'steady') this.#stay(t, fit, smooth);
    else this.#settle(t, fit, smooth);
  }

  #turn(t: number, smooth: number): void {
    const threshold = Math.max(band(this.#turns.reach(smooth)), 5 * this.#jitter.of(1));
    const turned = this.#turns.add(t, smooth, threshold);
    if (turned && this.#turns.last?.rising === true) {
      this.cycleEnds = true;
      this.#turns.countCycle();
    }
    this.cycle = this.#turns.cycle(t);
    if (this.cycle !== null) {
      const { from, to } = this.cycle;
      if (this.#judged !== 'cycling') this.#begin(t, LEVEL_S, null);
      this.#judged = 'cycling';
      this.span = to > from ? { kind: 'cycling', from, to } : null;
    } else if (this.#judged === 'cycling') {
      this.#begin(t, LEVEL_S, null);
    }
  }

  /** Over how long, backwards from now, it has stayed within the band, and how much it moved. */
  #look(t: number, fit: Approach, level: number): void {
    const lengthS = this.#means.lengthS(level);
    const scatter = this.#jitter.of(lengthS / BLOCK_S);
    const allowed = Math.hypot(band(fit.level), 4 * scatter);
    const half = Math.ceil(this.#needS(t) / 2 / lengthS);
    const most = Math.max(2 * half, Math.ceil(MOST_S / lengthS));
    let low = Infinity;
    let high = -Infinity;
    let looked = 0;
    let drift = 0;
    while (looked < most) {
      const mean = this.#means.last(level, looked);
      if (mean !== mean || Math.max(high, mean) - Math.min(low, mean) > allowed) break;
      low = Math.min(low, mean);
      high = Math.max(high, mean);
      if (looked < 2 * half) drift += looked < half ? mean / half : -mean / half;
      looked++;
    }
    // With less than both halves nothing is known of how they differ.
    this.#drift = looked < 2 * half ? Infinity : Math.abs(drift) - (2 * scatter) / Math.sqrt(half);
    this.lookedS = looked * lengthS;
    this.movedW = looked > 0 ? high - low : null;
  }

  /** For how long it has to lie still at least, s. */
  #needS(t: number): number {
    const wayS = (t - this.#beganT) / 1000 - (this.forecast.movedS ?? Infinity);
    const tailS = Math.min(WAY_MOST_S, OF_WAY * wayS);
    return Math.max(LEAST_S, tailS, LEAST_READINGS * this.intervalS);
  }

  /** While it is not steady: is it now, and where is it heading? */
  #settle(t: number, fit: Approach, smooth: number): void {
    const agedS = (t - this.#beganT) / 1000;
    const lookedS = this.lookedS ?? 0;
    const needS = this.#needS(t);
    // What has moved lies still when it does so since then.
    const sinceS = agedS - (this.forecast.movedS ?? Infinity);
    const waited = this.#onItsWay || sinceS >= LEAST_S || agedS >= DEAD_TIME_S;
    const sure = fit.lengthS >= LEAST_S ? fit.staysWithin(ENTER * within(fit.level), AHEAD_S) : 0;
    const lies =
      lookedS >= needS &&
      agedS >= needS &&
      this.#drift <= HALVES * within(fit.level) &&
      this.#swung(t);
    if (lies && waited && sure >= SURE && t >= this.#notBefore && this.#offS === 0) {
      this.#judged = 'steady';
      this.#reference = smooth;
      this.#spanW = smooth;
      const from = Math.max(t - 1000 * lookedS + 1000, this.#notBefore, this.#beganT);
      this.span = { kind: 'steady', from, to: t };
      this.forecast.silence();
      this.aheadW = fit.aheadWithin(AHEAD_S);
      return;
    }
    this.aheadW = null;
    const leastS = Math.max(needS - lookedS, (this.#notBefore - t) / 1000);
    this.forecast.update(
      this.#means,
      waited || sinceS >= 0 ? fit : null,
      smooth,
      this.#turns.since(this.#beganT) > 1,
      leastS,
    );
  }

  /** Whether it has lain still since its last turn for as long as the swing before took. */
  #swung(t: number): boolean {
    const { last, swing } = this.#turns;
    if (last === null) return true;
    const swingS =
      swing === null
        ? Math.min(SINGLE_S, (last.t - this.#beganT) / 1000)
        : Math.min(swing.sure ? SWINGS_S : SWING_S, swing.s);
    return (t - last.t) / 1000 >= swingS;
  }

  /** How far it may move: followed slowly, as stretches of the past come and go. */
  #expect(fit: Approach): void {
    const ahead = fit.aheadWithin(AHEAD_S);
    this.aheadW = (this.aheadW ?? ahead) + (ahead - (this.aheadW ?? ahead)) * (BLOCK_S / LEAST_S);
  }

  /** While it is steady: does it stay so? */
  #stay(t: number, fit: Approach, smooth: number): void {
    const noise = 2.5 * this.#jitter.of(2);
    const limit = within(this.#reference);
    const off = Math.abs(smooth - this.#reference) - noise;
    const going = this.forecast.paceWs * GOING_S > GOING * limit + noise;
    const away = off > GONE * limit || (off > GOING * limit && going);
    const sure = fit.staysWithin(STAY * within(fit.level), AHEAD_S);
    this.#doubtfulS = sure < STILL ? this.#doubtfulS + BLOCK_S : 0;
    if (away || this.#doubtfulS >= STANDS_S) {
      this.#leave(t);
      return;
    }
    this.#expect(fit);
    // It may drift slowly, as a house does; but of a span the mean must say something.
    this.#reference += (smooth - this.#reference) * (BLOCK_S / MOST_S);
    if (this.#paused) {
      this.#paused = false;
      this.#spanW = this.#reference;
      this.span = { kind: 'steady', from: this.#backT ?? t, to: t };
    }
    if (this.span === null) return;
    if (Math.abs(this.#reference - this.#spanW) > DRIFTED * limit) {
      this.#spanW = this.#reference;
      this.span = { kind: 'steady', from: t, to: t };
    } else {
      this.span.to = t;
    }
  }

  /** What is shown: without a figure the best judgement is of the past. */
  #show(t: number, delivers: boolean): void {
    const live = this.#gapS === 0;
    if (this.#gapS >= GAP_S || this.#paused) this.#become('waiting', t);
    else if (this.#judged === 'cycling') this.#become('cycling', t);
    else if (live ? !delivers : this.#means.count(0) === 0) this.#become('waiting', t);
    else if (live && (this.#judged === 'steady' || this.#means.count(0) >= 2)) {
      this.#become(this.#judged, t);
    }
  }

  #showLevel(): void {
    const level = this.#level();
    const known = level === level;
    this.levelW = known ? level : null;
    this.levelDelayS = known ? LEVEL_S / 2 + (this.intervalS - 1) / 2 : null;
  }

  /** Usual time from one reading to the next, of the place that is heard less often, s. */
  get intervalS(): number {
    return Math.max(this.#return.intervalS, this.#supply.intervalS);
  }

  /** The mean of the last seconds; NaN where one of them is not known. */
  #level(): number {
    let sum = 0;
    for (let i = 0; i < LEVEL_S; i++) sum += this.#recent[i] ?? NaN;
    return sum / LEVEL_S;
  }

  #become(state: SettlingState, t: number): void {
    if (this.state === state && this.since !== null) return;
    this.state = state;
    this.since = t;
  }
}
