/**
 * Where a figure that settles is heading, and when it will be there. Of the rise from the level before
 * (step-response.ts) and the course of the last minutes (approach.ts) the surer one is said. While
 * nothing can be known nothing is said, and what was said goes over into what is known next without
 * jumps.
 */
import type { Approach } from './approach.ts';
import { within, moved } from './bands.ts';
import { BLOCK_S, type BlockMeans, KEPT, LEVELS } from './block-means.ts';
import type { Hover } from './hover.ts';
import { StepResponse } from './step-response.ts';

/** A forecast whose interval is wider than this part of it says nothing; once said, a little wider. */
const VAGUE = 0.6;
const STILL_SAID = 1.3 * VAGUE;
/** Without anything to say, what was said stands for so long, s. */
const STANDS_S = 20;
/** A fit's own interval is taken so much wider: neighbours resemble each other more than it sees. */
const FIT = 1.5;
/** What models leave out: a part of the way still to go, and of the plateau (a house in half an hour). */
const MODEL = 0.45;
const HOUSE = 0.03;
/** What may yet come, as parts of what it has moved: by overshoot, when it has swung. */
const OVERSHOOT = 0.07;
const SWINGS = 0.2;
/** At full pace it may go this part of the level further, even if it has hardly moved. */
const AFAR = 0.15;
/** About to be steady, s; said for longer than this it says nothing, s. */
const SOON_S = 15;
const STALE_S = 40;
/** It is there when it is well within. */
const THERE = 0.8;

/** It has moved when a mean of 5, 10, 20 or 40 s is so many standard deviations away. */
const MOVED_LEVELS = 4;
const MOVED_SD = 3;

interface Said {
  value: number;
  u95: number;
  inS: number;
  tauS: number;
}

export class Forecast {
  /** The plateau and half of its 95 % interval, W; null while nothing is said. */
  plateauW: number | null = null;
  plateauU95W: number | null = null;
  /** When it will be called steady, s. */
  steadyInS: number | null = null;
  /** Time constant of the way there, s. */
  approachS: number | null = null;
  /** How fast it moves, W/s over the last 20 s. */
  paceWs = 0;
  readonly #response = new StepResponse();
  readonly #buffer = new Float64Array(KEPT);
  /** The level before; NaN: not known. */
  #before = NaN;
  /** The first level is the one before. */
  #firstIsBefore = false;
  /** When it had first moved from there, s after it began; null: not yet. */
  #movedS: number | null = null;
  #steepest = 0;
  #silentS = 0;
  /** How long it has been about to be steady. */
  #soonS = 0;

  /**
   * Something was told, or it has moved away by itself.
   * @param before the level from which it comes; null: its first level from now on
   */
  begin(before: number | null): void {
    this.#response.restart();
    this.#before = before ?? NaN;
    this.#firstIsBefore = before === null;
    this.#movedS = null;
    this.#steepest = 0;
    this.silence();
  }

  /** Nothing is said from now on. */
  silence(): void {
    this.#silentS = 0;
    this.#soonS = 0;
    this.plateauW = null;
    this.plateauU95W = null;
    this.steadyInS = null;
    this.approachS = null;
  }

  /** All values are so much larger from now on. */
  rescale(ratio: number): void {
    this.#before *= ratio;
    if (this.plateauW !== null) this.plateauW *= ratio;
    if (this.plateauU95W !== null) this.plateauU95W *= ratio;
  }

  /** When it had first moved, s after it began; null: not yet. */
  get movedS(): number | null {
    return this.#movedS;
  }

  /**
   * Looks at the newest mean, `smooth`, the level over the last ten seconds, `agedS` after it began.
   * @param levels of how many lengths the means are looked at: of what is gone through again only one
   */
  watch(
    means: BlockMeans,
    smooth: number,
    agedS: number,
    hover: Hover,
    levels = MOVED_LEVELS,
  ): void {
    const pace =
      Math.abs(means.last(0) + means.last(0, 1) - means.last(0, 2) - means.last(0, 3)) /
      (4 * BLOCK_S);
    if (pace === pace) {
      this.paceWs = pace;
      this.#steepest = Math.max(this.#steepest, pace);
    }
    if (this.#firstIsBefore) {
      if (means.count(0) < 2) return;
      this.#before = smooth;
      this.#firstIsBefore = false;
    }
    // Means of every length are looked at: of a noisy figure only the longer ones tell.
    let most = 0;
    for (let level = 0; level < levels; level++) {
      if (means.count(level) === 0) break;
      const off = level === 0 ? smooth : means.last(level);
      const limit = Math.max(
        moved(this.#before),
        MOVED_SD * Math.sqrt(hover.varianceOfBlock(level)),
      );
      most = Math.max(most, Math.abs(off - this.#before) / limit);
    }
    if (this.#movedS === null && most > 1) this.#movedS = agedS - BLOCK_S / 2;
    // What has come back was no movement but scatter: the dead time may still go on.
    else if (this.#movedS !== null && most < 0.5) this.#movedS = null;
  }

  /**
   * Works it out anew, once a finest mean.
   * @param fit the course of the last minutes
   * @param now the level now
   * @param turnedBack whether it has overshot: then it may swing on
   * @param leastS steady cannot be called before
   */
  update(
    means: BlockMeans,
    fit: Approach | null,
    now: number,
    turnedBack: boolean,
    leastS: number,
  ): void {
    const unknown = this.#unknown(now, turnedBack);
    const wide = (u95: number, value: number): number =>
      Math.hypot(FIT * u95, MODEL * (value - now), HOUSE * value, unknown);
    let said: Said | null = null;
    if (fit !== null && this.#rises(means)) {
      const { plateau: value, u95, tauS } = this.#response;
      said = { value, u95: wide(u95, value), tauS, inS: this.#response.inS(THERE * within(value)) };
    }
    if (fit?.identified === true) {
      const { value, u95 } = fit.plateau();
      const w = wide(u95, value);
      if (said === null || w < said.u95) {
        said = { value, u95: w, tauS: fit.tauS, inS: fit.inS(THERE * within(value)) };
      }
    }
    const limit = this.plateauW === null ? VAGUE : STILL_SAID;
    if (said !== null && said.u95 <= limit * Math.abs(said.value)) this.#say(said, leastS);
    else if ((this.#silentS += BLOCK_S) >= STANDS_S) this.silence();
  }

  /** Whether all means since it began are explained by a rise from the level before. */
  #rises(means: BlockMeans): boolean {
    if (this.#movedS === null || this.#before !== this.#before) return false;
    let level = 0;
    while (level < LEVELS - 1 && means.count(level) > KEPT) level++;
    const n = means.count(level);
    if (n > KEPT) return false;
    means.copyLast(level, n, this.#buffer);
    return this.#response.fit(this.#buffer, n, means.lengthS(level), this.#before, this.#movedS);
  }

  /**
   * What no fit knows: while it moves as fast as ever nobody can tell where that ends, and a machine
   * may overshoot.
   */
  #unknown(now: number, turnedBack: boolean): number {
    if (this.#before !== this.#before || this.#movedS === null) return 0;
    const far = Math.abs(now - this.#before);
    const pace = this.#steepest > 0 ? Math.min(1, this.paceWs / this.#steepest) : 0;
    const ahead = pace ** 1.5 * (far + AFAR * Math.abs(now));
    return Math.hypot(ahead, (turnedBack ? SWINGS : OVERSHOOT) * far);
  }

  /** What was said a moment ago counts by how sure it was. */
  #say({ value, u95, inS, tauS }: Said, leastS: number): void {
    this.#silentS = 0;
    const plateauW = this.plateauW ?? value;
    const square = (this.plateauU95W ?? 0) ** 2;
    const w = this.plateauW === null ? 1 : Math.max(0.25, square / (square + 2 * u95 * u95));
    this.plateauW = plateauW + w * (value - plateauW);
    this.plateauU95W = Math.hypot(u95, 0.5 * (value - this.plateauW));
    const left = Math.max(inS, leastS);
    if (left > 2 * SOON_S) this.#soonS = 0;
    const before = this.steadyInS ?? left;
    this.steadyInS = this.#soonS > STALE_S ? null : before + 0.4 * (left - before);
    this.approachS = tauS;
  }

  /** So many seconds have passed. */
  pass(seconds: number): void {
    for (let left = seconds; left > 0 && this.steadyInS !== null; left--) {
      if (this.steadyInS > SOON_S) {
        this.steadyInS--;
      } else if (++this.#soonS > STALE_S) {
        this.steadyInS = null; // about to be steady for so long: nobody knows when
      }
    }
  }
}
