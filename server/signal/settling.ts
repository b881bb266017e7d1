/**
 * Whether a capacity has settled, and if not, where it is heading. Constant work a second, no clock.
 *
 * It is called steady when, in the same moment,
 * - over the last minutes it moved by no more than a band (`movedW` over `lookedS`), and
 * - by its course, weighed over all approaches that explain it (approach.ts), it will in the next ten
 *   minutes very probably not move by more than 3 % or 60 W either.
 * A figure that has swung by itself must lie still for as long as its swing took, and one that keeps
 * swinging is `cycling` (turns.ts). After something was told to the unit and nothing has moved yet, it
 * may be dead time: then steady has to wait.
 *
 * The course is taken from the longest stretch since the last change in which one approach explains
 * the means as well as their scatter allows: a pause, a ramp's end, a second stage ends the stretch.
 */
import type { Approach } from './approach.ts';
import { BLOCK_S, BlockMeans, KEPT, LEVELS } from './block-means.ts';
import { Course } from './course.ts';
import { StepResponse } from './step-response.ts';
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

/** What is said beside the state, W and s; null where it is not known. */
export interface Outlook {
  /** Where it is heading while it settles, and half of its 95 % interval. */
  plateauW: number | null;
  plateauU95W: number | null;
  /** When it will be called steady. */
  steadyInS: number | null;
  /** Time constant of the way there. */
  approachS: number | null;
  /** The mean of the last seconds, and how far that mean is behind the readings. */
  levelW: number | null;
  levelDelayS: number | null;
  /** From lowest to highest over the seconds looked at. */
  movedW: number | null;
  lookedS: number | null;
  /** How far it may move in the next ten minutes, 95 % of what is likely. */
  aheadW: number | null;
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

/** Steady is within this of the plateau: a part of it, and never tighter than so many watts. */
const WITHIN = 0.03;
const WITHIN_W = 60;
/** From lowest to highest while it is looked at. */
const BAND = 0.04;
const BAND_W = 70;
const AHEAD_S = 600;
/** How probable that must be, to be called steady and to stay so. */
const SURE = 0.9;
const STILL = 0.4;
/** To be called so it must be well within, and it is no more when it has gone so far, parts of that. */
const ENTER = 0.65;
const HALVES = 0.45;
const GONE = 0.9;
const GOING = 0.5;
/** Scatter is known from about so many finest means. */
const SCATTER_BLOCKS = 24;
const LEAST_SCATTER = 0.004;
/** Looked at for so long at least and at most, s; readings that come seldom: so many of them. */
const LEAST_S = 60;
const MOST_S = 180;
/** What moves by itself began to move no longer ago than this, s. */
const ONSET_S = 60;
/** A forecast is made from so long at least, s. */
const FORECAST_S = 30;
const LEAST_READINGS = 3;
/** When something was told and nothing has moved since, it may yet, s. */
const DEAD_TIME_S = 135;
/** It has moved when it is so far from where it was. */
const MOVED = 0.025;
const MOVED_W = 40;
/** The waiting after a single swing, and after several, is no longer than this, s. */
const SINGLE_S = 120;
const SWING_S = 900;
/** A forecast whose interval is wider than this part of it says nothing. */
const VAGUE = 0.6;
/** The shown level is the mean of so many seconds. */
const LEVEL_S = 10;
/** Without a figure for so long it is not known how it is, and after so long all begins anew, s. */
const GAP_S = 15;
const LOST_S = 120;
/** So many seconds in a row further than twice the band from the mean end steady at once. */
const COLLAPSE_S = 5;

/** Not delivering for so long it is off, s. */
const OFF_S = 20;
/** A judgement that has turned must stand for so many seconds. */
const STANDS_S = 20;
/** The interval of a forecast is that of its fits and this part of the way still to go. */
const MODEL_ERROR = 0.45;
/** And what a house does in the next half hour, as a part of the plateau. */
const FUTURE = 0.03;
/** What may yet come, as parts of what it has moved: at full pace, and as overshoot. */
const PACE = 1;
const OVERSHOOT = 0.07;
const SWINGS = 0.2;
/** At full pace it may go this part of the level further, even if it has hardly moved. */
const AFAR = 0.15;

export class Settling {
  state: SettlingState = 'waiting';
  /** Since when it is in this state; null before the first second. */
  since: number | null = null;
  /** The span that may be averaged: steady so far, or whole cycles so far; null where there is none. */
  span: Span | null = null;
  /** True in the second in which a cycle ends and the next begins. */
  cycleEnds = false;
  cycle: CycleFound | null = null;
  readonly outlook: Outlook = nothing();

  readonly #means = new BlockMeans();
  readonly #course = new Course();
  readonly #turns = new Turns();
  readonly #return = new Rhythm();
  readonly #supply = new Rhythm();
  readonly #recent = new Float64Array(LEVEL_S).fill(NaN);
  #seconds = 0;
  #newestT = 0;
  /** What the last blocks say; `state` also looks at whether there is a figure now. */
  #judged: 'settling' | 'steady' | 'cycling' = 'settling';
  /** When the present stretch began, ms; null: before anything was known. */
  #beganT: number | null = null;
  readonly #response = new StepResponse();
  readonly #buffer = new Float64Array(KEPT);
  /** The level before something was told; NaN: not known. */
  #before = NaN;
  /** When it had first moved from there, s after `#beganT`; null: not yet. */
  #movedS: number | null = null;
  #slope = 0;
  #drift = 0;
  #variance = 0;
  #steepest = 0;
  #notBefore = -Infinity;
  #suspended = false;
  /** Its first level is where it comes from. */
  #jumped = false;
  /** No figure since it began. */
  #empty = true;
  #gapS = 0;
  #offS = 0;
  #awayS = 0;
  #doubtfulS = 0;
  #vagueS = 0;
  /** The mean that a steady figure is held against. */
  #reference = NaN;

  /**
   * Something has changed at `t` (a setpoint, a fan speed, another airflow, a moved probe): it begins
   * anew with what came after.
   * @param jumps the figure itself is worked out otherwise from then on, as with another airflow: where
   *   it was before is no level to come from
   */
  restart(t: number, jumps = false): void {
    const before = this.#judged === 'steady' ? this.#reference : this.#level();
    this.#begin(t, (this.#newestT - t) / 1000, jumps ? NaN : before);
    this.#jumped = jumps;
    this.#notBefore = -Infinity;
    this.#suspended = false;
    this.#turns.clear();
    this.cycle = null;
    if (this.state !== 'waiting') this.#become('settling', t);
  }

  #begin(t: number | null, keepS: number, before: number): void {
    const keptS = this.#means.keepLast(keepS);
    this.#response.restart();
    this.#steepest = 0;
    this.#course.clear();
    this.#beganT = keepS > 0 ? this.#newestT - 1000 * keptS : t;
    this.#before = before;
    this.#movedS = null;
    this.#empty = keptS === 0;
    for (let back = this.#means.count(0) - 1; back >= 0; back--) {
      this.#watchMoves(
        this.#newestT - 1000 * (keptS - BLOCK_S * (this.#means.count(0) - back)),
        this.#means.last(0, back),
      );
    }
    this.#judged = 'settling';
    this.span = null;
    this.#awayS = 0;
    this.#doubtfulS = 0;
    this.#vagueS = 0;
    Object.assign(this.outlook, nothing());
  }

  /**
   * The figure is worked out with another airflow from now on, by so much more: a few per cent are the
   * fan's own doing, so all that was before is seen as if it had been so then.
   */
  rescale(ratio: number): void {
    this.#means.rescale(ratio);
    this.#turns.rescale(ratio);
    this.#course.clear();
    for (let i = 0; i < LEVEL_S; i++) this.#recent[i] = (this.#recent[i] ?? NaN) * ratio;
    this.#reference *= ratio;
    this.#before *= ratio;
  }

  /** A defrost has begun: until `resume` nothing is judged. */
  suspend(t: number): void {
    this.#begin(t, 0, NaN);
    this.#turns.clear();
    this.cycle = null;
    this.#suspended = true;
    this.#become('settling', t);
  }

  /** It goes on after a defrost; steady cannot be before `notBefore`, ms. */
  resume(t: number, notBefore: number): void {
    this.#notBefore = notBefore;
    if (!this.#suspended) return;
    this.#suspended = false;
    this.#begin(t, 0, NaN);
  }

  /** How fast it moves, W/s over the last 20 s. */
  get paceWs(): number {
    return this.#slope;
  }

  /** Takes one second that ends at `t`. */
  add(t: number, { watts, delivers, ret, sup }: SettlingSecond): void {
    this.#newestT = t;
    this.since ??= t;
    this.cycleEnds = false;
    this.#return.second(ret);
    this.#supply.second(sup);
    const value = watts ?? NaN;
    this.#recent[this.#seconds++ % LEVEL_S] = value;
    this.#gapS = watts === null ? this.#gapS + 1 : 0;
    if (this.#gapS === LOST_S) this.#lose(t);
    if (this.#gapS >= LOST_S) return;
    if (this.#suspended) {
      this.#levels(watts !== null);
      return;
    }
    if (this.#empty && watts !== null) {
      this.#empty = false;
      this.#jumped ||= this.#beganT === null; // nobody knows what was before
      this.#beganT = t;
    }
    if (watts !== null) this.#onOff(t, delivers);
    if (this.#collapsed(value)) this.#leave(t);
    if (this.#means.add(value)) this.#block(t);
    this.#show(t, delivers);
  }

  /** For minutes there was no figure: nothing is known any more. */
  #lose(t: number): void {
    this.#begin(null, 0, NaN);
    this.#turns.clear();
    this.cycle = null;
    this.#become('waiting', t);
  }

  /** A unit that stops delivering for a while begins anew when it goes on; its turns go on counting. */
  #onOff(t: number, delivers: boolean): void {
    if (!delivers) {
      if (++this.#offS === OFF_S && this.#judged === 'steady') this.#leave(t);
      return;
    }
    if (this.#offS >= OFF_S && this.#judged !== 'cycling') {
      this.#begin(t, ONSET_S, 0);
    }
    this.#offS = 0;
  }

  /** True when a steady figure has plainly gone: waiting for blocks would show it as live. */
  #collapsed(watts: number): boolean {
    if (this.#judged !== 'steady') return false;
    const away = Math.abs(watts - this.#reference) > 2 * within(this.#reference);
    this.#awayS = away ? this.#awayS + 1 : 0;
    return this.#awayS >= COLLAPSE_S;
  }

  /** It has moved away by itself: it settles anew from now. */
  #leave(t: number): void {
    const judged = this.#judged;
    const before = this.#reference;
    this.#begin(t, ONSET_S, before);
    if (judged === 'steady') this.#become('settling', t);
  }

  /** What the means say when the next one is complete. */
  #block(t: number): void {
    const newest = this.#means.last(0);
    if (newest !== newest) return;
    const before = this.#means.last(0, 1);
    const smooth = before === before ? (newest + before) / 2 : newest;
    this.#watchScatter();
    this.#turn(t, smooth);
    if (this.#judged === 'cycling') return;
    const intervalS = this.#intervalS();
    let base = 0;
    while (base < 4 && this.#means.lengthS(base) < 0.6 * intervalS) base++;
    this.#course.look(this.#means, base, Math.max(FORECAST_S, LEAST_READINGS * intervalS));
    this.#watchMoves(t, smooth);
    this.#watchPace();
    const { fit } = this.#course;
    if (fit === null) {
      this.#forecast(null, 0, smooth);
      return;
    }
    this.#look(fit, Math.max(1, base));
    if (this.#judged === 'steady') this.#stay(t, fit, smooth);
    else this.#settle(t, fit, smooth);
  }

  /** Scatter of single finest means, from their second differences over the last minutes. */
  #watchScatter(): void {
    const m = this.#means;
    const bend = m.last(0) - 2 * m.last(0, 1) + m.last(0, 2);
    if (bend !== bend) return;
    // A step bends once: only what is like the bends before counts in full.
    const usual = Math.max(this.#variance, (LEAST_SCATTER * m.last(0)) ** 2);
    const square = Math.min((bend * bend) / 6, 9 * usual);
    this.#variance += (square - this.#variance) / SCATTER_BLOCKS;
  }

  #turn(t: number, smooth: number): void {
    const noise = 5 * Math.sqrt(this.#variance);
    const turned = this.#turns.add(t, smooth, Math.max(band(this.#turns.reach(smooth)), noise));
    if (turned && this.#turns.last?.rising === true) {
      this.cycleEnds = true;
      this.#turns.countCycle();
    }
    this.cycle = this.#turns.cycle(t);
    if (this.cycle !== null) {
      const { from, to } = this.cycle;
      this.span = to > from ? { kind: 'cycling', from, to } : null;
      if (this.#judged !== 'cycling') Object.assign(this.outlook, nothing());
      this.#judged = 'cycling';
    } else if (this.#judged === 'cycling') {
      this.#begin(t, LEVEL_S, NaN);
    }
  }

  /** Over how long, backwards from now, it has stayed within the band, and how much it moved. */
  #look(fit: Approach, level: number): void {
    const lengthS = this.#means.lengthS(level);
    const scatter = Math.sqrt(this.#variance * (BLOCK_S / this.#means.lengthS(level)));
    const allowed = Math.hypot(band(fit.level), 4 * scatter);
    let low = Infinity;
    let high = -Infinity;
    let lookedS = 0;
    let drift = 0;
    const half = Math.max(LEAST_S, LEAST_READINGS * this.#intervalS()) / 2;
    for (let back = 0; back * lengthS < MOST_S; back++) {
      const mean = this.#means.last(level, back);
      if (mean !== mean) break;
      if (Math.max(high, mean) - Math.min(low, mean) > allowed) break;
      low = Math.min(low, mean);
      high = Math.max(high, mean);
      if (lookedS < half) drift += mean / Math.ceil(half / lengthS);
      else if (lookedS < 2 * half) drift -= mean / Math.ceil(half / lengthS);
      lookedS += lengthS;
    }
    this.#drift = Math.abs(drift) - (2 * scatter) / Math.sqrt(half / lengthS);
    this.outlook.lookedS = lookedS;
    this.outlook.movedW = lookedS > 0 ? high - low : null;
  }

  /** While it is not steady: is it now, and where is it heading? */
  #settle(t: number, fit: Approach, smooth: number): void {
    const agedS = (t - (this.#beganT ?? t)) / 1000;
    const needS = Math.max(LEAST_S, LEAST_READINGS * this.#intervalS(), this.#swingS(t));
    const looked = (this.outlook.lookedS ?? 0) >= Math.min(needS, MOST_S) && agedS >= needS;
    const waited = this.#movedS !== null || agedS >= DEAD_TIME_S;
    const sure = fit.lengthS >= LEAST_S ? fit.staysWithin(ENTER * within(fit.level), AHEAD_S) : 0;
    const lies = this.#drift <= HALVES * within(fit.level);
    if (looked && lies && waited && sure >= SURE && t >= this.#notBefore && this.#offS === 0) {
      this.#judged = 'steady';
      this.#reference = smooth;
      this.#doubtfulS = 0;
      const from = t - 1000 * (this.outlook.lookedS ?? 0) + 1000;
      this.span = {
        kind: 'steady',
        from: Math.max(from, this.#notBefore, this.#beganT ?? from),
        to: t,
      };
      this.#forecast(null, 0, smooth);
      this.outlook.aheadW = fit.aheadWithin(AHEAD_S);
      return;
    }
    this.#forecast(waited ? fit : null, needS, smooth);
  }

  /** How fast it moves, W/s over the last 20 s, and the fastest since it began. */
  #watchPace(): void {
    const m = this.#means;
    const slope = Math.abs(m.last(0) + m.last(0, 1) - m.last(0, 2) - m.last(0, 3)) / (4 * BLOCK_S);
    if (slope !== slope) return;
    this.#slope = slope;
    this.#steepest = Math.max(this.#steepest, slope);
  }

  /** Whether it has moved since something was told; without a level before, it has. */
  #watchMoves(t: number, smooth: number): void {
    if (this.#movedS !== null) return;
    if (this.#jumped) {
      if (this.#means.count(0) < 2) return;
      this.#before = smooth;
      this.#jumped = false;
      return;
    }
    const far = Math.abs(smooth - this.#before);
    const noise = 3 * Math.sqrt(this.#variance);
    if (far <= Math.max(moved(this.#before), noise) || smooth !== smooth) return;
    this.#movedS = (t - (this.#beganT ?? t)) / 1000 - BLOCK_S / 2;
  }

  /** The rise from the level before, through all means since. */
  #respond(): StepResponse | null {
    if (this.#movedS === null || this.#before !== this.#before || this.#turnedBack()) return null;
    let level = 0;
    while (level < LEVELS - 1 && this.#means.count(level) > KEPT) level++;
    const n = this.#means.count(level);
    if (n > KEPT) return null;
    this.#means.copyLast(level, n, this.#buffer);
    const lengthS = this.#means.lengthS(level);
    return this.#response.fit(this.#buffer, n, lengthS, this.#before, this.#movedS)
      ? this.#response
      : null;
  }

  /** Whether it has overshot: what has turned back is no plain way to a plateau. */
  #turnedBack(): boolean {
    return this.#turns.since(this.#beganT ?? 0) > 1;
  }

  /** So long after its last turn it has to lie still: as long as the swing before took. */
  #swingS(t: number): number {
    const { last, halfS } = this.#turns;
    if (last === null) return 0;
    const swing =
      halfS === null
        ? Math.min(SINGLE_S, (last.t - (this.#beganT ?? last.t)) / 1000)
        : Math.min(SWING_S, halfS);
    return (t - last.t) / 1000 >= swing ? 0 : Infinity;
  }

  /** While it is steady: does it stay so? */
  #stay(t: number, fit: Approach, smooth: number): void {
    const noise = 2.5 * Math.sqrt(this.#variance / 2);
    const off = Math.abs(smooth - this.#reference) - noise;
    const limit = within(this.#reference);
    // It has gone when it is so far off, or half as far and on its way.
    const away =
      off > GONE * limit || (off > GOING * limit && this.#slope * 20 > GOING * limit + noise);
    const sure = fit.staysWithin(1.3 * within(fit.level), AHEAD_S);
    this.#doubtfulS = away || sure < STILL ? this.#doubtfulS + BLOCK_S : 0;
    if (away || this.#doubtfulS >= STANDS_S) {
      this.#leave(t);
      return;
    }
    // It may drift slowly as the house does; a span of which a mean says something must not.
    this.#reference += (smooth - this.#reference) * (BLOCK_S / MOST_S);
    if (this.span !== null) this.span.to = t;
    this.outlook.aheadW = fit.aheadWithin(AHEAD_S);
  }

  #forecast(fit: Approach | null, needS: number, now: number): void {
    const o = this.outlook;
    o.aheadW = null;
    const leastS = Math.min(needS, MOST_S) - (o.lookedS ?? 0);
    const wide = (u95: number, value: number): number =>
      Math.hypot(1.5 * u95, MODEL_ERROR * (value - now), FUTURE * value, this.#unknown(now));
    const response = fit === null ? null : this.#respond();
    let from: { value: number; u95: number; inS: number; tauS: number } | null = null;
    if (response !== null) {
      const value = response.plateau;
      const inS = response.inS(0.8 * within(value));
      from = { value, u95: wide(response.u95, value), inS, tauS: response.tauS };
    }
    if (fit?.identified === true) {
      const { value, u95 } = fit.plateau();
      const w = wide(u95, value);
      if (from === null || w < from.u95) {
        from = { value, u95: w, inS: fit.inS(0.8 * within(value)), tauS: fit.tauS };
      }
    }
    if (from === null) this.#say(null, 0, 0, 0);
    else this.#say(from.value, from.u95, Math.max(from.inS, leastS), from.tauS);
  }

  /**
   * What no fit knows: while it moves as fast as ever nobody can tell where that ends, and a machine
   * may overshoot.
   */
  #unknown(now: number): number {
    if (this.#before !== this.#before || this.#movedS === null) return 0;
    const far = Math.abs(now - this.#before);
    const pace = this.#steepest > 0 ? Math.min(1, this.#slope / this.#steepest) : 0;
    const swings = this.#turnedBack() ? SWINGS : OVERSHOOT;
    return Math.hypot(PACE * pace ** 1.5 * (far + AFAR * Math.abs(now)), swings * far);
  }

  /** Says a forecast, or stops saying it when there has been none for a while. */
  #say(value: number | null, u95: number, inS: number, tauS: number): void {
    const o = this.outlook;
    const limit = (o.plateauW === null ? 1 : 1.3) * VAGUE;
    if (value === null || !(u95 <= limit * Math.abs(value))) {
      this.#vagueS += BLOCK_S;
      if (this.#vagueS >= STANDS_S || this.#judged === 'steady' || o.plateauW === null) {
        o.plateauW = null;
        o.plateauU95W = null;
        o.steadyInS = null;
        o.approachS = null;
      }
      return;
    }
    this.#vagueS = 0;
    // What was said a moment ago counts by how sure it was: no jumping, no lagging behind better news.
    const w =
      o.plateauW === null
        ? 1
        : Math.max(0.25, (o.plateauU95W ?? 0) ** 2 / ((o.plateauU95W ?? 0) ** 2 + 2 * u95 ** 2));
    o.plateauW = (o.plateauW ?? value) + w * (value - (o.plateauW ?? value));
    o.plateauU95W = Math.hypot(u95, 0.5 * (value - o.plateauW));
    o.steadyInS = (o.steadyInS ?? inS) + 0.4 * (inS - (o.steadyInS ?? inS));
    o.approachS = tauS;
  }

  /** What is shown: without a figure the best judgement is of the past. */
  #show(t: number, delivers: boolean): void {
    const live = this.#gapS === 0;
    if (this.#judged === 'cycling') this.#become('cycling', t);
    else if (this.#gapS > GAP_S || (live ? !delivers : this.#means.count(0) === 0)) {
      this.#become('waiting', t);
    } else if (live && (this.#judged === 'steady' || this.#means.count(0) >= 2)) {
      this.#become(this.#judged, t);
    }
    this.#levels(live);
    const o = this.outlook;
    if (o.steadyInS !== null && o.steadyInS > 1) o.steadyInS -= 1;
  }

  #levels(live: boolean): void {
    const level = live ? this.#level() : NaN;
    const o = this.outlook;
    o.levelW = level === level ? level : null;
    o.levelDelayS = level === level ? LEVEL_S / 2 + (this.#intervalS() - 1) / 2 : null;
  }

  #intervalS(): number {
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

function nothing(): Outlook {
  return {
    plateauW: null,
    plateauU95W: null,
    steadyInS: null,
    approachS: null,
    levelW: null,
    levelDelayS: null,
    movedW: null,
    lookedS: null,
    aheadW: null,
  };
}

const within = (watts: number): number => Math.max(WITHIN_W, WITHIN * Math.abs(watts));
const band = (watts: number): number => Math.max(BAND_W, BAND * Math.abs(watts));
const moved = (watts: number): number => Math.max(MOVED_W, MOVED * Math.abs(watts));
