/**
 * Whether a figure rises and falls by itself, and comes round: cycling of a thermostat, hunting of a
 * controller. Turns (turns.ts) say so where they are even; and a hover, which may look even for a while,
 * forgets: what cycles is as it was a period ago, and two. Constant work a block.
 */
import { band } from './bands.ts';
import { BlockMeans } from './block-means.ts';
import type { Hover } from './hover.ts';
import { Jitter } from './jitter.ts';
import { type CycleFound, Turns } from './turns.ts';

/** So many standard deviations of single means, and of what hovers within a minute, are no turn. */
const JITTER_SD = 5;
const HOVER_SD = 2.5;
/** Swings of so many standard deviations, or of this part of the level, are more than a hover. */
const SWING_SD = 6;
const LARGE = 0.13;
/** How like a swing must be to the one before to be a cycle: correlation; a large one, and one that goes on. */
const ROUND = 0.92;
const ROUND_LARGE = 0.77;
const STAYS_ROUND = 0.45;

export class Cycles {
  /** The cycles that it is in; null where it is in none. */
  found: CycleFound | null = null;
  /** True in the block in which a cycle ends and the next begins. */
  ends = false;
  readonly #turns = new Turns();
  readonly #jitter = new Jitter();
  /** The figure without a new beginning at every movement: what comes round is seen in it. */
  readonly #record = new BlockMeans();

  /** Takes the newest finest mean, NaN where it is not known: it is kept, no more. */
  take(mean: number): void {
    this.#record.take(mean);
  }

  /**
   * Looks at the level now.
   * @param means those of the present stretch
   * @param intervalS from one reading to the next
   */
  look(t: number, level: number, means: BlockMeans, hover: Hover, intervalS: number): void {
    this.#jitter.watch(means, intervalS);
    const reach = this.#turns.reach(level);
    const least = Math.max(band(reach), JITTER_SD * this.#jitter.of(1), HOVER_SD * hover.quickSd);
    this.ends = this.#turns.add(t, level, least) && this.#turns.last?.rising === true;
    if (this.ends) this.#turns.countCycle();
    this.found = this.#turns.cycle(t, (periodS, swing, cycling) =>
      this.#comesRound(periodS, swing > LARGE * reach, cycling),
    );
  }

  #comesRound(periodS: number, large: boolean, cycling: boolean): boolean {
    const like = this.#record.likeness(2 * periodS, periodS);
    if (cycling) return like > STAYS_ROUND;
    const round = large ? ROUND_LARGE : ROUND;
    return like > round && this.#record.likeness(periodS, 2 * periodS) > round - 0.1;
  }

  /** For how long what has swung must lie still to be believed, s: see `Turns.restS`. */
  restS(t: number, level: number, beganT: number, hover: Hover): number {
    const hovers = Math.min(SWING_SD * hover.sd, LARGE * this.#turns.reach(level));
    return this.#turns.restS(t, level, beganT, hovers);
  }

  /** Whether it has turned back since `t`: the first turn of a stretch is where it leaves its beginning. */
  turnedBack(t: number): boolean {
    return this.#turns.since(t) > 1;
  }

  rescale(ratio: number): void {
    this.#turns.rescale(ratio);
    this.#record.rescale(ratio);
  }

  /** What was before tells nothing of what comes. */
  forget(): void {
    this.#turns.clear();
    this.#record.clear();
    this.found = null;
  }
}
