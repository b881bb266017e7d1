/**
 * Settling of one unit as it is shown and captured: the field test, the strict one above it where that
 * is wanted, and defrosts, in which nothing is judged.
 */
import type { Mode } from '../../adapters/contract.ts';
import type { Doubt, SettlingSnapshot } from '../protocol.ts';
import { AFTER_S, Defrost, type DefrostSpan } from '../signal/defrost.ts';
import {
  Settling,
  type SettlingSecond,
  type SettlingState,
  type Span,
} from '../signal/settling.ts';
import { Strict, STRICT_S } from '../signal/strict.ts';
import { doubts } from './doubts.ts';
import type { Level } from './level.ts';
import { SettlingPast } from './settling-past.ts';

/**
 * Probes follow the air late, and humidity later than temperature: while it moves by more than this
 * in about their lag, the parts are not to be trusted. Parts of the total, W, s (common practice, no
 * source).
 */
const MOVING = 0.015;
const MOVING_W = 40;
const LAG_S = 15;
const FADES_S = 60;
/** The pace is that of the level over so long, s. */
const PACE_S = 10;
/** After so long nothing is left of what it moved by, s. */
const LONG_STOOD_S = 10 * FADES_S;

/** What a house does to a capacity at rest in the next half hour, as a part of it. */
const HOUSE = 0.035;

/** What one second of the unit brings. */
export interface UnitSecond {
  mode: Mode | null;
  /** The capacity, W; null where there is none. */
  totalW: number | null;
  /** Whether it can be told from nothing. */
  delivers: boolean;
  /** Whether return and supply were heard anew. */
  heard: { ret: boolean; sup: boolean };
  /** Air in and out, °C; null where not known. Wet bulbs are asked for by the strict test only. */
  returnC: number | null;
  supplyC: number | null;
  wetBulbs: () => { returnC: number | null; supplyC: number | null };
  /** Outdoors, °C; null where no probe tells. */
  outdoorC: number | null;
}

/** A defrost that has just been found to begin or to have ended. */
export interface DefrostNews {
  phase: 'start' | 'end';
  t: number;
}

/** While there is no figure nothing is said of where it goes. */
const NOTHING: SettlingSnapshot = {
  state: 'waiting',
  since: null,
  plateauW: null,
  plateauU95W: null,
  steadyInS: null,
  levelW: null,
  levelSensibleW: null,
  levelLatentW: null,
  levelDelayS: null,
  movedW: null,
  lookedS: null,
  aheadW: null,
  hoverW: null,
  approachS: null,
  cycle: null,
  defrost: null,
};

export class UnitSettling {
  /** What captures look at, see `Settling`. */
  state: SettlingState = 'waiting';
  since: number | null = null;
  span: Span | null = null;
  cycleEnds = false;
  #settling = new Settling();
  readonly #past = new SettlingPast();
  readonly #defrost = new Defrost();
  #strict: Strict | null = null;
  readonly #news: DefrostNews[] = [];
  #paceWs = 0;
  #seconds = 0;
  readonly #levels = new Float64Array(PACE_S).fill(NaN);

  /**
   * Begins anew with what came after `t`.
   * @param jumps the airflow is another from then on, and the figure with it
   */
  restart(t: number, jumps = false): void {
    this.#settling.restart(t, jumps);
    if (jumps) {
      this.#past.clear();
      this.#levels.fill(NaN);
      this.#paceWs = 0;
    }
    this.#anew(t);
  }

  /**
   * A change was made at `t` already, ms, earlier or later than it was told: all that came since is
   * judged again, as if it had been told in time.
   * @param jumps as with `restart`
   */
  redate(t: number, jumps = false): void {
    const settling = jumps ? null : this.#past.changedAt(t);
    if (settling === null) {
      this.restart(t, jumps);
      return;
    }
    this.#settling = settling;
    this.#anew(t);
  }

  #anew(t: number): void {
    this.#strict?.clear();
    this.#defrost.changed();
    this.#take(t);
  }

  /** The figure is so much larger from now on, of a machine that is the same. */
  rescale(ratio: number): void {
    this.#settling.rescale(ratio);
    this.#past.rescale(ratio);
    for (let i = 0; i < PACE_S; i++) this.#levels[i] = (this.#levels[i] ?? NaN) * ratio;
  }

  /**
   * Takes one second that ends at `t`.
   * @param standsS it stands for so many, up to itself, in which nothing was heard; as a rule 1
   * @param strict whether the strict test is wanted
   * @returns what is new of defrosts
   */
  second(t: number, standsS: number, second: UnitSecond, strict: boolean): readonly DefrostNews[] {
    this.#news.length = 0;
    const judged: SettlingSecond = {
      watts: second.totalW,
      delivers: second.delivers,
      ret: second.heard.ret,
      sup: second.heard.sup,
    };
    if (!strict) this.#strict = null;
    // Of seconds without a figure the last one is enough: how long they were it tells by its time.
    for (let left = second.totalW === null ? 1 : standsS; left > 0; left--) {
      const at = t - 1000 * (left - 1);
      if (second.mode === 'heating') this.#watchDefrost(at, second);
      else if (this.#defrost.span !== null) this.#endDefrosts(at, this.#defrost.span);
      if (left === 1) this.#settling.add(t, judged, standsS);
      this.#past.add(at, judged);
      if (strict) this.#watchStrict(second);
    }
    this.#take(t);
    return this.#news;
  }

  #watchDefrost(t: number, { totalW, returnC, supplyC, outdoorC }: UnitSecond): void {
    const before = this.#defrost.span;
    const riseK = returnC === null || supplyC === null ? NaN : supplyC - returnC;
    const what = this.#defrost.second(t, totalW ?? NaN, riseK, outdoorC ?? NaN);
    const { span } = this.#defrost;
    if (what === null || span === null) return;
    if (before?.from !== span.from) this.#news.push({ phase: 'start', t: span.from });
    // What a defrost does is judged by no course: there is no going back beyond it.
    this.#past.clear();
    if (what === 'begins') {
      this.#settling.suspend(t);
      return;
    }
    this.#news.push({ phase: 'end', t });
    this.#settling.resume(t, t + 1000 * AFTER_S);
  }

  /** It does not heat any more: what was begun ends, and nothing has to be waited for. */
  #endDefrosts(t: number, { to }: DefrostSpan): void {
    if (to === null) this.#news.push({ phase: 'end', t });
    this.#defrost.clear();
    this.#settling.resume(t, -Infinity);
  }

  #watchStrict({ returnC, supplyC, wetBulbs }: UnitSecond): void {
    this.#strict ??= new Strict();
    const wet = wetBulbs();
    this.#strict.second({
      returnC: returnC ?? NaN,
      returnWetC: wet.returnC ?? NaN,
      supplyC: supplyC ?? NaN,
      supplyWetC: wet.supplyC ?? NaN,
    });
  }

  /** Whether it defrosts, or has just done so. */
  get defrosting(): boolean {
    return this.#defrost.span !== null;
  }

  /** Takes over what the field test says; where the strict one is wanted it has the last word. */
  #take(t: number): void {
    const field = this.#settling;
    this.cycleEnds = field.cycleEnds;
    if (this.#strict === null || field.state !== 'steady') {
      // A steady span may be cut where the figure has drifted: it is steady since the first one.
      const began = field.state === 'steady' && this.state !== 'steady';
      if (began) this.since = field.span?.from ?? field.since;
      else if (field.state !== 'steady') this.since = field.since;
      this.state = field.state;
      this.span = field.span;
      return;
    }
    if (this.#strict.holds()) {
      if (this.state !== 'steady') this.#strictFrom = t - 1000 * (STRICT_S - 1);
      this.state = 'steady';
      this.since = this.#strictFrom;
      this.span = { kind: 'steady', from: this.#strictFrom, to: field.span?.to ?? t };
      return;
    }
    if (this.state !== 'settling') this.since = t;
    this.state = 'settling';
    this.span = null;
  }

  #strictFrom = 0;

  /** Whether a defrost goes on, or has just ended. */
  get defrosts(): boolean {
    return this.#defrost.span !== null;
  }

  /** As it is sent, but for the mean of a span, which captures know. */
  snapshot(level: Level): SettlingSnapshot {
    const { totalW: levelW, sensibleW: levelSensibleW, latentW: levelLatentW } = level;
    // A mean lies half of its length behind, and so does a reading that stands for its interval.
    const behindS = (level.seconds + this.#settling.intervalS - 1) / 2;
    const levelDelayS = levelW === null ? null : behindS;
    const { forecast, movedW, lookedS, aheadW, cycle } = this.#settling;
    const { span } = this.#defrost;
    const fieldS = this.#settling.state === 'steady' ? 0 : forecast.steadyInS;
    // At rest it is where it was heading for; it may yet move a little, and a house is never still.
    const rest = this.#settling.restW;
    const restU95 = rest === null ? null : Math.hypot(aheadW ?? 0, HOUSE * rest);
    if (this.state === 'waiting') {
      return {
        ...NOTHING,
        ...{ since: this.since, levelW, levelSensibleW, levelLatentW, levelDelayS },
      };
    }
    return {
      state: this.state,
      since: this.since,
      plateauW: rest ?? forecast.plateauW,
      plateauU95W: restU95 ?? forecast.plateauU95W,
      steadyInS: this.state === 'settling' ? this.#steadyInS(fieldS) : null,
      levelW,
      levelSensibleW,
      levelLatentW,
      levelDelayS,
      movedW,
      lookedS,
      aheadW,
      hoverW: this.#settling.hoverW,
      approachS: forecast.approachS,
      cycle:
        cycle === null
          ? null
          : {
              periodS: cycle.periodS,
              amplitudeW: cycle.amplitude,
              count: cycle.count,
              meanU95W: null,
            },
      defrost: span === null ? null : { from: span.from, to: span.to },
    };
  }

  /** With the strict test it takes what that still needs at least, where that can be said. */
  #steadyInS(fieldS: number | null): number | null {
    if (this.#strict === null || fieldS === null) return fieldS;
    const { leftS } = this.#strict;
    return leftS === null ? null : Math.max(fieldS, leftS);
  }

  /** What is doubtful about the figure of this second because of when it is. */
  doubts(t: number, standsS: number, totalW: number | null, out: Doubt[]): void {
    const { span } = this.#defrost;
    if (span !== null) {
      out.push(span.to === null ? doubts.defrost(t - span.from) : doubts.afterDefrost(AFTER_S));
    }
    for (let left = Math.min(standsS, LONG_STOOD_S); left > 0; left--) this.#pace();
    if (totalW === null || this.state === 'steady') return;
    const moves = this.#paceWs * LAG_S;
    if (moves > Math.max(MOVING_W, MOVING * Math.abs(totalW))) out.push(doubts.transient());
  }

  /** How fast it has moved, one second on: what it moved by is still in the probes when it has come to rest. */
  #pace(): void {
    const i = this.#seconds++ % PACE_S;
    // Of readings that come seldom a step has taken as long as they are apart.
    const tookS = Math.max(PACE_S, this.#settling.intervalS);
    const pace = Math.abs((this.#settling.levelW ?? NaN) - (this.#levels[i] ?? NaN)) / tookS;
    this.#levels[i] = this.#settling.levelW ?? NaN;
    const fading = this.#paceWs * (1 - 1 / FADES_S);
    this.#paceWs = pace > fading ? pace : fading;
  }
}
