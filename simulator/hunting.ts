/**
 * Hunting: the expansion valve's control overshoots, turns back, overshoots again. The simplest thing
 * that does so is an integrator behind a relay with hysteresis: it runs one way until it is past
 * its mark, then the other way. The marks vary a little, so no two swings are quite alike.
 */
import type { Random } from './random.ts';

export interface HuntingParameters {
  /** Half of the swing, as a part of the output; 0: none. */
  readonly amplitude: number;
  /** There and back, s. */
  readonly periodS: number;
}

export class Hunting {
  #parameters: HuntingParameters;
  readonly #random: Random;
  #position = 0; // −1…1 between the marks
  #direction = 1;
  #mark = 1;

  constructor(parameters: HuntingParameters, random: Random) {
    this.#parameters = parameters;
    this.#random = random;
  }

  become(parameters: HuntingParameters): void {
    this.#parameters = parameters;
  }

  /** Moves on by `dtS` seconds. @returns the output over its mean, as a factor */
  step(dtS: number): number {
    const { amplitude, periodS } = this.#parameters;
    if (amplitude === 0) return 1;
    this.#position += (this.#direction * 4 * dtS) / periodS;
    if (this.#position * this.#direction >= this.#mark) {
      this.#direction = -this.#direction;
      this.#mark = this.#random.between(0.85, 1.15);
    }
    return 1 + amplitude * this.#position;
  }
}
