/** A quantity that goes from plateau to plateau, each way by its own shape and after its own dead time. */
import type { Shape } from './shapes.ts';

export interface Leg {
  /** When the act was, s. */
  atS: number;
  deadS: number;
  plateau: number;
  shape: Shape;
  /** How much faster than its shape it goes; 1 where left out. */
  speed?: number;
}

interface Run extends Leg {
  beginS: number;
  start: number;
}

export class Course {
  readonly #from: number;
  readonly #runs: Run[] = [];

  /** @param legs in order of time */
  constructor(from: number, legs: readonly Leg[]) {
    this.#from = from;
    for (const leg of legs) {
      const beginS = leg.atS + leg.deadS;
      this.#runs.push({ ...leg, beginS, start: this.at(beginS) });
    }
  }

  at(s: number): number {
    const run = this.#runs.findLast(({ beginS }) => beginS <= s);
    if (run === undefined) return this.#from;
    const done = run.shape.done((s - run.beginS) * (run.speed ?? 1));
    return run.plateau + (run.start - run.plateau) * (1 - done);
  }
}
